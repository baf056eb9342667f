//! `ownwords bibliography`: the annotated bibliography, written out.

use std::collections::BTreeMap;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use clap::{Args, ValueEnum};

use super::args::OutArgs;
use super::output::{Form as Written, Output};
use super::{Failure, Outcome};
use crate::reading::Disk;
use crate::report::bibliography::style::USUAL_STYLE;
use crate::report::bibliography::{
    Bibliography, BibliographyEntry, Paragraph, Styled, Styles, docx, html, markdown,
};
use crate::report::harmless;
use crate::review::{Entry, Key, Options, PartKind, Review};
use crate::text::{BlockKind, ByteRange, Text};

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
    let (bibliography, without) = made(&review, &styles, &args.title);
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

/// The bibliography of a review, and the headings of entries without a reference.
fn made(review: &Review, styles: &Styles, title: &str) -> (Bibliography, Vec<String>) {
    let mut by_key: BTreeMap<&Key, Vec<&Entry>> = BTreeMap::new();
    let mut without: Vec<&Entry> = Vec::new();
    for entry in &review.entries {
        match entry
            .key
            .as_ref()
            .filter(|key| review.references.get(key).is_some())
        {
            Some(key) => by_key.entry(key).or_default().push(entry),
            None => without.push(entry),
        }
    }
    let mut items = review.csl_items();
    items.retain(|key, _| by_key.contains_key(key));
    let mut entries: Vec<BibliographyEntry> = styles
        .format(&items)
        .into_iter()
        .filter_map(|(key, reference)| {
            let of_key = by_key.remove(&key)?;
            Some(entry(review, reference, &of_key))
        })
        .collect();
    // What the style could not set still stands there, by its name.
    for (key, of_key) in by_key {
        let name = review
            .references
            .get(key)
            .map_or_else(|| key.to_string(), |r| r.name());
        entries.push(entry(review, vec![plain(name)], &of_key));
    }
    without.sort_by_key(|entry| entry.heading.to_lowercase());
    for one in &without {
        entries.push(entry(review, vec![plain(one.heading.clone())], &[one]));
    }
    let bibliography = Bibliography {
        title: title.to_owned(),
        style: styles.name().to_owned(),
        entries,
    };
    let headings = without
        .into_iter()
        .map(|entry| entry.heading.clone())
        .collect();
    (bibliography, headings)
}

fn plain(text: String) -> Styled {
    Styled {
        text,
        ..Styled::default()
    }
}

fn entry(review: &Review, reference: Vec<Styled>, entries: &[&Entry]) -> BibliographyEntry {
    let wanted = [PartKind::Summary, PartKind::Quotations, PartKind::Comments];
    let part = |kind: PartKind| {
        let mut paragraphs = Vec::new();
        for entry in entries {
            let Some(file) = review.note_files.get(entry.file) else {
                continue;
            };
            for part in entry.parts.iter().filter(|part| part.kind == kind) {
                paragraphs.extend(paragraphs_of(&file.text.text, part.range));
            }
        }
        (!paragraphs.is_empty()).then_some((kind, paragraphs))
    };
    BibliographyEntry {
        reference,
        parts: wanted.into_iter().filter_map(part).collect(),
    }
}

/// The paragraphs of a stretch of notes, each on one line.
fn paragraphs_of(text: &Text, range: ByteRange) -> Vec<Paragraph> {
    let blocks = text
        .blocks()
        .iter()
        .filter(|block| block.range.overlaps(range));
    let paragraphs = blocks.map(|block| {
        let written = text.slice(block.range.intersection(range));
        Paragraph {
            item: block.kind == BlockKind::ListItem,
            quotation: block.kind == BlockKind::BlockQuotation,
            text: written.split_whitespace().collect::<Vec<_>>().join(" "),
        }
    });
    paragraphs
        .filter(|paragraph| !paragraph.text.is_empty())
        .collect()
}
