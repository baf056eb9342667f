//! `ownwords explain`: what the words of a report mean.

use std::path::Path;
use std::sync::Arc;

use clap::Args;

use super::args::{ExplainFormat, OutArgs, When};
use super::output::{Form, Output};
use super::{Failure, Outcome, look};
use crate::reading::Disk;
use crate::report::explain::{self, Topic};
use crate::review::{Options, Review, Settings};

/// Say what words of a report mean, and where numbers come from
#[derive(Debug, Args)]
#[command(after_help = "\
For example:
  ownwords explain                     everything that can be explained
  ownwords explain close-paraphrase    a kind: what it means, what would mend it
  ownwords explain near copy           a degree of the scale
  ownwords explain measures            how each is counted, with an example
  ownwords explain run_words           a setting
  ownwords explain sureness            a word of the reports
  ownwords explain thresholds          every number, and where it comes from
  ownwords explain files               the review folder, formats, page numbers
  ownwords explain schema              the contract of check --format json
  ownwords explain all --format page --out words.html   everything on a page

Inside a review folder, thresholds and settings are shown as they are set there.")]
pub(super) struct ExplainArgs {
    /// A kind, a degree, a measure, a setting, a word of the reports or a field of JSON, or one of: files, citations,
    /// reports, limits, licences, scale, measures, thresholds, settings, weights, cautions, all, schema, schema-notes,
    /// schema-place, schema-quotations, schema-decisions
    #[arg(value_name = "TOPIC")]
    topic: Vec<String>,
    /// The form of the explanation; a page without a topic holds all topics
    #[arg(long, value_enum, default_value_t)]
    format: ExplainFormat,
    #[command(flatten)]
    out: OutArgs,
}

pub(super) fn run(args: &ExplainArgs, colour: When) -> Result<Outcome, Failure> {
    let look = look::look(colour, &args.out);
    let topic = match args.topic.as_slice() {
        [] => None,
        words => Some(Topic::from_name(&words.join(" "))?),
    };
    let page = args.format == ExplainFormat::Page;
    if page {
        args.out.for_page()?;
    }
    let topic = topic.or(page.then_some(Topic::All));
    let disk = Arc::new(Disk::new());
    let settings = settings_here(&disk, topic)?;
    let form = match topic {
        _ if page => Form::Page,
        Some(
            Topic::CheckSchema
            | Topic::NotesSchema
            | Topic::PlaceSchema
            | Topic::QuotationsSchema
            | Topic::DecisionsSchema,
        ) => Form::Json,
        _ => Form::Text,
    };
    let output = Output::open(&args.out, form, &disk, None)?;
    output.write(|mut out| match topic {
        None => explain::write_topics(&look, &mut out),
        Some(topic) if page => explain::write_page(topic, &settings, &mut out),
        Some(topic) => explain::write(topic, &settings, &look, &mut out),
    })?;
    Ok(Outcome::Clear)
}

/// The settings of the review around the current folder, where the topic asks for them and there is
/// one; else the defaults.
fn settings_here(disk: &Disk, topic: Option<Topic>) -> Result<Settings, Failure> {
    if !matches!(
        topic,
        Some(
            Topic::Thresholds | Topic::Settings | Topic::Setting(_) | Topic::Guide(_) | Topic::All
        )
    ) {
        return Ok(Settings::default());
    }
    match Review::find(Path::new(".")) {
        Ok(root) => Ok(Settings::open(disk, &root, &Options::default())?),
        Err(_) => Ok(Settings::default()),
    }
}
