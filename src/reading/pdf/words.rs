//! Glyphs to words.
//!
//! 1. What is drawn twice for boldness counts once, and text without ink counts only where it is the text
//!    behind a scan ([`wanted`]).
//! 2. An accent drawn over a letter is combined with it ([`compose_accents`]).
//! 3. Glyphs that follow one another in the file and on the same baseline make a word, up to a blank or a
//!    gap.

use unicode_normalization::char::compose;

use super::glyphs::{Glyph, Shown, Turn};

/// A word or part of one, without blanks.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Word {
    pub text: String,
    /// Left and right end, in points.
    pub x: f32,
    pub end: f32,
    /// The baseline, downwards from the top of the page.
    pub y: f32,
    /// Size of the type: the largest of its glyphs.
    pub size: f32,
    pub bold: bool,
    /// Whether it is raised above the baseline of its line, as calls of footnotes are; set when lines are
    /// made.
    pub raised: bool,
    /// Whether the file has a blank before it.
    pub blank_before: bool,
    /// The sheet's footnote, counted from 0, that it calls. It is then not text.
    pub call: Option<usize>,
}

/// A gap wider than this share of the type's size separates two words where there is no blank. Blanks of
/// justified lines seldom shrink below 0.2; kerning seldom opens 0.1. Our own calibration on the files of the
/// outside checks.
pub(super) const WORD_GAP: f32 = 0.13;

/// The replacement for a character that the font doesn't name.
pub(super) const UNKNOWN: char = '\u{FFFD}';

/// The glyphs of one direction that are text: those with ink, or those without where most of the page has
/// none.
pub(super) fn wanted(glyphs: &[Glyph], turn: Turn) -> Vec<Glyph> {
    let hidden = glyphs.iter().filter(|glyph| glyph.invisible).count();
    let use_hidden = 2 * hidden > glyphs.len();
    let mut kept: Vec<Glyph> = Vec::with_capacity(glyphs.len());
    for glyph in glyphs {
        if glyph.turn != turn || (glyph.invisible && !use_hidden) {
            continue;
        }
        // Boldness is made by drawing a glyph, a word or a line again, slightly shifted. Comparing with what
        // came just before finds the first two.
        let twice = kept.iter().rev().take(24).any(|before| {
            before.shown == glyph.shown
                && (before.x - glyph.x).abs() < 0.12 * glyph.size
                && (before.y - glyph.y).abs() < 0.12 * glyph.size
                && glyph.end > glyph.x
                && before.shown != Shown::Char(' ')
        });
        if !twice {
            kept.push(glyph.clone());
        }
    }
    kept
}

/// The combining form of an accent that is drawn by itself.
fn combining(c: char) -> Option<char> {
    Some(match c {
        '`' | 'ˋ' => '\u{300}',
        '´' | 'ˊ' => '\u{301}',
        'ˆ' | '^' => '\u{302}',
        '˜' | '~' => '\u{303}',
        '¯' | 'ˉ' => '\u{304}',
        '˘' => '\u{306}',
        '˙' => '\u{307}',
        '¨' => '\u{308}',
        '˚' | '°' => '\u{30A}',
        '˝' => '\u{30B}',
        'ˇ' => '\u{30C}',
        '¸' => '\u{327}',
        '˛' => '\u{328}',
        '\u{300}'..='\u{304}' | '\u{306}'..='\u{308}' | '\u{30A}'..='\u{30C}' => c,
        '\u{327}' | '\u{328}' => c,
        _ => return None,
    })
}

/// Combines accents with the letters below them.
pub(super) fn compose_accents(glyphs: Vec<Glyph>) -> Vec<Glyph> {
    let mut composed: Vec<Glyph> = Vec::with_capacity(glyphs.len());
    let mut accent: Option<(char, Glyph)> = None;
    for glyph in glyphs {
        if let Some((mark, drawn)) = accent.take() {
            match over(mark, &drawn, &glyph) {
                Some(both) => {
                    composed.push(both);
                    continue;
                }
                None => match composed
                    .last_mut()
                    .and_then(|last| over(mark, &drawn, last))
                {
                    Some(both) => {
                        composed.pop();
                        composed.push(both);
                    }
                    None => composed.push(drawn),
                },
            }
        }
        match glyph.shown {
            Shown::Char(c) => match combining(c) {
                Some(mark) => accent = Some((mark, glyph)),
                None => composed.push(glyph),
            },
            _ => composed.push(glyph),
        }
    }
    if let Some((mark, drawn)) = accent {
        match composed.last().and_then(|last| over(mark, &drawn, last)) {
            Some(both) => {
                composed.pop();
                composed.push(both);
            }
            None => composed.push(drawn),
        }
    }
    composed
}

