//! Emphasis in a line of Org: which signs open or close a stretch, and which are ordinary characters. The
//! line is searched once for each sign, however often the sign occurs: what was found for one position is
//! kept for the next.

/// The signs.
const SIGNS: [char; 6] = ['*', '/', '_', '+', '=', '~'];

/// Most characters of an emphasised stretch.
const LONGEST: usize = 400;

/// How many bytes before a closing sign an opening one is searched for.
const LOOKS_BACK: usize = 1600;

/// What is known of the signs of one line. Positions are queried in the order of the line.
pub(super) struct Emphasis<'a> {
    text: &'a str,
    /// For each sign, the next position where it may close; after the end of the line where there is none.
    next_end: [Option<usize>; SIGNS.len()],
    /// For each sign, the last position before `looked` where it may open.
    last_start: [Option<usize>; SIGNS.len()],
    looked: usize,
    /// The position of the last `]]` of the line.
    pub(super) last_link_end: Option<usize>,
}

impl<'a> Emphasis<'a> {
    pub(super) fn of(text: &'a str) -> Self {
        Self {
            text,
            next_end: [None; SIGNS.len()],
            last_start: [None; SIGNS.len()],
            looked: 0,
            last_link_end: text.rfind("]]"),
        }
    }

    fn sign(&self, at: usize) -> Option<(usize, char)> {
        let sign = self.behind(at)?;
        let known = SIGNS.iter().position(|known| *known == sign)?;
        Some((known, sign))
    }

    fn before(&self, at: usize) -> Option<char> {
        self.text.get(..at)?.chars().next_back()
    }

    fn behind(&self, at: usize) -> Option<char> {
        self.text.get(at..)?.chars().next()
    }

    /// Whether the sign at a position opens a stretch: after a blank or an opening sign, before a character,
    /// with a partner in the line.
    pub(super) fn opens(&mut self, at: usize) -> bool {
        let Some((known, sign)) = self.sign(at) else {
            return false;
        };
        if !self.may_start(at) {
            return false;
        }
        // The stretch has at least one character.
        let first = at + 1 + self.behind(at + 1).map_or(0, char::len_utf8);
        let slot = self.next_end.get(known).copied().flatten();
        let end = match slot.filter(|end| *end >= first) {
            Some(end) => end,
            None => self.find_end(sign, first),
        };
        if let Some(slot) = self.next_end.get_mut(known) {
            *slot = Some(end);
        }
        let inner = self.text.get(at + 1..end).unwrap_or_default();
        end < self.text.len() && inner.len() < LONGEST * 4 && inner.chars().count() < LONGEST
    }

    /// The next position where a sign may close, from a position on; the length of the line where there is
    /// none.
    fn find_end(&self, sign: char, from: usize) -> usize {
        let rest = self.text.get(from..).unwrap_or_default();
        rest.match_indices(sign)
            .map(|(at, _)| from + at)
            .find(|at| self.may_end(*at))
            .unwrap_or(self.text.len())
    }

    /// Whether the sign at a position closes a stretch that was opened before in the line.
    pub(super) fn closes(&mut self, at: usize) -> bool {
        let Some((known, _)) = self.sign(at) else {
            return false;
        };
        if at == 0 || !self.may_end(at) {
            return false;
        }
        // The stretch has at least one character.
        let last = self.before(at).map_or(at, |c| at - c.len_utf8());
        let text = self.text.get(self.looked..last).unwrap_or_default();
        for (place, _) in text.match_indices(SIGNS) {
            let place = self.looked + place;
            if let Some((known, _)) = self.sign(place)
                && self.may_start(place)
                && let Some(slot) = self.last_start.get_mut(known)
            {
                *slot = Some(place);
            }
        }
        self.looked = self.looked.max(last);
        let start = self.last_start.get(known).copied().flatten();
        start.is_some_and(|start| start + LOOKS_BACK >= at)
    }

    fn may_start(&self, at: usize) -> bool {
        let outside =
            |c: char| c.is_whitespace() || matches!(c, '-' | '(' | '{' | '\'' | '"' | '“');
        self.before(at).is_none_or(outside)
            && self.behind(at + 1).is_some_and(|c| !c.is_whitespace())
    }

    fn may_end(&self, at: usize) -> bool {
        let outside = |c: char| c.is_whitespace() || "-.,;:!?'\")}[”".contains(c);
        self.before(at).is_some_and(|c| !c.is_whitespace())
            && self.behind(at + 1).is_none_or(outside)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The signs that open or close as brackets; the others unchanged.
    fn shown(text: &str) -> String {
        let mut emphasis = Emphasis::of(text);
        let shown = text.char_indices().map(|(at, c)| match () {
            () if emphasis.opens(at) => '<',
            () if emphasis.closes(at) => '>',
            () => c,
        });
        shown.collect()
    }

    #[test]
    fn emphasis_by_case() {
        for (text, expected) in [
            ("*lamps* and /moths/.", "<lamps> and <moths>."),
            ("2*3*4 a_b_c", "2*3*4 a_b_c"),
            ("* lamps *", "* lamps *"),
            ("*lamps and", "*lamps and"),
            ("lamps* and", "lamps* and"),
            ("** a", "** a"),
            ("*a/b* /c*/", "<a/b> <c*>"),
            ("(*lamps*)", "(<lamps>)"),
            ("=a= =b= ~c~", "<a> <b> <c>"),
            ("*é*", "<é>"),
        ] {
            assert_eq!(shown(text), expected);
        }
        let long = |length: usize| format!("*{}*", "a".repeat(length));
        assert!(shown(&long(399)).starts_with('<'));
        assert!(shown(&long(400)).starts_with('*'));
        assert!(shown(&long(1500)).ends_with('>'));
        assert!(shown(&long(1600)).ends_with('*'));
    }
}
