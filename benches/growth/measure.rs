//! What a run of the program costs: work and memory.

use std::fs;
use std::io;
use std::path::Path;
use std::process::{Command, ExitStatus, Stdio};
use std::time::{Duration, Instant};

/// A run that takes longer is ended, and its series fails.
const LONGEST: Duration = Duration::from_secs(120);

/// Shorter runs are measured again, since the clock is coarse beside them.
const SHORT: Duration = Duration::from_secs(1);

/// Clock ticks a second in `/proc`: 100 on all of Linux.
const TICKS: f64 = 100.0;

/// How work is counted on this machine.
pub enum Meter {
    /// Instructions in user mode, by `perf`.
    Instructions,
    /// Processor time of all threads, user and system, from `/proc`.
    Time,
}

/// What one run cost.
pub struct Cost {
    /// Work, in the unit of the [`Meter`].
    pub spent: f64,
    /// Peak memory in kilobytes, where known.
    pub peak: Option<u64>,
}

impl Meter {
    /// Instructions, unless `perf` is missing or can't count them, as in many virtual machines.
    pub fn of_this_machine() -> Self {
        let counted = perf(Path::new("/dev/stdout"))
            .arg("true")
            .stderr(Stdio::null())
            .output();
        let counts = counted
            .is_ok_and(|output| instructions(&String::from_utf8_lossy(&output.stdout)).is_some());
        if counts {
            Self::Instructions
        } else {
            Self::Time
        }
    }

    /// The unit of what it counts.
    pub fn unit(&self) -> &'static str {
        match self {
            Self::Instructions => "10^9 instructions",
            Self::Time => "seconds of processor",
        }
    }

    /// The least that can be told from nothing.
    pub fn least(&self) -> f64 {
        match self {
            Self::Instructions => 0.001,
            Self::Time => 1.0 / TICKS,
        }
    }

    /// Runs the program in a folder; the least of several runs where they are short.
    pub fn cost(&self, folder: &Path, arguments: &[&str]) -> io::Result<Cost> {
        let start = Instant::now();
        let mut cost = self.once(folder, arguments)?;
        if start.elapsed() < SHORT {
            for _ in 0..2 {
                cost.spent = cost.spent.min(self.once(folder, arguments)?.spent);
            }
        }
        Ok(cost)
    }

    fn once(&self, folder: &Path, arguments: &[&str]) -> io::Result<Cost> {
        let counted = folder.join("counted.txt");
        let program = env!("CARGO_BIN_EXE_ownwords");
        let mut command = match self {
            Self::Instructions => {
                let mut command = perf(&counted);
                command.arg(program);
                command
            }
            Self::Time => Command::new(program),
        };
        command.args(arguments).current_dir(folder);
        let before = time_of_children()?;
        let (status, peak) = run(&mut command)?;
        // 0 nothing open, 1 findings; 2 says that the job could not be done.
        if !matches!(status.code(), Some(0 | 1)) {
            return Err(io::Error::other(format!(
                "{} in {}",
                status,
                folder.display()
            )));
        }
        let spent = match self {
            Self::Time => time_of_children()? - before,
            Self::Instructions => instructions(&fs::read_to_string(counted)?)
                .ok_or_else(|| io::Error::other("perf counted nothing"))?,
        };
        Ok(Cost { spent, peak })
    }
}

/// `perf`, counting into a file.
fn perf(counted: &Path) -> Command {
    let mut perf = Command::new("perf");
    perf.args(["stat", "-x", ",", "-e", "instructions:u", "-o"]);
    perf.arg(counted).arg("--");
    perf
}

/// The count in what `perf` wrote, in thousands of millions.
fn instructions(counted: &str) -> Option<f64> {
    let line = counted.lines().find(|line| line.contains("instructions"))?;
    let count: f64 = line.split(',').next()?.parse().ok()?;
    Some(count / 1e9)
}

/// Seconds of processor time of the children that have ended.
fn time_of_children() -> io::Result<f64> {
    let stat = fs::read_to_string("/proc/self/stat")?;
    // Behind the name, which may hold spaces: user and system time of children are the 14th and 15th.
    let fields = stat.rsplit(')').next().unwrap_or_default();
    let ticks = fields.split_whitespace().skip(13).take(2);
    Ok(ticks
        .filter_map(|ticks| ticks.parse::<f64>().ok())
        .sum::<f64>()
        / TICKS)
}

/// Runs a command to its end and watches its memory.
fn run(command: &mut Command) -> io::Result<(ExitStatus, Option<u64>)> {
    let mut child = command
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()?;
    let start = Instant::now();
    let mut peak = None;
    loop {
        if let Some(status) = child.try_wait()? {
            return Ok((status, peak));
        }
        let children = format!("/proc/{0}/task/{0}/children", child.id());
        let children = fs::read_to_string(children).unwrap_or_default();
        peak = peak.max(peak_memory(&child.id().to_string()));
        for below in children.split_whitespace() {
            peak = peak.max(peak_memory(below));
        }
        if start.elapsed() > LONGEST {
            child.kill()?;
            child.wait()?;
            let longest = LONGEST.as_secs();
            return Err(io::Error::other(format!("took more than {longest} s")));
        }
        std::thread::sleep(Duration::from_millis(2));
    }
}

/// The most memory a process has held so far, in kilobytes.
fn peak_memory(process: &str) -> Option<u64> {
    let status = fs::read_to_string(format!("/proc/{process}/status")).ok()?;
    let line = status.lines().find(|line| line.starts_with("VmHWM:"))?;
    line.split_whitespace().nth(1)?.parse().ok()
}
