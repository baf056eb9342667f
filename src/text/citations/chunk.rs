//! One name, read from its end: capitalised words with the small words inside them.
//!
//! `van der Berg`, `A. Harrow`, `Harrow, A.`, `Okoro Jr.`, `Department of Light`, `National Lamp
//! Survey [NLS]`, and in a bracket a title in quotation marks in the place of an author.

use super::initials::{initials_start, without_initials_behind};
use super::names::Setting;
use super::tokens::{Kind, Token};
use super::vocabulary::{
    CONNECTIVES, DATES, FUNCTION, GROUP_HEADS, PARTICLES, PARTS, SURNAMES_TOO, listed,
};
use crate::text::locator::is_roman;

/// One name of a list.
#[derive(Debug, Clone)]
pub(super) struct Item {
    /// Its first token, initials included.
    pub first: usize,
    /// Its last token.
    pub last: usize,
    /// The name as written, without initials, in one line.
    pub name: String,
    /// `A.`, `A. B.`, or nothing.
    pub initials: String,
    /// The number of words.
    pub words: usize,
    /// Whether it holds *of*, *for* or the like.
    pub connected: bool,
    /// Whether it ends in a group's head noun.
    pub headed: bool,
}

/// The longest name in words; also bounds the work.
const MOST_WORDS: usize = 10;

/// The name that ends where the tokens end. `et_al` says that *et al.* follows, which makes a name of
/// what would else be a function word.
pub(super) fn item_before(
    content: &str,
    tokens: &[Token<'_>],
    setting: Setting,
    et_al: bool,
) -> Option<Item> {
    if setting == Setting::Bracket
        && let Some(title) = quoted_title(content, tokens)
    {
        return Some(title);
    }
    let tokens = without_abbreviation(tokens);
    let (tokens, behind) = without_initials_behind(content, tokens)?;
    let tokens = without_name_suffix(tokens);
    let mut chunk = Chunk {
        tokens,
        setting,
        first: tokens.len(),
        words: 0,
        connected: false,
        initials: None,
    };
    chunk.take_last(et_al)?;
    while chunk.words < MOST_WORDS && chunk.extend() {}
    chunk.drop_opening_word();
    chunk.finish(content, behind.as_deref())
}

/// A name while it is being read; `first` moves to the left.
struct Chunk<'t, 'a> {
    tokens: &'t [Token<'a>],
    setting: Setting,
    first: usize,
    words: usize,
    connected: bool,
    /// First and last token of the initials before the name.
    initials: Option<(usize, usize)>,
}

