//! Entries that are kept in a bibliography file, in its fields for annotations.
//!
//! A file's annotations become one Text: each key a heading, each paragraph a paragraph below it, on the
//! lines they have in the file as far as they fit. So the entries are read like any others, labels such
//! as *Comments:* at the start of a paragraph included, and what no label claims is summary.

use std::sync::Arc;

use super::outline::PartHeadings;
use super::{Entry, NoteFile, parse};
use crate::review::References;
use crate::review::references::Annotation;
use crate::text::{Block, BlockKind, ByteRange, MarkedText, Origin, Pages, Text};

/// The annotations of each bibliography file as a file of notes with its entries, numbered from `first`.
pub(super) fn read(
    annotations: &[Annotation],
    headings: &PartHeadings,
    references: &References,
    first: usize,
) -> (Vec<NoteFile>, Vec<Entry>) {
    let (mut files, mut entries) = (Vec::new(), Vec::new());
    for of_file in annotations.chunk_by(|a, b| a.file == b.file) {
        let annotated: Vec<&Annotation> = of_file
            .iter()
            .filter(|annotation| !annotation.notes.is_empty())
            .collect();
        let Some(one) = annotated.first() else {
            continue;
        };
        let text = text(&annotated);
        // Every heading is a key of this very file, so there is nothing to report.
        let found = parse::entries(&text, "", headings, references, &mut |_| {});
        let file = first + files.len();
        entries.extend(found.into_iter().map(|entry| Entry { file, ..entry }));
        files.push(NoteFile {
            path: one.file.clone(),
            text: Arc::new(MarkedText::new(text)),
            in_bibliography: true,
        });
    }
    (files, entries)
}

/// The Text of a work's abstract.
pub(in crate::review) fn text_of_abstract(annotation: &Annotation) -> Text {
    let mut made = Made::default();
    for (_, paragraph) in &annotation.own_abstract {
        made.add(0, BlockKind::Paragraph, paragraph);
    }
    made.text()
}

fn text(annotations: &[&Annotation]) -> Text {
    let mut made = Made::default();
    for annotation in annotations {
        let heading = BlockKind::Heading { level: 1 };
        made.add(annotation.line, heading, annotation.key.as_str());
        for (line, paragraph) in &annotation.notes {
            made.add(*line, BlockKind::Paragraph, paragraph);
        }
    }
    made.text()
}

/// A Text in the making.
#[derive(Default)]
struct Made {
    content: String,
    blocks: Vec<Block>,
    /// Lines begun so far, less one.
    lines: usize,
}

impl Made {
    /// Adds a block on a line of its own: the given one (from 1), or the next where that is taken.
    fn add(&mut self, line: usize, kind: BlockKind, written: &str) {
        let least = if self.content.is_empty() { 0 } else { 1 };
        let more = line.saturating_sub(1 + self.lines).max(least);
        self.content.extend(std::iter::repeat_n('\n', more));
        self.lines += more + written.matches('\n').count();
        let start = self.content.len();
        self.content.push_str(written);
        let range = ByteRange::of(start, self.content.len());
        self.blocks.push(Block { kind, range });
    }

    fn text(self) -> Text {
        Text::new(self.content, self.blocks, Pages::default(), Origin::Recoded)
    }
}

#[cfg(test)]
mod tests {
    use super::super::PartKind;
    use super::*;
    use crate::review::references::tests::reference;
    use crate::review::{Key, Settings};
    use std::path::PathBuf;

    fn annotation(key: &str, line: usize, notes: &[(usize, &str)]) -> Annotation {
        Annotation {
            key: Key::new(key),
            file: PathBuf::from("references.bib"),
            line,
            notes: notes
                .iter()
                .map(|(line, text)| (*line, (*text).to_owned()))
                .collect(),
            own_abstract: vec![(1, "Abstract.".to_owned())],
        }
    }

    #[test]
    fn annotations_are_entries_on_the_lines_of_their_file() {
        let annotations = [
            annotation(
                "harrow2019",
                3,
                &[(9, "Moths come."), (10, "Comments: Why?")],
            ),
            annotation("lind2016", 12, &[(12, "Nectar.")]),
            annotation("tarn", 20, &[]),
        ];
        let list = References::new(
            ["harrow2019", "lind2016", "tarn"].map(|key| reference(key, "A, B", None, "T")),
        );
        let headings = PartHeadings::of(&Settings::default());
        let (files, entries) = read(&annotations, &headings, &list, 4);
        assert_eq!(files.len(), 1);
        let text = &files[0].text.text;
        let shown: Vec<_> = entries
            .iter()
            .map(|entry| {
                let parts = entry.parts.iter().map(|part| {
                    let written = text.slice(part.range);
                    (part.kind, written, text.line(part.range.start()))
                });
                (
                    entry.file,
                    entry.key.as_ref().unwrap().as_str(),
                    parts.collect::<Vec<_>>(),
                )
            })
            .collect();
        let wanted = [
            (
                4,
                "harrow2019",
                vec![
                    (PartKind::Summary, "Moths come.", 9),
                    (PartKind::Comments, "Why?", 10),
                ],
            ),
            (4, "lind2016", vec![(PartKind::Summary, "Nectar.", 13)]),
        ];
        assert_eq!(shown, wanted);
        assert_eq!(text_of_abstract(&annotations[0]).content(), "Abstract.");
    }
}
