//! The share of quoted words by chapter and section. No number of it is anybody's rule: it shows where others
//! speak, not how much is too much.

use std::path::{Path, PathBuf};

use crate::overlap::Draft;
use crate::text::{BlockKind, ByteRange};

/// Words and those of them that are quoted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Share {
    /// Words of prose; headings, tables and lists of references are left out.
    pub words: usize,
    /// Words of prose inside marked quotations.
    pub quoted_words: usize,
    /// Quotations.
    pub quotations: usize,
}

impl Share {
    /// The share of quoted words, from 0 to 1; 0 where there are no words.
    #[must_use]
    #[allow(clippy::cast_precision_loss, reason = "word counts are far below 2^52")]
    pub fn of_words(&self) -> f64 {
        if self.words == 0 {
            return 0.0;
        }
        self.quoted_words as f64 / self.words as f64
    }
}

/// A heading and what stands below it, as far as the next heading of the same level or a higher one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Section {
    /// The heading.
    pub heading: String,
    /// Its level; 1 is the highest.
    pub level: u8,
    /// Its line in the Text, from 1.
    pub line: usize,
    /// What is quoted, sections of lower levels included.
    pub share: Share,
    range: ByteRange,
}

/// A draft.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Chapter {
    /// The file as named.
    pub path: PathBuf,
    /// What is quoted of all.
    pub share: Share,
    /// Its sections in order.
    pub sections: Vec<Section>,
    /// Remarks on how the draft was read.
    pub remarks: Vec<String>,
}

impl Chapter {
    /// Counts a quotation at a position; gives the nearest heading above it.
    pub(super) fn count(&mut self, position: usize) -> Option<String> {
        self.share.quotations += 1;
        let mut innermost = None;
        for section in &mut self.sections {
            if section.range.contains(position) {
                section.share.quotations += 1;
                innermost = Some(section.heading.clone());
            }
        }
        innermost
    }
}

/// The words of a draft and of its sections; quotations are counted later.
pub(super) fn chapter(path: &Path, draft: &Draft) -> Chapter {
    let text = &draft.text.text;
    let end = text.content().len();
    // Quoted words up to each word, so that a section is counted by a difference.
    let mut quoted = vec![0_usize];
    for is_quoted in &draft.quoted {
        quoted.push(quoted.last().copied().unwrap_or_default() + usize::from(*is_quoted));
    }
    let share = |range: ByteRange| {
        let words = draft.stream.within(&draft.text, range);
        let until = |at: usize| quoted.get(at).copied().unwrap_or_default();
        Share {
            words: words.len(),
            quoted_words: until(words.end()).saturating_sub(until(words.start())),
            quotations: 0,
        }
    };
    let mut sections: Vec<Section> = Vec::new();
    let mut open: Vec<usize> = Vec::new();
    let close = |sections: &mut Vec<Section>, open: &mut Vec<usize>, level: u8, at: usize| {
        while let Some(section) = open.last().and_then(|last| sections.get_mut(*last)) {
            if section.level < level {
                break;
            }
            section.range = ByteRange::of(section.range.start(), at);
            open.pop();
        }
    };
    for block in text.blocks() {
        if let BlockKind::Heading { level } = block.kind {
            close(&mut sections, &mut open, level, block.range.start());
            open.push(sections.len());
            let heading = text.slice(block.range).split_whitespace();
            sections.push(Section {
                heading: heading.collect::<Vec<_>>().join(" "),
                level,
                line: text.line(block.range.start()),
                share: Share::default(),
                range: block.range,
            });
        }
    }
    close(&mut sections, &mut open, 0, end);
    for section in &mut sections {
        section.share = share(section.range);
    }
    Chapter {
        path: path.to_owned(),
        share: share(ByteRange::of(0, end)),
        sections,
        remarks: Vec::new(),
    }
}
