//! How the cost of each command grows with its input: no command may grow faster.
//!
//! 1. Each series ([`series`]) makes generated reviews of three sizes, a factor of four between them, the same on every
//!    machine.
//! 2. The built program runs on each in fresh processes. Its cost is the instructions it takes in user mode, counted by
//!    `perf`, or its processor time where `perf` can't count ([`measure`]).
//! 3. The same command on an input of size nothing is the fixed cost, which is subtracted.
//! 4. The exponent is the slope between the smallest and the largest size on logarithmic scales: 1 grows as the input, 2 as
//!    its square. One above [`MOST`] fails.
//!
//! `cargo bench --bench growth` runs all series; `cargo bench --bench growth -- notes copied` those whose names begin so. With
//! `--keep` the reviews stay under `target/tmp/growth`, to be looked at with a profiler.

#![allow(clippy::print_stdout, clippy::print_stderr)] // Its table is what it is for.

mod measure;
#[path = "../cold_check/prose.rs"]
mod prose;
mod series;

use std::io;
use std::path::Path;
use std::process::ExitCode;

use measure::{Cost, Meter};
use series::Series;

/// The largest exponent allowed. Sorting makes up to 1.1 between these sizes, memory beyond the caches a little more: our own
/// measurements.
const MOST: f64 = 1.2;

/// Sizes as multiples of the smallest.
const STEPS: [usize; 3] = [1, 4, 16];

fn main() -> ExitCode {
    // Cargo passes `--bench` on.
    let asked: Vec<String> = std::env::args()
        .skip(1)
        .filter(|name| !name.starts_with("--"))
        .collect();
    let wanted = |series: &&Series| {
        asked.is_empty() || asked.iter().any(|name| series.name.starts_with(name))
    };
    let keep = std::env::args().any(|argument| argument == "--keep");
    let meter = Meter::of_this_machine();
    println!(
        "{:<24} {:>30} {:>30}  {:>8} {:>8}",
        "series",
        "sizes",
        format!("cost, {}", meter.unit()),
        "exponent",
        "peak MB"
    );
    let mut failed = Vec::new();
    for series in series::all().iter().filter(wanted) {
        let root = Path::new(env!("CARGO_TARGET_TMPDIR"))
            .join("growth")
            .join(series.name);
        let measured = row(series, &meter, &root);
        if !keep {
            // What is left is written over by the next run.
            let _ = std::fs::remove_dir_all(&root);
        }
        match measured {
            Ok(exponent) if exponent <= MOST => {}
            Ok(_) => failed.push(series.name),
            Err(error) => {
                println!("{:<24} {error}", series.name);
                failed.push(series.name);
            }
        }
    }
    if failed.is_empty() {
        return ExitCode::SUCCESS;
    }
    eprintln!("above {MOST}, or not to be measured: {}", failed.join(", "));
    ExitCode::FAILURE
}

/// Measures one series and prints its row; returns its exponent.
fn row(series: &Series, meter: &Meter, root: &Path) -> io::Result<f64> {
    let fixed = cost(series, meter, root, 0)?;
    let sizes = STEPS.map(|step| step * series.smallest);
    let mut costs = Vec::new();
    for size in sizes {
        costs.push(cost(series, meter, root, size)?);
    }
    let net: Vec<f64> = costs
        .iter()
        .map(|cost| (cost.spent - fixed.spent).max(meter.least()))
        .collect();
    let steps = STEPS[STEPS.len() - 1] as f64 / STEPS[0] as f64;
    let exponent = (net[net.len() - 1] / net[0]).ln() / steps.ln();
    let list = |values: Vec<String>| values.join(" ");
    println!(
        "{:<24} {:>30} {:>30}  {:>8.2} {:>8}",
        series.name,
        list(sizes.iter().map(ToString::to_string).collect()),
        list(net.iter().map(|net| format!("{net:.3}")).collect()),
        exponent,
        list(
            costs
                .iter()
                .filter_map(|cost| cost.peak)
                .max()
                .map(|kilobytes| (kilobytes / 1000).to_string())
                .into_iter()
                .collect()
        ),
    );
    Ok(exponent)
}

fn cost(series: &Series, meter: &Meter, root: &Path, size: usize) -> io::Result<Cost> {
    let folder = root.join(size.to_string());
    if folder.exists() {
        std::fs::remove_dir_all(&folder)?;
    }
    std::fs::create_dir_all(&folder)?;
    (series.make)(&folder, size)?;
    meter.cost(&folder, series.command)
}
