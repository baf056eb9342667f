//! What a BibTeX entry holds beside the reference: the writer's notes and the work's abstract.
//!
//! `annote` and `annotation` are the writer's notes, whatever their length. `note` belongs to the
//! reference in most files (*Forthcoming*, *Only excerpts read*), and counts for notes only where it is as long
//! as a summary. `abstract` is the author's own text.

use super::fields::prose;
use crate::review::Key;
use crate::review::references::files::Annotation;

/// Words from which on a `note` is taken for the writer's notes: no remark on a reference is so long.
const NOTE_WORDS: usize = 20;

/// One such field as it stands in the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Annotating {
    is_abstract: bool,
    /// Its paragraphs, each with the line on which it begins, counted from 0 at the entry.
    paragraphs: Vec<(usize, String)>,
}

impl Annotating {
    /// What a field holds; `None` where it is no annotation.
    pub(super) fn of(name: &str, line: usize, value: impl FnOnce() -> String) -> Option<Self> {
        let name = name.to_lowercase();
        let is_abstract = name == "abstract";
        if !is_abstract && !["annote", "annotation", "note"].contains(&name.as_str()) {
            return None;
        }
        let paragraphs = paragraphs(&value(), line);
        let words = |(_, text): &(usize, String)| text.split_whitespace().count();
        let is_short = paragraphs.iter().map(words).sum::<usize>() < NOTE_WORDS;
        let is_remark = name == "note" && is_short;
        (!paragraphs.is_empty() && !is_remark).then_some(Self {
            is_abstract,
            paragraphs,
        })
    }
}

/// The annotation that the fields of one entry make, if they make any. `line` is the entry's.
pub(super) fn of(key: &str, line: usize, reported: Vec<Annotating>) -> Option<Annotation> {
    let of_kind = |is_abstract: bool| {
        let fields = reported
            .iter()
            .filter(|reported| reported.is_abstract == is_abstract);
        let paragraphs = fields.flat_map(|reported| &reported.paragraphs);
        paragraphs
            .map(|(behind, text)| (line + behind, text.clone()))
            .collect::<Vec<_>>()
    };
    let (notes, own_abstract) = (of_kind(false), of_kind(true));
    (!notes.is_empty() || !own_abstract.is_empty()).then(|| Annotation {
        key: Key::new(key),
        file: std::path::PathBuf::new(),
        line,
        notes,
        own_abstract,
    })
}

/// The paragraphs of a value: parted by blank lines, `\par` or `\\`, their LaTeX taken away. Line ends
/// inside are blanks.
fn paragraphs(value: &str, line: usize) -> Vec<(usize, String)> {
    let marked = value
        .replace("``", "“")
        .replace("''", "”")
        .replace("\\par ", "\n\n")
        .replace("\\par\n", "\n\n\n")
        .replace("\\\\", "\n\n");
    let added = marked.matches('\n').count() > value.matches('\n').count();
    let mut found: Vec<(usize, String)> = Vec::new();
    let mut open: Option<(usize, String)> = None;
    let mut close = |open: &mut Option<(usize, String)>| {
        if let Some((line, text)) = open.take() {
            let text = prose(&text);
            if !text.is_empty() {
                found.push((line, text));
            }
        }
    };
    for (behind, written) in marked.lines().enumerate() {
        if written.trim().is_empty() {
            close(&mut open);
            continue;
        }
        // Breaks that we put in ourselves are no lines of the file.
        let at = if added { line } else { line + behind };
        let (_, text) = open.get_or_insert_with(|| (at, String::new()));
        text.push_str(written);
        text.push('\n');
    }
    close(&mut open);
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn paragraphs_keep_their_lines_and_lose_their_latex() {
        let value = "\n  Moths {\\'a} la lampe, ``so''\n  to say: 9 \\%.\n\n  \\emph{More}.";
        let wanted = [
            (4, "Moths á la lampe, “so” to say: 9 %.".to_owned()),
            (7, "More.".to_owned()),
        ];
        assert_eq!(paragraphs(value, 3), wanted);
        assert_eq!(paragraphs("One.\\par Two.\\\\Three.", 3).len(), 3);
        assert_eq!(paragraphs(" \n ", 3), []);
    }

    #[test]
    fn a_short_note_belongs_to_the_reference() {
        let reported =
            |name: &str, value: &str| Annotating::of(name, 0, || value.to_owned()).is_some();
        assert!(reported("annote", "Moths come."));
        assert!(reported("Annotation", "Moths come."));
        assert!(reported("ABSTRACT", "Moths come."));
        assert!(!reported("note", "No stored source: read in the library"));
        assert!(reported("note", &"moths come late ".repeat(10)));
        assert!(!reported("title", "Moths come."));
        assert!(!reported("annote", " "));
    }
}
