//! `ownwords text`: what is read from a file.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use clap::Args;

use super::args::{OutArgs, When};
use super::output::{Form, Output};
use super::{Failure, Outcome, look};
use crate::paths::portable;
use crate::reading::{self, Disk, Limits};
use crate::report::text;
use crate::review::{Options, Review, Settings};
use crate::text::MarkedText;

/// Show what is read from a file: pages, quotations, citations
#[derive(Debug, Args)]
#[command(after_help = "\
For example:
  ownwords text sources/harrow2019.txt            blocks, and what is marked
  ownwords text drafts/chapter.md --plain | wc -w

The offsets of `check --format json` count bytes in what --plain prints.")]
pub(super) struct TextArgs {
    /// The file
    file: PathBuf,
    /// Print the bare text, byte for byte
    #[arg(long)]
    plain: bool,
    #[command(flatten)]
    out: OutArgs,
}

pub(super) fn run(args: &TextArgs, colour: When) -> Result<Outcome, Failure> {
    let disk = Arc::new(Disk::new());
    disk.keep(&args.file);
    let output = Output::open(&args.out, Form::Text, &disk, None)?;
    let limits = limits_around(&disk, &args.file);
    let file = reading::read(&*disk, &args.file, &limits)?;
    output.write(|mut out| {
        if args.plain {
            return text::write_plain(&file, &mut out);
        }
        let name = portable(&args.file);
        let look = look::look(colour, &args.out);
        let marked = MarkedText::new(file.text);
        let left_out = (&file.remarks[..], &file.page_edges[..]);
        text::write(&name, &marked, left_out, &look, &mut out)
    })?;
    Ok(Outcome::Clear)
}

/// The limits of the review that a file lies in, else the usual ones. What else is wrong with the review is no
/// matter here.
pub(super) fn limits_around(disk: &Disk, file: &Path) -> Limits {
    let folder = file
        .parent()
        .filter(|folder| !folder.as_os_str().is_empty());
    let root = Review::find(folder.unwrap_or(Path::new("."))).ok();
    let settings = root.and_then(|root| Settings::open(disk, &root, &Options::default()).ok());
    settings.unwrap_or_default().limits
}