/// A letter with an accent, if the accent is drawn over it.
fn over(mark: char, accent: &Glyph, letter: &Glyph) -> Option<Glyph> {
    let Shown::Char(base) = letter.shown else {
        return None;
    };
    let base = match base {
        'ı' => 'i',
        'ȷ' => 'j',
        base => base,
    };
    let shared = accent.end.min(letter.end) - accent.x.max(letter.x);
    let narrower = (accent.end - accent.x).min(letter.end - letter.x).max(0.1);
    let near = (accent.y - letter.y).abs() < 0.6 * letter.size;
    let fits = base.is_alphabetic() && near && shared > 0.5 * narrower;
    let both = compose(base, mark).filter(|_| fits)?;
    Some(Glyph {
        shown: Shown::Char(both),
        ..letter.clone()
    })
}

/// Words in the order of the file. `by_code` reads glyphs without a character as the character of their code.
pub(super) fn words(glyphs: Vec<Glyph>, by_code: bool) -> Vec<Word> {
    let mut words: Vec<Word> = Vec::new();
    let mut open = false;
    let mut blank = false;
    for glyph in glyphs {
        // An accent left alone belongs to a formula and is not a word.
        if matches!(
            glyph.shown,
            Shown::Char('ˆ' | '˜' | '¯' | '˘' | '˙' | '¨' | 'ˇ' | '˝')
        ) {
            continue;
        }
        let text = written(&glyph.shown, by_code);
        if text.chars().all(char::is_whitespace) {
            open = false;
            blank = true;
            continue;
        }
        let follows = open && words.last().is_some_and(|word| goes_on(word, &glyph));
        match words.last_mut() {
            Some(word) if follows => {
                word.text.push_str(&text);
                word.end = word.end.max(glyph.end);
                word.size = word.size.max(glyph.size);
            }
            _ => words.push(Word {
                text,
                x: glyph.x,
                end: glyph.end,
                y: glyph.y,
                size: glyph.size,
                bold: glyph.bold,
                raised: false,
                blank_before: blank,
                call: None,
            }),
        }
        open = true;
        blank = false;
    }
    words
}

fn goes_on(word: &Word, glyph: &Glyph) -> bool {
    let size = word.size.min(glyph.size);
    let gap = glyph.x - word.end;
    (glyph.y - word.y).abs() < 0.1 * size && gap < WORD_GAP * size && gap > -0.6 * size
}

fn written(shown: &Shown, by_code: bool) -> String {
    match shown {
        Shown::Char('\u{A0}') => " ".to_owned(),
        Shown::Char(c) => c.to_string(),
        Shown::Chars(text) => text.to_string(),
        Shown::Code(code) if by_code => of_code(*code),
        Shown::Code(_) => UNKNOWN.to_string(),
    }
}

/// The character of a code in fonts that name none. These are bitmap fonts of typesetting programs, which put
/// ligatures and signs where control characters are (Cork and Knuth's encodings, as published).
fn of_code(code: u32) -> String {
    let sign = match code {
        0x0B | 0x1B => "ff",
        0x0C | 0x1C => "fi",
        0x0D | 0x1D => "fl",
        0x0E | 0x1E => "ffi",
        0x0F | 0x1F => "ffl",
        0x10 => "“",
        0x11 => "”",
        0x15 => "–",
        0x16 => "—",
        0x7F => "-",
        _ => {
            let c = char::from_u32(code).filter(|c| !c.is_control());
            return c.unwrap_or(' ').to_string();
        }
    };
    sign.to_owned()
}
