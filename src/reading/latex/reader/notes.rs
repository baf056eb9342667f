//! Text that is written elsewhere: notes, and files that the document includes.

use super::super::scan;
use super::{Note, Reader};

/// Most files that are reported as missing.
const MOST_MISSING: usize = 500;

impl Reader<'_> {
    /// `\footnote` and the like: the call stays where it is, the text is written after the running text.
    pub(super) fn note(
        &mut self,
        text: &str,
        at: usize,
        base: Option<usize>,
        command: &str,
    ) -> usize {
        let (number, at) = match scan::option(text, at) {
            Some((range, end)) => (text.get(range), end),
            None => (None, at),
        };
        let name = match (number, command) {
            (Some(number), _) => format!("n{number}"),
            (None, "footnotetext") => format!("c{}", self.called),
            (None, _) => {
                self.called += 1;
                format!("c{}", self.called)
            }
        };
        if command != "footnotetext" {
            self.out.call(&name);
        }
        if command == "footnotemark" {
            return at;
        }
        let Some((range, end)) = scan::group(text, at) else {
            return at;
        };
        let base = base.map(|base| base + range.start);
        let text = text.get(range).unwrap_or_default().to_owned();
        self.notes.push(Note { name, text, base });
        end
    }

    /// A citation in a footnote of its own.
    pub(in crate::reading::latex) fn note_of(&mut self, text: String) {
        self.called += 1;
        let name = format!("c{}", self.called);
        self.out.call(&name);
        let base = None;
        self.notes.push(Note { name, text, base });
    }

    /// `\input` and `\include`: the file is read in the command's place, none inside itself.
    pub(super) fn input(&mut self, text: &str, at: usize) -> usize {
        let Some((range, end)) = scan::group(text, at) else {
            return at;
        };
        let name = text.get(range).unwrap_or_default().trim().to_owned();
        if self.files.contains(&name) || self.files.len() > 20 {
            return end;
        }
        match (self.load)(&name) {
            Some(file) => {
                self.chapters |= file.content.contains("\\chapter");
                self.files.push(name);
                let base = self.next + file.skipped as usize;
                self.out.include(file.path, file.lines, self.next);
                self.next = base + file.content.len() + 1;
                self.run(&scan::balanced(&file.content), Some(base));
                self.files.pop();
            }
            None if self.missing.len() < MOST_MISSING && !self.missing.contains(&name) => {
                self.missing.push(name);
            }
            None => {}
        }
        end
    }
}
