//! A stretch of the draft aligned with a stretch of a document. Each pair of stretches is aligned once, and
//! the alignment is kept with the passage: the choice among passages, their measures and their support all
//! read the same one.

use super::alignment::{Alignment, Placed, align};
use super::lexicon::FormId;
use super::library::{Document, Draft};
use super::positions::StreamRange;
use super::scale::Measures;
use super::support::Support;

/// The words of a stretch of the draft outside quotation marks, aligned with a stretch of a document.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Aligned {
    /// The position of each word in the draft's stream.
    own: Vec<usize>,
    /// The words.
    forms: Vec<FormId>,
    /// The document's stretch.
    source: StreamRange,
    /// Counterparts, by position in the two lists of words.
    alignment: Alignment,
}

impl Aligned {
    /// Aligns two stretches.
    #[must_use]
    pub(crate) fn new(
        draft: &Draft,
        words: StreamRange,
        document: &Document,
        source: StreamRange,
    ) -> Self {
        let own: Vec<usize> = words.as_range().filter(|at| draft.is_own(*at)).collect();
        let forms: Vec<FormId> = own.iter().map(|at| draft.stream.forms[*at]).collect();
        let alignment = align(&forms, document.stream.slice(source), &draft.lexicon);
        Self {
            own,
            forms,
            source,
            alignment,
        }
    }

    /// The words of the draft.
    #[must_use]
    pub(crate) fn forms(&self) -> &[FormId] {
        &self.forms
    }

    /// Counterparts, by position in the two lists of words.
    #[must_use]
    pub(crate) fn alignment(&self) -> &Alignment {
        &self.alignment
    }

    /// Counterparts, by position in the two streams.
    #[must_use]
    pub(crate) fn placed(&self) -> Placed {
        self.alignment.placed(&self.own, self.source.start())
    }

    /// The measures, except the one that needs the whole source.
    #[must_use]
    pub(crate) fn measures(&self, draft: &Draft, document: &Document) -> Measures {
        let theirs = document.stream.slice(self.source);
        Measures::count(&self.forms, theirs, &self.alignment, &draft.lexicon)
    }

    /// How much the two stretches share. Words of the draft's stream for which `is_ignored` holds count for
    /// nothing.
    #[must_use]
    pub(crate) fn support(
        &self,
        is_ignored: impl Fn(usize) -> bool,
        draft: &Draft,
        document: &Document,
    ) -> Support {
        Support::of(
            &self.forms,
            |at| self.own.get(at).is_some_and(|at| is_ignored(*at)),
            document.stream.slice(self.source),
            &self.alignment,
            &draft.lexicon,
        )
    }
}
