//! In-text citations.
//!
//! 1. `(`, `[` and `@` are searched for; everything else is passed over at the speed of a byte search. A
//!    bracket ends within `find::LONGEST_BRACKET` bytes or is not one, which keeps the work proportional to
//!    the text (`find`).
//! 2. The inside is cut into `tokens` and given to the readers in turn: Pandoc keys (`key`), numbers
//!    (`numbered`), author and year (`author_year`, `year`), author and page (`author_page`), a page alone
//!    that takes up the citation before it (`later`).
//! 3. A footnote is first read piece by piece, since its citations need no bracket (`notes`).
//! 4. Names are read from their end towards their beginning (`names`, `chunk`, `initials`), in a bracket
//!    before the year and in prose before the bracket (`prose`). `vocabulary` holds the words that look like
//!    names but are not.
//!
//! A reader that is not sure says no: a place or a month taken for an author would be reported as a work that
//! is missing from the references. Which rule each form follows is noted with the cases in `tests`, and rule
//! by rule in `tests/citation_rules/cases.txt` of the project.

mod author_page;
mod author_year;
mod chunk;
mod find;
mod footnotes;
mod initials;
mod key;
mod later;
mod lead;
mod names;
mod notes;
mod numbered;
mod prose;
mod recorded;
#[cfg(test)]
mod tests;
mod tokens;
mod vocabulary;
mod year;

use super::{ByteRange, Locator, Text};

/// The family of styles a citation belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum CitationForm {
    /// `(Lindqvist, 2014, p. 3)`, `Lindqvist (2014)`.
    AuthorYear,
    /// `(Lindqvist 14)`.
    AuthorPage,
    /// `[12]`, `[3-5]`.
    Numbered,
    /// Pandoc: `[@key, p. 12]`, `@key [p. 12]`.
    Key,
    /// In a footnote by author and title, in full or in short: `Lindqvist, “Moths,” 47.`
    Note,
}

/// A year of publication as cited.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Year {
    /// The year; `None` for *n.d.* and *in press*. Of two years (`1898/2014`) the later, under which
    /// a reference list has the work.
    pub number: Option<i32>,
    /// The letter that distinguishes works of one year.
    pub suffix: Option<char>,
    /// As written: `2019a`, `n.d.`. The `b` of `2019a, b` is given its year: `2019b`.
    pub written: String,
}

/// What a cite points at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum CiteTarget {
    /// Family or group names, and a year (`None` in author-page styles).
    Author {
        /// Names as written, without initials: `["Harrow", "Okoro"]`. A given name written out stays
        /// with its name (`["Ada Lindqvist"]`), since a group's name looks no different. A work
        /// without author has its title here.
        names: Vec<String>,
        /// Initials given to distinguish namesakes, by name: `["A.", ""]`; empty where none.
        initials: Vec<String>,
        /// Whether *et al.* or its like follows.
        et_al: bool,
        /// The year.
        year: Option<Year>,
    },
    /// Family or group names and a title, as notes have them; the year in full notes.
    Work {
        /// Names as in [`Author`](Self::Author).
        names: Vec<String>,
        /// Initials as in [`Author`](Self::Author).
        initials: Vec<String>,
        /// Whether *et al.* or its like follows.
        et_al: bool,
        /// The title, in full or shortened, without its quotation marks.
        title: String,
        /// The year, where the note gives it.
        year: Option<Year>,
    },
    /// A reference key.
    Key(String),
    /// A number of the draft's own reference list.
    Number(u32),
}

/// One work cited, one of possibly several in a citation.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cite {
    /// Where it stands inside the citation: from its prefix, or its names if they stand in the
    /// bracket, to the end of its locator.
    pub range: ByteRange,
    /// What it points at.
    pub target: CiteTarget,
    /// `see`, `cf.`, `as cited in` and the like, as written.
    pub prefix: Option<String>,
    /// The page or other place named.
    pub locator: Option<Locator>,
}

/// One citation: a bracket with one or several cites, with the narrative names before it if any.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Citation {
    /// Its family.
    pub form: CitationForm,
    /// From the narrative names (or the bracket) to the end of the bracket. A later bracket with only a
    /// locator (`Lindqvist (2014) holds that “...” (p. 3)`) is a citation of its own whose cites repeat the
    /// target. Of `Lindqvist holds that “...” (2014, p. 3)` it is only the bracket. Where a bracket holds
    /// more prose than citation, it is only the part from its first cite to its last.
    pub range: ByteRange,
    /// The part that is not prose: the bracket. Words inside are left out of comparisons; narrative names
    /// before it are not. For a bare `@key` the key itself.
    pub aside: ByteRange,
    /// Whether the authors stand in the sentence itself.
    pub narrative: bool,
    /// The works cited, in order, at least one.
    pub cites: Vec<Cite>,
}

/// The citations of a Text in order, without overlap. Those that its file records take precedence over those
/// that are read from its characters. Code and the Text's own list of references are left out.
#[must_use]
pub fn citations(text: &Text) -> Vec<Citation> {
    recorded::join(text, find::find(text))
}
