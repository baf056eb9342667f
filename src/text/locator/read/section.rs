//! Parts of a work that are named by their headings, as where a source has no pages.

use super::Reader;
use crate::text::LocatorUnit;

/// Bytes of a heading in quotation marks, and words of one without.
const LONGEST_HEADING: usize = 160;
const MOST_HEADING_WORDS: usize = 6;

impl<'a> Reader<'a> {
    /// `Introduction section`, `“Who negotiates” section`: a part by its heading (published: APA 7 section 8.13, from
    /// memory).
    pub(super) fn named_section(&mut self) -> Option<(LocatorUnit, Vec<(String, String)>)> {
        let start = self.at;
        let named = self.heading().and_then(|name| {
            self.skip_blanks();
            let unit = self.take_while(char::is_alphabetic);
            let fits = matches!(unit, "section" | "sections" | "sec");
            (fits && !name.is_empty()).then(|| name.to_owned())
        });
        match named {
            Some(name) => Some((LocatorUnit::Section, vec![(name.clone(), name)])),
            None => {
                self.at = start;
                None
            }
        }
    }

    /// `“Who negotiates”` behind *section* or *chapter*.
    pub(super) fn quoted_heading(&mut self, unit: LocatorUnit) -> Option<Vec<(String, String)>> {
        let named = matches!(unit, LocatorUnit::Section | LocatorUnit::Chapter);
        if !named || !self.next().is_some_and(|c| "“‘\"".contains(c)) {
            return None;
        }
        let start = self.at;
        let Some(name) = self.heading().filter(|name| !name.is_empty()) else {
            self.at = start;
            return None;
        };
        Some(vec![(name.to_owned(), name.to_owned())])
    }

    /// A heading in quotation marks, or a few words of which the first has a capital letter, up to the word *section*.
    fn heading(&mut self) -> Option<&'a str> {
        let close = match self.next()? {
            '“' => '”',
            '‘' => '’',
            '"' => '"',
            c if c.is_uppercase() => return self.bare_heading(),
            _ => return None,
        };
        let open = self.next()?.len_utf8();
        self.at += open;
        let name = self.take_while(|c| c != close && c != '\n' && c != ')');
        (name.len() <= LONGEST_HEADING && self.take(close))
            .then(|| name.trim_matches([',', '.', ' ']))
    }

    fn bare_heading(&mut self) -> Option<&'a str> {
        let rest = self.rest();
        let within = rest.char_indices().nth(LONGEST_HEADING);
        let within = within.map_or(rest.len(), |(at, _)| at);
        let end = rest.get(..within)?.find(" section")?;
        let name = rest.get(..end)?;
        let is_word =
            |c: char| c.is_alphanumeric() || c == '-' || c == ' ' || c == '’' || c == '\'';
        let words = name.split(' ').count();
        if words > MOST_HEADING_WORDS || !name.chars().all(is_word) {
            return None;
        }
        self.at += end;
        Some(name)
    }
}
