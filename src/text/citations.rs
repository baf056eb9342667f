//! In-text citations.

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
}

/// A year of publication as cited.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Year {
    /// The year; `None` for *n.d.* and *in press*.
    pub number: Option<i32>,
    /// The letter that tells works of one year apart.
    pub suffix: Option<char>,
    /// As written: `2019a`, `n.d.`.
    pub written: String,
}

/// What a cite points at.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum CiteTarget {
    /// Family or group names, and a year (`None` in author-page styles).
    Author {
        /// Names as written, without initials: `["Harrow", "Okoro"]`.
        names: Vec<String>,
        /// Initials given to tell namesakes apart, by name: `["A.", ""]`; empty where none.
        initials: Vec<String>,
        /// Whether *et al.* or its like follows.
        et_al: bool,
        /// The year.
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
    /// Where it stands.
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
    /// From the narrative names (or the bracket) to the end of the bracket. A later bracket with
    /// just a locator (`Lindqvist (2014) holds that “...” (p. 3)`) is a citation of its own whose
    /// cites repeat the target.
    pub range: ByteRange,
    /// The part that is no prose: the bracket. Words inside are left out of comparisons; narrative
    /// names before it stay in. For a bare `@key` the key itself.
    pub aside: ByteRange,
    /// Whether the authors stand in the sentence itself.
    pub narrative: bool,
    /// The works cited, in order, at least one.
    pub cites: Vec<Cite>,
}

/// The citations of a Text in order.
#[must_use]
pub fn citations(text: &Text) -> Vec<Citation> {
    let _ = text;
    Vec::new()
}
