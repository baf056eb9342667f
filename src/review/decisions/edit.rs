//! Changes the content of `decisions.toml` block by block and leaves the rest as it stands.

use std::path::Path;

use super::file::{self, Span};
use super::{Decision, DecisionsError, SCHEME};

/// What a new file begins with.
fn head() -> String {
    format!(
        "# Findings that were looked at and settled, written by `ownwords settle`. One block a decision, sorted.\n\
         # A reason may be changed by hand; `ownwords settle --undo ID` takes a decision back.\n\
         scheme = \"{SCHEME}\"\n"
    )
}

/// Puts decisions in, each before the first block of a greater name.
pub(super) fn add(
    path: &Path,
    content: &str,
    decisions: &[Decision],
) -> Result<String, DecisionsError> {
    let mut content = if content.trim().is_empty() {
        head()
    } else {
        content.to_owned()
    };
    for decision in decisions {
        let blocks = file::blocks(path, &content)?;
        let later = blocks
            .iter()
            .find(|(other, _)| (&other.id, &other.place) > (&decision.id, &decision.place));
        let block = written(decision);
        match later {
            // Remarks above a block belong to it, so the new one goes above them.
            Some((_, span)) => {
                let at = above_remarks(&content, span.start);
                content.insert_str(at, &format!("{block}\n"));
            }
            None => {
                let kept = content.trim_end().len();
                content.truncate(kept);
                content.push_str(&format!("\n\n{block}"));
            }
        }
    }
    Ok(content)
}

/// Takes the decisions of these names out.
pub(super) fn remove(
    path: &Path,
    content: &str,
    names: &[String],
) -> Result<String, DecisionsError> {
    let mut content = content.to_owned();
    let blocks = file::blocks(path, &content)?;
    for (decision, Span { start, end }) in blocks.iter().rev() {
        if !names.contains(&decision.name()) {
            continue;
        }
        let rest = content.get(*end..).unwrap_or_default();
        let line_end = rest.find('\n').map_or(rest.len(), |newline| newline + 1);
        let blank = rest
            .get(line_end..)
            .unwrap_or_default()
            .split_inclusive('\n')
            .take_while(|line| line.trim().is_empty())
            .map(str::len)
            .sum::<usize>();
        content.replace_range(*start..end + line_end + blank, "");
    }
    let kept = content.trim_end().len();
    content.truncate(kept);
    content.push('\n');
    Ok(content)
}

/// The start of the remarks that stand directly above a line.
fn above_remarks(content: &str, mut at: usize) -> usize {
    loop {
        let before = content.get(..at).unwrap_or_default();
        let line = before.strip_suffix('\n').unwrap_or(before);
        let start = line.rfind('\n').map_or(0, |newline| newline + 1);
        let line = line.get(start..).unwrap_or_default();
        // The remarks at the top of the file belong to the file.
        if !line.trim_start().starts_with('#') || start == 0 {
            return at;
        }
        at = start;
    }
}

fn written(decision: &Decision) -> String {
    let values = [
        &decision.kind,
        &decision.draft,
        &decision.on,
        &decision.because,
        &decision.text,
    ];
    let mut block = format!("[{}]\n", decision.name());
    for (name, value) in file::FIELDS.iter().zip(values) {
        block.push_str(&format!("{name} = {}\n", quoted(value)));
    }
    block
}

/// A text as TOML writes it on one line.
fn quoted(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 2);
    out.push('"');
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\n' => out.push_str("\\n"),
            c if c.is_control() => out.push_str(&format!("\\u{:04X}", u32::from(c))),
            c => out.push(c),
        }
    }
    out.push('"');
    out
}
