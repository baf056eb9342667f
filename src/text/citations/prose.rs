//! The names in the prose before a bracket: right before it, before a quotation that the bracket closes,
//! or as the owner of a study.

use memchr::memrchr2;

use super::find::Finder;
use super::names::{NameList, Setting, names_before};
use super::tokens::{Kind, Token, tokens};
use super::vocabulary::{WORKS, listed};
use super::{ByteRange, Citation, CiteTarget, later};

/// How far before a bracket its narrative names may begin, in bytes.
const LONGEST_NAMES: usize = 220;

impl<'a> Finder<'a> {
    /// The names directly before a bracket.
    pub(super) fn names_in_prose(&self, open: usize) -> Option<NameList> {
        let before = self.tokens_before(open)?;
        names_before(self.content, &before, Setting::Prose)
    }

    /// The names in `Pellow and Strand’s later trial (2020)`: a possessive with at most three words up to
    /// a noun for a piece of work.
    pub(super) fn owner_of_work(&self, open: usize) -> Option<NameList> {
        let tokens = self.tokens_before(open)?;
        let (work, before) = tokens.split_last()?;
        if !(work.kind == Kind::Word && listed(WORKS, work.text)) {
            return None;
        }
        let small = |token: &&Token<'_>| {
            token.kind == Kind::Word && token.text.starts_with(char::is_lowercase)
        };
        let between = before.iter().rev().take(3).take_while(small).count();
        let names = before.get(..before.len() - between)?;
        let owns = match names {
            [.., mark] if matches!(mark.text, "'" | "’") => true,
            [.., mark, s] if matches!(mark.text, "'" | "’") && s.is_word("s") => true,
            [.., name] => name.text.ends_with("'s") || name.text.ends_with("’s"),
            [] => false,
        };
        owns.then(|| names_before(self.content, names, Setting::Prose))?
    }

    /// The names in `Lindqvist holds that “...” (2014, p. 3)`: the last ones before the quotation, with
    /// nothing but small words, a comma or a colon between.
    pub(super) fn names_before_quotation(&self, open: usize) -> Option<NameList> {
        let lowest = self.floor.max(open.saturating_sub(later::FARTHEST));
        let lowest = (lowest..=open).find(|at| self.content.is_char_boundary(*at))?;
        let before = self.content.get(lowest..open)?;
        if !later::closes_quotation(before) {
            return None;
        }
        let introduction = later::before_quotation(before)?;
        let tokens = self.tokens_before(lowest + introduction.len())?;
        let small = |token: &&Token<'_>| match token.kind {
            Kind::Word => token.text.starts_with(char::is_lowercase),
            Kind::Comma | Kind::Colon => true,
            _ => false,
        };
        let between = tokens.iter().rev().take(8).take_while(small).count();
        let names = tokens.get(..tokens.len() - between)?;
        names_before(self.content, names, Setting::Prose).filter(|_| between > 0)
    }

    /// The tokens before a place among which names may stand, back to the last round bracket.
    fn tokens_before(&self, place: usize) -> Option<Vec<Token<'a>>> {
        let lowest = self.floor.max(place.saturating_sub(LONGEST_NAMES));
        let bytes = self.content.as_bytes();
        let bracket = memrchr2(b'(', b')', bytes.get(lowest..place)?);
        let mut from = bracket.map_or(lowest, |at| lowest + at + 1);
        while !self.content.is_char_boundary(from) {
            from += 1;
        }
        if bracket.is_none() && from > self.floor {
            let cut = self.content.get(from..place)?;
            from += cut.find(char::is_whitespace)?;
        }
        Some(tokens(self.content, from, place))
    }

    /// `The National Lamp Survey (NLS, 2019)`: the short form in the bracket stands for the name
    /// before it (published: APA 7 section 8.21).
    pub(super) fn take_up_full_name(
        &self,
        open: usize,
        inside: &[Token<'_>],
        citation: &mut Citation,
    ) {
        let short = match inside {
            [word, comma, ..] if word.kind == Kind::Word && comma.kind == Kind::Comma => word.text,
            _ => return,
        };
        let capitals = (2..=12).contains(&short.len()) && short.chars().all(char::is_uppercase);
        let Some(full) = self.names_in_prose(open).filter(|_| capitals) else {
            return;
        };
        let [name] = full.names.as_slice() else {
            return;
        };
        let first_letters: String = name
            .split([' ', '-'])
            .filter_map(|word| word.chars().next())
            .filter(|letter| letter.is_uppercase())
            .collect();
        if first_letters != short {
            return;
        }
        for cite in &mut citation.cites {
            if let CiteTarget::Author { names, .. } = &mut cite.target
                && names.as_slice() == [short]
            {
                names.clone_from(&full.names);
            }
        }
        citation.narrative = true;
        citation.range = ByteRange::of(full.start, citation.range.end());
    }
}
