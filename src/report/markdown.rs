//! The findings as Markdown, for pasting into a message to the writer or into the notes of a meeting:
//! first what there is to do, then passage by passage both wordings and what would mend it.

use std::fmt::Write as _;
use std::io::{self, Write};

use super::cautions::CAUTIONS;
use super::english::counted;
use super::escape::in_markdown;
use super::said;
use crate::findings::since::Progress;
use crate::findings::{CheckReport, DraftReport, Finding, Weight};
use crate::paths::portable;

/// Words of a wording that are shown; the rest is left to the other reports.
const MOST_WORDS: usize = 60;

/// Writes all findings that are not settled.
///
/// # Errors
/// What the writer refuses.
pub fn write(report: &CheckReport, out: &mut impl Write) -> io::Result<()> {
    for draft in &report.drafts {
        let path = in_markdown(&portable(&draft.path));
        writeln!(out, "# {path}\n")?;
        since(draft, out)?;
        if said::open(draft).next().is_none() {
            let news = if draft.words == 0 {
                said::no_prose(draft)
            } else {
                said::nothing_open(report, draft)
            };
            writeln!(out, "{}\n", in_markdown(&news))?;
            continue;
        }
        writeln!(out, "{}.\n", in_markdown(&said::extent(draft)))?;
        glance(draft, out)?;
        for (index, (finding, progress)) in said::open_and_progress(draft).enumerate() {
            write_finding(index + 1, finding, progress, out)?;
        }
    }
    writeln!(
        out,
        "---\n\nCompared: {}\n",
        in_markdown(&said::compared(report))
    )?;
    for left in &report.left_out {
        writeln!(
            out,
            "- {}: {}",
            in_markdown(&left.what),
            in_markdown(&left.why.to_string())
        )?;
    }
    if !report.left_out.is_empty() {
        writeln!(out)?;
    }
    CAUTIONS
        .iter()
        .try_for_each(|caution| writeln!(out, "- {}", in_markdown(caution)))
}

/// What became of the findings of the earlier draft, where there is one.
fn since(draft: &DraftReport, out: &mut impl Write) -> io::Result<()> {
    let (Some(said), Some(since)) = (said::since(draft), &draft.since) else {
        return Ok(());
    };
    writeln!(out, "{}\n", in_markdown(&said))?;
    for past in &since.mended {
        writeln!(out, "- mended: {}", in_markdown(&said::mended(past)))?;
    }
    if !since.mended.is_empty() {
        writeln!(out)?;
    }
    Ok(())
}

/// How many findings ask for what.
fn glance(draft: &DraftReport, out: &mut impl Write) -> io::Result<()> {
    for weight in [Weight::Act, Weight::Look, Weight::Know] {
        let count = said::open(draft)
            .filter(|finding| finding.weight == weight)
            .count();
        if count > 0 {
            let places = counted(count, "place", "places");
            writeln!(out, "- {}: {places}", weight.request())?;
        }
    }
    writeln!(out)
}

fn write_finding(
    number: usize,
    finding: &Finding,
    progress: Option<&Progress>,
    out: &mut impl Write,
) -> io::Result<()> {
    let about = finding.kind.about();
    writeln!(out, "## {number}. {}\n", in_markdown(about.short))?;
    let mut facts = format!("Line {}", finding.draft.line);
    if let Some(page) = &finding.draft.page {
        let _ = write!(facts, ", page {page}");
    }
    let _ = write!(facts, "; {}", finding.weight.request());
    if let (Some(degree), Some(measures)) = (finding.degree, &finding.measures) {
        let _ = write!(
            facts,
            "; {}",
            said::closeness((degree, measures.position()))
        );
    }
    if let Some(progress) = progress {
        let _ = write!(facts, "; {}", said::progress(progress));
    }
    writeln!(out, "{}. `{}`\n", in_markdown(&facts), finding.id)?;
    writeln!(out, "> {}\n", in_markdown(&short(&finding.draft.text)))?;
    if let Some(source) = &finding.source {
        let name = in_markdown(&said::source_and_key(source));
        writeln!(
            out,
            "{name}:\n\n> {}\n",
            in_markdown(&short(&source.wording()))
        )?;
    }
    for difference in &finding.evidence.differences {
        writeln!(
            out,
            "- {}",
            in_markdown(&said::difference("draft", difference))
        )?;
    }
    if !finding.evidence.differences.is_empty() {
        writeln!(out)?;
    }
    if let Some(credit) = &finding.credit {
        writeln!(out, "Credit: {}.\n", in_markdown(&said::credit(credit)))?;
    }
    if let Some(note) = &finding.note {
        writeln!(
            out,
            "On the way: {}.\n",
            in_markdown(&said::note_place(note))
        )?;
    }
    writeln!(out, "**To mend:** {}\n", in_markdown(&finding.advice))
}

/// The beginning of a wording on one line, whole if it is short.
fn short(text: &str) -> String {
    let words: Vec<&str> = text.split_whitespace().collect();
    match words.get(..MOST_WORDS) {
        Some(first) if words.len() > MOST_WORDS => format!("{} …", first.join(" ")),
        _ => words.join(" "),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wordings_are_cut_at_a_word() {
        assert_eq!(short("a\n b"), "a b");
        let long = "lamp ".repeat(MOST_WORDS + 1);
        assert!(short(&long).ends_with("lamp …"));
    }
}
