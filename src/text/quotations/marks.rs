//! Quotation marks and what each can do at its place.
//!
//! Curly marks and guillemets mostly show themselves whether they open or close; straight ones are recognised
//! by what is beside them. An opening mark has a blank, an opening bracket, a dash or the start before it and
//! something solid after; a closing one has something solid before and no letter after. What fits neither is
//! an apostrophe or a stray mark. The single marks are the hard ones, since apostrophes look the same:
//! `don't`, `the moths' wings`, `the '90s`, `rock 'n' roll`.

use super::ByteRange;

/// Marks that are paired with one another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Family {
    /// `“ ”`, `„ “`, `” ”`
    Double,
    /// `‘ ’`, `‚ ‘`
    Single,
    /// `"`
    StraightDouble,
    /// `'`
    StraightSingle,
    /// `« »`, `» «`
    Angle,
    /// `‹ ›`, `› ‹`
    SingleAngle,
}

/// One quotation mark.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Mark {
    pub range: ByteRange,
    /// The character.
    pub sign: char,
    pub family: Family,
    /// Whether it may open a quotation here.
    pub opens: bool,
    /// Whether it may close one here.
    pub closes: bool,
    /// Whether it may as well be an apostrophe (`moths' wings`) or a sign for inches (`5" pipe`);
    /// a better closing mark further on is preferred.
    pub weak: bool,
    /// Whether a blank line is right before it.
    pub starts_paragraph: bool,
}

impl Mark {
    /// Whether quotations of several paragraphs are written with it.
    pub(super) fn is_primary(&self) -> bool {
        matches!(
            self.family,
            Family::Double | Family::StraightDouble | Family::Angle
        )
    }
}

/// The quotation marks of a block, in order.
pub(super) fn marks(content: &str, block: ByteRange) -> Vec<Mark> {
    let bytes = content.as_bytes().get(..block.end()).unwrap_or_default();
    let mut found: Vec<Mark> = Vec::new();
    let mut at = block.start();
    while let Some(offset) = bytes.get(at..).and_then(next) {
        at += offset;
        let c = content.get(at..).and_then(|rest| rest.chars().next());
        let length = c.map_or(1, char::len_utf8);
        if let Some(sign) = c
            && let Some(family) = family(sign)
        {
            let beside = Beside::of(content, block, at, length, found.last());
            found.push(beside.mark(sign, family, ByteRange::of(at, at + length)));
        }
        at += length;
    }
    found
}

/// The next byte that may begin a quotation mark.
fn next(bytes: &[u8]) -> Option<usize> {
    let of_interest = |byte: &u8| matches!(byte, b'"' | b'\'' | 0xC2 | 0xE2);
    bytes.iter().position(of_interest)
}

fn family(sign: char) -> Option<Family> {
    Some(match sign {
        '“' | '”' | '„' | '‟' => Family::Double,
        '‘' | '’' | '‚' | '‛' => Family::Single,
        '"' => Family::StraightDouble,
        '\'' => Family::StraightSingle,
        '«' | '»' => Family::Angle,
        '‹' | '›' => Family::SingleAngle,
        _ => return None,
    })
}

/// What stands beside a mark.
struct Beside<'a> {
    before: &'a str,
    behind: &'a str,
    previous: Option<char>,
    next: Option<char>,
    /// Whether an opening mark could stand here by what is before it.
    open_before: bool,
}

impl<'a> Beside<'a> {
    fn of(
        content: &'a str,
        block: ByteRange,
        at: usize,
        length: usize,
        last: Option<&Mark>,
    ) -> Self {
        // Signs of emphasis in plain text are ignored.
        let emphasis = ['*', '_'];
        let before = content.get(block.start()..at).unwrap_or_default();
        let before = before.trim_end_matches(emphasis);
        let behind = content.get(at + length..block.end()).unwrap_or_default();
        let behind = behind.trim_start_matches(emphasis);
        let previous = before.chars().next_back();
        let behind_mark = last.filter(|mark| mark.range.end() == block.start() + before.len());
        let open_before = match (behind_mark, previous) {
            (Some(mark), _) => mark.opens,
            (None, None) => true,
            (None, Some(c)) => c.is_whitespace() || "([{<—–-/=".contains(c),
        };
        Self {
            before,
            behind,
            previous,
            next: behind.chars().next(),
            open_before,
        }
    }

