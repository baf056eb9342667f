//! `ownwords bibliography`: the annotated bibliography, written out.

use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use clap::{Args, ValueEnum};

use super::args::OutArgs;
use super::output::{Form as Written, Output};
use super::{Failure, Outcome};
use crate::reading::Disk;
use crate::report::bibliography::style::USUAL_STYLE;
use crate::report::bibliography::{Styles, docx, html, markdown, of_review};
use crate::report::harmless;
use crate::review::{Options, Review};

/// Write the entries of your notes as an annotated bibliography
#[derive(Debug, Args)]
#[command(after_help = "\
For example:
  ownwords bibliography                               Markdown, here
  ownwords bibliography --out bibliography.docx       a word processor's file
  ownwords bibliography --out bibliography.html       a page of its own
  ownwords bibliography --style chicago-author-date
  ownwords bibliography --styles                      the styles there are

The entries come in alphabetical order, each with its reference in the style,
then summary, quotations and comments, visibly apart.")]
pub(super) struct BibliographyArgs {
    /// The style of the references
    #[arg(long, value_name = "NAME", default_value = USUAL_STYLE)]
    style: String,
    /// List the styles that can be named
    #[arg(long)]
    styles: bool,
    /// The heading of the bibliography
    #[arg(long, value_name = "TEXT", default_value = "Annotated bibliography")]
    title: String,
    /// The form [default: by the ending of --out, else markdown]
    #[arg(long, value_enum)]
    format: Option<Form>,
    /// The review folder [default: the nearest folder upward with ownwords.toml]
    #[arg(long, value_name = "DIR")]
    review: Option<PathBuf>,
    #[command(flatten)]
    out: OutArgs,
}

/// The form of the bibliography.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Form {
    /// Markdown
    Markdown,
    /// A page that needs nothing beside it
    Html,
    /// A word processor's file (Office Open XML)
    Docx,
}

pub(super) fn run(args: &BibliographyArgs) -> Result<Outcome, Failure> {
    if args.styles {
        let disk = Arc::new(Disk::new());
        Output::open(&args.out, Written::Text, &disk, None)?.write(|out| {
            Styles::all()
                .into_iter()
                .try_for_each(|name| writeln!(out, "{name}"))
        })?;
        return Ok(Outcome::Clear);
    }
    let styles = Styles::named(&args.style)?;
    let root = match &args.review {
        Some(root) => root.clone(),
        None => Review::find(Path::new("."))?,
    };
    let disk = Arc::new(Disk::new());
    let review = Review::open_from(disk.clone(), &root, &Options::default())?;
    if review.entries.is_empty() {
        let folder = root.join(&review.settings.notes);
        return Err(Failure::NoEntries { folder });
    }
    let (bibliography, without) = of_review(&review, &styles, &args.title);
    let written = match form(args) {
        Form::Markdown => Written::Markdown,
        Form::Html => Written::Page,
        Form::Docx => Written::Docx,
    };
    let output = Output::open(&args.out, written, &disk, Some(&review))?;
    output.write(|mut out| match form(args) {
        Form::Markdown => markdown::write(&bibliography, &mut out),
        Form::Html => html::write(&bibliography, &mut out),
        Form::Docx => docx::write(&bibliography, &mut out),
    })?;
    for heading in without {
        let said = format!(
            "ownwords: the entry \"{heading}\" has no reference, so it comes at the end under its own heading"
        );
        // Where the standard error is closed, nobody is there to read it.
        let _ = writeln!(io::stderr(), "{}", harmless(&said));
    }
    Ok(Outcome::Clear)
}

fn form(args: &BibliographyArgs) -> Form {
    let ending = || {
        let ending = args
            .out
            .out
            .as_ref()?
            .extension()?
            .to_string_lossy()
            .to_lowercase();
        match ending.as_str() {
            "docx" => Some(Form::Docx),
            "html" | "htm" => Some(Form::Html),
            _ => None,
        }
    };
    args.format.or_else(ending).unwrap_or(Form::Markdown)
}
