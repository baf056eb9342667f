//! The sheet that a report is written on: a narrow left column for labels, the rest for text that is
//! wrapped at the width of the look.

use std::io::{self, Write};

use textwrap::core::Word;
use textwrap::{Options, WordSeparator, WordSplitter, WrapAlgorithm};

use super::joints;
use super::style::{Ink, Look};

/// Columns before the text of a labelled line: three of space, seven for the label, one of space.
pub(in crate::report) const MARGIN: usize = 11;

/// Columns before a label, and before what needs the whole width.
pub(in crate::report) const INDENT: usize = 3;

/// A writer of lines.
pub(in crate::report) struct Sheet<'a, W> {
    out: &'a mut W,
    /// How the report looks here.
    pub(in crate::report) look: &'a Look,
}

impl<'a, W: Write> Sheet<'a, W> {
    /// A sheet over a writer.
    pub(in crate::report) fn new(out: &'a mut W, look: &'a Look) -> Self {
        Self { out, look }
    }

    /// One line as it is.
    pub(in crate::report) fn line(&mut self, line: &str) -> io::Result<()> {
        writeln!(self.out, "{}", line.trim_end())
    }

    /// An empty line.
    pub(in crate::report) fn blank(&mut self) -> io::Result<()> {
        writeln!(self.out)
    }

    /// A paragraph with every line behind `indent` columns.
    pub(in crate::report) fn paragraph(&mut self, indent: usize, text: &str) -> io::Result<()> {
        self.hanging(indent, "", text)
    }

    /// A paragraph whose first line begins with a lead that stands inside the indent.
    pub(in crate::report) fn hanging(
        &mut self,
        indent: usize,
        lead: &str,
        text: &str,
    ) -> io::Result<()> {
        let space = " ".repeat(indent);
        let mut first = format!("{lead:<indent$}");
        for line in wrap(text, self.look.width().saturating_sub(indent)) {
            self.line(&format!("{first}{line}"))?;
            first.clone_from(&space);
        }
        Ok(())
    }

    /// A heading, with colours in bold.
    pub(in crate::report) fn heading(&mut self, indent: usize, text: &str) -> io::Result<()> {
        for line in wrap(text, self.look.width().saturating_sub(indent)) {
            let painted = self.look.paint(Ink::Head, &line);
            self.line(&format!("{:indent$}{painted}", ""))?;
        }
        Ok(())
    }

    /// Text with a label in the left column. A label that is too long for the column gets a line of
    /// its own.
    pub(in crate::report) fn labelled(&mut self, label: &str, text: &str) -> io::Result<()> {
        let lead = self.label(label);
        let mut lines = wrap(text, self.look.width().saturating_sub(MARGIN)).into_iter();
        self.line(&format!("{lead}{}", lines.next().unwrap_or_default()))?;
        for line in lines {
            self.line(&format!("{:MARGIN$}{line}", ""))?;
        }
        Ok(())
    }

    /// The left column of a labelled line.
    pub(in crate::report) fn label(&self, label: &str) -> String {
        if label.is_empty() {
            return " ".repeat(MARGIN);
        }
        let room = MARGIN - INDENT;
        let padded = format!("{label:<room$}");
        format!("{:INDENT$}{}", "", self.look.paint(Ink::Quiet, &padded))
    }
}

/// Breaks a text into lines, but not between `p.` and its number. An empty text gives one empty line.
pub(in crate::report) fn wrap(text: &str, width: usize) -> Vec<String> {
    let options = Options::new(width.max(10))
        .word_separator(WordSeparator::Custom(words))
        .word_splitter(WordSplitter::NoHyphenation)
        .wrap_algorithm(WrapAlgorithm::FirstFit);
    textwrap::wrap(text, options)
        .into_iter()
        .map(std::borrow::Cow::into_owned)
        .collect()
}

/// The words of a line, those that stay together as one.
fn words(line: &str) -> Box<dyn Iterator<Item = Word<'_>> + '_> {
    let mut words = WordSeparator::AsciiSpace.find_words(line).peekable();
    let mut rest = line;
    Box::new(std::iter::from_fn(move || {
        let first = words.next()?;
        let mut length = first.word.len() + first.whitespace.len();
        let mut last = first;
        while let Some(next) = words.next_if(|next| joints::holds(last.word, next.word)) {
            length += next.word.len() + next.whitespace.len();
            last = next;
        }
        // The words are all of the line, so that it is cut where one ends.
        let (word, behind) = rest.split_at_checked(length).unwrap_or((rest, ""));
        rest = behind;
        Some(Word::from(word))
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::Colours;

    #[test]
    fn a_number_stays_with_what_it_is_the_number_of() {
        let table = [
            (
                "as Harrow says on p. 12 of it",
                ["as Harrow says on", "p. 12 of it"].as_slice(),
            ),
            (
                "as Harrow says, pp. 3–5, twice",
                &["as Harrow says, ", "pp. 3–5, twice"],
            ),
            (
                "  as it stands in  line  12",
                &["  as it stands in", "line  12"],
            ),
            ("in lines p. p. p.", &["in lines p. p. p."]),
            ("", &[""]),
        ];
        for (text, lines) in table {
            let lines: Vec<&str> = lines.iter().map(|line| line.trim_end()).collect();
            assert_eq!(wrap(text, 20), lines);
        }
    }

    #[test]
    fn labels_stand_in_their_column() {
        let look = Look::new(60, Colours::Off);
        let mut out = Vec::new();
        let mut sheet = Sheet::new(&mut out, &look);
        let text =
            "Read the source once more, put it away, and say the point as you would tell it.";
        sheet.labelled("mend", text).unwrap();
        sheet.hanging(5, "  1", "one").unwrap();
        assert_eq!(
            String::from_utf8(out).unwrap(),
            "   mend    Read the source once more, put it away, and say\n           \
             the point as you would tell it.\n  1  one\n"
        );
    }
}
