//! `ownwords desk`: the desk as a page in the browser, served to this machine alone.

mod http;
mod pack;
mod serve;
mod watch;

use std::net::{Ipv4Addr, TcpListener};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Arc;

use clap::Args;

use super::output::Output;
use super::{Failure, Outcome};
use crate::desk::Desk;
use crate::review::Review;
use serve::Served;

/// Open a review in your browser: drafts beside their sources
#[derive(Debug, Args)]
#[command(after_help = "\
For example:
  ownwords desk                 the review that this folder lies in, or an
                                empty desk to put files on
  ownwords desk ~/lamps         the review in that folder
  ownwords desk --no-open       only print the address

The page is served to this machine alone, under an address with a key in it
that nobody else knows. Files are watched: what you save is looked at at once.
Nothing is written but decisions on findings, into decisions.toml of the
review; an empty desk keeps them in memory until you save the whole desk.
Stop it with Ctrl-C.")]
pub(super) struct DeskArgs {
    /// The review folder [default: the nearest folder upward with ownwords.toml, else an empty desk]
    #[arg(value_name = "REVIEW")]
    review: Option<PathBuf>,
    /// Print the address, and open no browser
    #[arg(long)]
    no_open: bool,
    /// The port [default: one that is free]
    #[arg(long, value_name = "N", default_value_t = 0, hide_default_value = true)]
    port: u16,
    /// Put the engine, compiled for WebAssembly, into a page of its own
    #[arg(long, value_name = "MODULE", hide = true, requires = "out")]
    pack: Option<PathBuf>,
    /// The page that --pack writes
    #[arg(long, value_name = "FILE", hide = true, requires = "pack")]
    out: Option<PathBuf>,
}

pub(super) fn run(args: &DeskArgs) -> Result<Outcome, Failure> {
    if let (Some(module), Some(out)) = (&args.pack, &args.out) {
        pack::write(module, out)?;
        return Ok(Outcome::Clear);
    }
    let root = match &args.review {
        Some(root) => {
            // A folder that is no review is said here, where it is seen, rather than on the page.
            Review::open(root)?;
            Some(root.clone())
        }
        None => Review::find(Path::new(".")).ok(),
    };
    let refused = |cause| Failure::Serve { cause };
    let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, args.port)).map_err(refused)?;
    let port = listener.local_addr().map_err(refused)?.port();
    let doing = serve::Doing::default();
    let hearer = doing.hearer();
    let known = root.as_deref().map(watch::look);
    let desk = match &root {
        Some(root) => Desk::of_folder(root, hearer),
        None => Desk::empty(hearer),
    };
    let served = Served::new(desk, port, doing).map_err(refused)?;
    let served = Arc::new(served);
    if let Some((root, known)) = root.zip(known) {
        watch::watch(root, known, &served);
    }
    let address = served.address();
    Output::standard().write(|out| {
        writeln!(out, "The desk is open at {address}")?;
        writeln!(out, "Stop it with Ctrl-C.")
    })?;
    if !args.no_open {
        open(&address);
    }
    serve::serve(&listener, &served);
    Ok(Outcome::Clear)
}

/// Opens an address in the usual browser. Where that fails, the address stands in the terminal.
fn open(address: &str) {
    let (program, arguments): (&str, &[&str]) = if cfg!(target_os = "windows") {
        ("rundll32", &["url.dll,FileProtocolHandler"])
    } else if cfg!(target_os = "macos") {
        ("open", &[])
    } else {
        ("xdg-open", &[])
    };
    let _ = Command::new(program)
        .args(arguments)
        .arg(address)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn();
}