impl<'a> Chunk<'_, 'a> {
    fn before(&self, back: usize) -> Option<&Token<'a>> {
        self.tokens.get(self.first.checked_sub(back)?)
    }

    fn take_last(&mut self, et_al: bool) -> Option<()> {
        let last = self.before(1)?;
        let open = et_al || self.setting == Setting::Bracket;
        let surname_too = open && last.is_capitalised() && listed(SURNAMES_TOO, last.text);
        if !(surname_too || is_name(last, self.setting)) {
            return None;
        }
        // `World War II`, `plan B`. In scripts without capitals one character may be a name.
        let letter = last.text.chars().nth(1).is_none() && last.is_capitalised();
        if is_upper_roman(last.text) || letter {
            return None;
        }
        self.first -= 1;
        self.words = 1;
        Some(())
    }

    /// Takes one more piece on the left; false at the beginning of the name.
    fn extend(&mut self) -> bool {
        let Some(token) = self.before(1) else {
            return false;
        };
        match token.kind {
            _ if self.initials.is_some() => self.given_name(),
            Kind::Word if PARTICLES.binary_search(&token.text).is_ok() => self.particle(),
            Kind::Word if is_name(token, self.setting) => {
                self.first -= 1;
                self.words += 1;
                true
            }
            Kind::Word => self.connective(),
            Kind::Dot => self.saint() || self.initials_in_front(),
            _ => false,
        }
    }

    /// `van der` before a name. Inside a group `de` is more likely a connective, which `connective` knows.
    fn particle(&mut self) -> bool {
        if self.connective() {
            return true;
        }
        self.first -= 1;
        self.words += 1;
        true
    }

    /// *of*, *for the* between capitalised words; in prose only after a group's head noun, since
    /// `the View of Lindqvist (2014)` is not a group.
    fn connective(&mut self) -> bool {
        let small = |token: &Token<'_>| {
            let word = CONNECTIVES.binary_search(&token.text).is_ok();
            let capital = token.is_capitalised() && self.setting == Setting::Bracket;
            token.kind == Kind::Word && (word || (capital && listed(FUNCTION, token.text)))
        };
        let count = (1..=2)
            .take_while(|back| self.before(*back).is_some_and(small))
            .count();
        let Some(name) = self.before(count + 1).filter(|_| count > 0) else {
            return false;
        };
        let grouped = is_group_head(name.text)
            || (self.setting == Setting::Bracket && !listed(DATES, name.text));
        if !is_name(name, self.setting) || !grouped {
            return false;
        }
        // `Maria de Souza` is a person, not a group.
        let person = !is_group_head(name.text)
            && (1..=count).all(|back| {
                self.before(back)
                    .is_some_and(|token| PARTICLES.binary_search(&token.text).is_ok())
            });
        self.connected |= !person;
        self.first -= count + 1;
        self.words += count + 1;
        true
    }

    /// `St. Clair`
    fn saint(&mut self) -> bool {
        let saint = self
            .before(2)
            .is_some_and(|token| token.is_word("St") || token.is_word("Ste"));
        if saint {
            self.first -= 2;
        }
        saint
    }

    /// `A.`, `A. B.`, `J.-P.` before the name; the dot is known to stand there.
    fn initials_in_front(&mut self) -> bool {
        let start = initials_start(self.tokens, self.first);
        if start == self.first {
            return false;
        }
        self.initials = Some((start, self.first - 1));
        self.first = start;
        true
    }

    /// In `Ada B. Lindqvist` the word before the initials is a given name and belongs with them.
    fn given_name(&mut self) -> bool {
        let Some((_, last)) = self.initials else {
            return false;
        };
        let given = self
            .before(1)
            .is_some_and(|token| is_name(token, self.setting) && token.text.len() > 1);
        let place = self.before(2).is_some_and(|token| {
            ["in", "In", "at", "At", "from", "From", "of"].contains(&token.text)
        });
        if given && !place {
            self.first -= 1;
            self.words += 1;
            self.initials = Some((self.first, last));
        }
        // Nothing stands before a given name; the chunk ends here.
        self.words += MOST_WORDS;
        given && !place
    }

    /// `Following Lindqvist (2014)`, `Recently Okoro (2014)`: at the beginning of a sentence the first of
    /// several words is not a name if it has the form of a verb or adverb.
    fn drop_opening_word(&mut self) {
        let Some(word) = self.tokens.get(self.first) else {
            return;
        };
        let formed = ["ing", "ly", "ed"]
            .iter()
            .any(|end| word.text.ends_with(end));
        let opens = self.before(1).is_none_or(|token| {
            matches!(
                token.kind,
                Kind::Dot | Kind::Quote | Kind::Colon | Kind::Other
            )
        });
        let next = self.tokens.get(self.first + 1);
        let name_behind = next.is_some_and(|next| is_name(next, self.setting));
        let prose = self.setting == Setting::Prose && self.initials.is_none();
        if prose && formed && opens && name_behind && word.text.len() > 5 {
            self.first += 1;
        }
    }

    fn finish(self, content: &str, behind: Option<&str>) -> Option<Item> {
        let last = self.tokens.len().checked_sub(1)?;
        let name_first = self.initials.map_or(self.first, |(_, end)| end + 1);
        let headed = is_group_head(self.tokens.get(last)?.text);
        // `Lindqvist’s Night Lamps (1998)` is a work of Lindqvist’s, `Women’s Institute` one name.
        let owner = (name_first..last).find(|at| {
            let owns = |token: &Token<'_>| without_s(token.text).is_some();
            self.setting == Setting::Prose && !headed && self.tokens.get(*at).is_some_and(owns)
        });
        let (from, to) = (
            self.tokens.get(name_first)?,
            self.tokens.get(owner.unwrap_or(last))?,
        );
        let name = one_line(content.get(from.start..to.end)?);
        let name = without_s(&name).unwrap_or(&name).to_owned();
        let front = self.initials.and_then(|(start, end)| {
            let (from, to) = (self.tokens.get(start)?, self.tokens.get(end)?);
            content.get(from.start..to.end)
        });
        let words = self.tokens.len() - name_first;
        if words == 1 && listed(PARTS, &name) {
            return None;
        }
        Some(Item {
            first: self.first,
            last,
            initials: one_line(front.or(behind).unwrap_or_default()),
            words,
            connected: self.connected,
            headed: headed && words > 1,
            name,
        })
    }
}