    fn mark(&self, sign: char, family: Family, range: ByteRange) -> Mark {
        let (opens, closes) = match sign {
            '"' => (self.opens_straight(), self.closes_straight()),
            '\'' => (
                self.opens_straight() && !self.is_elision(),
                self.closes_straight() && !self.ends_elision(),
            ),
            '“' | '‟' | '„' => (self.solid_behind(), self.solid_before()),
            '”' => (self.open_before && self.letter_behind(), true),
            '‘' | '‚' | '‛' => (
                self.solid_behind() && !self.is_elision() && !self.inside_word(),
                self.solid_before() && !self.letter_behind(),
            ),
            '’' => (false, self.closes_straight() && !self.ends_elision()),
            '«' | '‹' => {
                let closes = self.solid_before() && !self.open_before && !self.letter_behind();
                (!closes, closes)
            }
            _ => {
                let opens = self.open_before && self.letter_behind();
                (opens, !opens)
            }
        };
        Mark {
            range,
            sign,
            family,
            opens,
            closes,
            weak: closes && self.is_weak(family),
            starts_paragraph: self.starts_paragraph(),
        }
    }

    fn solid_before(&self) -> bool {
        self.previous.is_some_and(|c| !c.is_whitespace())
    }

    fn solid_behind(&self) -> bool {
        self.next.is_some_and(|c| !c.is_whitespace())
    }

    fn letter_behind(&self) -> bool {
        self.next.is_some_and(char::is_alphanumeric)
    }

    fn inside_word(&self) -> bool {
        self.letter_behind() && self.previous.is_some_and(char::is_alphanumeric)
    }

    fn opens_straight(&self) -> bool {
        self.open_before
            && self.solid_behind()
            && self.next.is_some_and(|c| !",;:)]}!?".contains(c))
    }

    fn closes_straight(&self) -> bool {
        let Some(previous) = self.previous else {
            return false;
        };
        let behind_end_mark = ".,!?…".contains(previous);
        let note_number = self.next.is_some_and(|c| c.is_ascii_digit()) && previous.is_alphabetic();
        !previous.is_whitespace()
            && !"([{".contains(previous)
            && (!self.letter_behind() || behind_end_mark || note_number)
    }

    /// `'90s`, `'tis`, `'n'`: letters or figures left out at the start of a word.
    fn is_elision(&self) -> bool {
        let end = self
            .behind
            .find(|c: char| !c.is_alphanumeric())
            .unwrap_or(self.behind.len());
        let word = self.behind.get(..end).unwrap_or_default();
        let figures = word.strip_suffix('s').unwrap_or(word);
        let decade = figures.len() == 2 && figures.chars().all(|c| c.is_ascii_digit());
        let listed = [
            "tis", "twas", "twere", "twill", "em", "til", "cause", "cos", "coz", "bout",
        ]
        .iter()
        .any(|elided| word.eq_ignore_ascii_case(elided));
        let and = word == "n" && self.behind.starts_with(['n']) && is_apostrophe(self.behind, 1);
        decade || listed || and
    }

    /// The second mark of `'n'`.
    fn ends_elision(&self) -> bool {
        let mut back = self.before.chars().rev();
        back.next() == Some('n') && matches!(back.next(), Some('\'' | '’' | '‘'))
    }

    fn is_weak(&self, family: Family) -> bool {
        let Some(previous) = self.previous else {
            return false;
        };
        let possessive = matches!(previous, 's' | 'S' | 'z' | 'x') && self.noun_behind();
        match family {
            Family::StraightDouble => previous.is_ascii_digit(),
            Family::StraightSingle | Family::Single => possessive || previous.is_ascii_digit(),
            _ => false,
        }
    }

    /// Whether a word follows that may be the thing owned. It must not be a function word: `moths' of` and
    /// `moths' are` hold no apostrophe.
    fn noun_behind(&self) -> bool {
        let word = self.behind.trim_start();
        let end = word
            .find(|c: char| !c.is_alphanumeric())
            .unwrap_or(word.len());
        let blank = word.len() < self.behind.len();
        let word = word.get(..end).unwrap_or_default();
        let listed = word.len() <= 5 && NEVER_OWNED.split(' ').any(|other| other == word);
        blank && !word.is_empty() && !listed
    }

    fn starts_paragraph(&self) -> bool {
        let blank = self.before.len() - self.before.trim_end().len();
        let gap = self.before.get(self.before.len() - blank..);
        gap.is_some_and(|gap| gap.replace("\r\n", "\n").matches(['\n', '\r']).count() > 1)
            || self.before.is_empty()
    }
}

/// Function words, none of which can be what a possessive owns.
const NEVER_OWNED: &str = "a an and are as at be been but by can could did do does for from had has \
     have he her his if in into is it may might must nor not of on or our she should so than that the \
     their then these they this those to was we were when where which while who will with would";

fn is_apostrophe(text: &str, at: usize) -> bool {
    text.get(at..)
        .is_some_and(|rest| rest.starts_with(['\'', '’']))
}
