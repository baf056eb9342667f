//! The words and signs of a stretch of text, as the citation readers see them.
//!
//! A token is finer than a word of prose where that helps (`n.d.` is four tokens) and coarser where
//! names need it (`al-Amin`, `O’Neil` and `Lindqvist’s` are one each).

/// What a token is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// Begins with a letter.
    Word,
    /// Begins with an ASCII digit: `2014`, `2019a`.
    Number,
    Comma,
    Semicolon,
    Colon,
    Dot,
    /// `&`
    Amp,
    Slash,
    /// A hyphen or dash that stands between words, not inside one.
    Dash,
    /// `[`
    Open,
    /// `]`
    Close,
    /// Any quotation mark or lone apostrophe.
    Quote,
    Other,
}

/// One token with its place in the content.
#[derive(Debug, Clone, Copy)]
pub(super) struct Token<'a> {
    pub kind: Kind,
    pub text: &'a str,
    pub start: usize,
    pub end: usize,
}

impl Token<'_> {
    /// Whether this is exactly the given word.
    pub(super) fn is_word(&self, word: &str) -> bool {
        self.kind == Kind::Word && self.text == word
    }

    /// Whether the token begins with a capital letter.
    pub(super) fn is_capitalised(&self) -> bool {
        self.text.starts_with(char::is_uppercase)
    }
}

/// The tokens of `content[from..to]`; none where that is not a stretch of the content.
pub(super) fn tokens(content: &str, from: usize, to: usize) -> Vec<Token<'_>> {
    let mut rest = content.get(from..to).unwrap_or_default();
    let mut at = from;
    let mut found = Vec::with_capacity(rest.len() / 5);
    while let Some(first) = rest.chars().next() {
        let (kind, length) = match first {
            _ if first.is_alphabetic() => (Kind::Word, word_length(rest)),
            '0'..='9' => (Kind::Number, number_length(rest)),
            _ => (sign(first), first.len_utf8()),
        };
        // Lengths are sums of whole characters of `rest`.
        let (text, behind) = rest.split_at(length);
        if !first.is_whitespace() {
            found.push(Token {
                kind,
                text,
                start: at,
                end: at + length,
            });
        }
        at += length;
        rest = behind;
    }
    found
}

fn sign(c: char) -> Kind {
    match c {
        ',' => Kind::Comma,
        ';' => Kind::Semicolon,
        ':' => Kind::Colon,
        '.' => Kind::Dot,
        '&' => Kind::Amp,
        '/' => Kind::Slash,
        '-' | '‐' | '‑' | '‒' | '–' | '—' | '−' => Kind::Dash,
        '[' => Kind::Open,
        ']' => Kind::Close,
        _ if is_quote(c) => Kind::Quote,
        _ => Kind::Other,
    }
}

/// Whether the character serves as a quotation mark (or apostrophe) in some language.
pub(super) fn is_quote(c: char) -> bool {
    matches!(
        c,
        '"' | '\'' | '“' | '”' | '„' | '‟' | '‘' | '’' | '‚' | '«' | '»' | '‹' | '›'
    )
}

/// Letters and digits, with hyphens and apostrophes that have a letter after them.
fn word_length(text: &str) -> usize {
    let mut characters = text.char_indices().peekable();
    while let Some((at, c)) = characters.next() {
        let joint = matches!(c, '-' | '‐' | '‑' | '\'' | '’' | 'ʼ');
        let letter_behind = || {
            let mut ahead = characters.clone();
            ahead.next().is_some_and(|(_, c)| c.is_alphabetic())
        };
        if !(is_inside_word(c) || joint && letter_behind()) {
            return at;
        }
    }
    text.len()
}

/// Letters, digits, combining accents and the soft hyphen.
fn is_inside_word(c: char) -> bool {
    c.is_alphanumeric() || matches!(c, '\u{300}'..='\u{36f}' | '\u{ad}')
}

fn number_length(text: &str) -> usize {
    text.find(|c: char| !c.is_alphanumeric())
        .unwrap_or(text.len())
}