/// The word before a possessive ending.
fn without_s(word: &str) -> Option<&str> {
    word.strip_suffix("'s").or_else(|| word.strip_suffix("’s"))
}

/// Blank space and line breaks become single blanks.
pub(super) fn one_line(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Whether the word is a noun like *department* or *society*.
pub(super) fn is_group_head(word: &str) -> bool {
    listed(GROUP_HEADS, word)
}

/// A capitalised word, or a capital after a short prefix (`al-Amin`, `d’Arco`), that is not a function word.
/// Scripts without capitals are accepted in a bracket, where a year is evidence enough.
fn is_name(token: &Token<'_>, setting: Setting) -> bool {
    let Some(first) = token
        .text
        .chars()
        .next()
        .filter(|_| token.kind == Kind::Word)
    else {
        return false;
    };
    if first.is_uppercase() {
        // `LN5`, `B12`: codes.
        let code = token.text.contains(|c: char| c.is_ascii_digit())
            && !token.text.contains(char::is_lowercase);
        return !code && !listed(FUNCTION, token.text);
    }
    if !first.is_lowercase() {
        return setting == Setting::Bracket;
    }
    token
        .text
        .split_once(['-', '‐', '‑', '\'', '’'])
        .is_some_and(|(prefix, rest)| prefix.len() <= 3 && rest.starts_with(char::is_uppercase))
}

/// `II` of `World War II` and the like.
fn is_upper_roman(word: &str) -> bool {
    word.bytes().all(|byte| byte.is_ascii_uppercase()) && is_roman(word)
}

/// `[NLS]` after a group's name (published: APA 7 section 8.21).
fn without_abbreviation<'t, 'a>(tokens: &'t [Token<'a>]) -> &'t [Token<'a>] {
    match tokens {
        [before @ .., open, word, close]
            if open.kind == Kind::Open && word.kind == Kind::Word && close.kind == Kind::Close =>
        {
            before
        }
        _ => tokens,
    }
}

/// `Okoro Jr.`, `Okoro, Sr.`
fn without_name_suffix<'t, 'a>(tokens: &'t [Token<'a>]) -> &'t [Token<'a>] {
    let undotted = match tokens {
        [before @ .., dot] if dot.kind == Kind::Dot => before,
        _ => tokens,
    };
    match undotted {
        [before @ .., comma, suffix] if comma.kind == Kind::Comma && is_name_suffix(suffix) => {
            before
        }
        [before @ .., suffix] if is_name_suffix(suffix) => before,
        _ => tokens,
    }
}

fn is_name_suffix(token: &Token<'_>) -> bool {
    token.is_word("Jr") || token.is_word("Sr")
}

/// A title in quotation marks that stands for an author: `(“Night Lamps,” 2019)` (published: APA 7
/// section 8.14).
fn quoted_title(content: &str, tokens: &[Token<'_>]) -> Option<Item> {
    let (close, before) = tokens.split_last()?;
    if close.kind != Kind::Quote {
        return None;
    }
    let back = before
        .iter()
        .rev()
        .take(25)
        .position(|token| token.kind == Kind::Quote)?;
    let first = before.len() - 1 - back;
    let open = before.get(first)?;
    let inside = one_line(content.get(open.end..close.start)?);
    let name = inside.trim_end_matches([',', '.']).to_owned();
    name.starts_with(char::is_uppercase).then(|| Item {
        first,
        last: tokens.len() - 1,
        initials: String::new(),
        words: back,
        connected: false,
        headed: false,
        name,
    })
}
