//! A footnote cut into pieces that may each be a citation: at semicolons, and between sentences, but
//! not inside brackets or quotation marks.

use super::ByteRange;

/// The pieces of a footnote in order, without the blank space and the full stop at their ends.
pub(in crate::text::citations) fn pieces(content: &str, note: ByteRange) -> Vec<ByteRange> {
    let text = content.get(note.as_range()).unwrap_or_default();
    let mut pieces = Vec::new();
    let mut nesting = Nesting::default();
    let mut from = 0;
    let mut characters = text.char_indices().peekable();
    while let Some((at, c)) = characters.next() {
        nesting.take(c);
        let next = characters.peek().map(|(_, next)| *next);
        let blank = next.is_some_and(char::is_whitespace);
        let behind = at + c.len_utf8();
        let cut = match c {
            ';' => !nesting.inside(),
            '.' | '!' | '?' => !nesting.inside() && blank && is_between_sentences(text, at, behind),
            // `“Moths.” See also ...`
            '”' | '"' | '»' | ')' => {
                let stopped = text
                    .get(..at)
                    .is_some_and(|text| text.ends_with(['.', '!', '?']));
                stopped && blank && !nesting.inside() && begins_sentence(text, behind)
            }
            _ => false,
        };
        if cut {
            pieces.push((from, at + if c == ';' { 0 } else { c.len_utf8() }));
            from = behind;
        }
    }
    pieces.push((from, text.len()));
    pieces
        .into_iter()
        .filter_map(|(from, to)| solid(text, from, to, note.start()))
        .collect()
}

/// A stretch without the blank space around it and the full stop after it.
fn solid(text: &str, from: usize, to: usize, offset: usize) -> Option<ByteRange> {
    let piece = text.get(from..to)?;
    let lead = piece.len() - piece.trim_start().len();
    let mut solid = piece.trim();
    // `47 ff.` and `u. a.` keep theirs.
    if let Some(stripped) = solid.strip_suffix('.')
        && !stripped.ends_with(" ff")
        && !stripped.ends_with(" f")
    {
        solid = stripped;
    }
    let start = offset + from + lead;
    (!solid.is_empty()).then(|| ByteRange::of(start, start + solid.len()))
}

#[derive(Default)]
struct Nesting {
    brackets: u32,
    quotes: u32,
    straight: bool,
}

impl Nesting {
    fn take(&mut self, c: char) {
        match c {
            '(' | '[' => self.brackets = self.brackets.saturating_add(1),
            ')' | ']' => self.brackets = self.brackets.saturating_sub(1),
            '“' if self.quotes == 0 => self.quotes = 1,
            // In German the mark that closes looks like the English opening one.
            '“' | '”' | '»' => self.quotes = 0,
            '„' | '«' => self.quotes = 1,
            '"' => self.straight = !self.straight,
            _ => {}
        }
    }

    fn inside(&self) -> bool {
        self.brackets > 0 || self.quotes > 0 || self.straight
    }
}

/// Whether the mark at a place ends a sentence: before it a word of four letters and more, a number or a
/// bracket, and after it a capital. Shorter words before it are more likely short forms (`ed.`, `Vol.`).
fn is_between_sentences(text: &str, at: usize, behind: usize) -> bool {
    let Some(before) = text.get(..at) else {
        return false;
    };
    let word = before
        .rsplit(|c: char| !c.is_alphanumeric())
        .next()
        .unwrap_or_default();
    let number = word.starts_with(|c: char| c.is_ascii_digit()) && word.len() >= 2;
    let short = SHORT.iter().any(|short| short.eq_ignore_ascii_case(word));
    // `no. 3`: a number after a short form; a lone digit may be an edition (`2. Auflage`).
    let long = word.chars().count() >= 4 && !short;
    let place = before.ends_with([')', ']', '”', '"', '»'])
        || is_locator_end(before)
        || ["ibid", "Ibid", "cit", "ebd", "Ebd", "ff"].contains(&word);
    (number || long || place) && begins_sentence(text, behind)
}

/// Short forms of four letters and more that stand before a name or number.
const SHORT: [&str; 9] = [
    "chap", "diss", "hrsg", "illus", "prof", "repr", "sect", "supp", "trans",
];

/// `, 4.`: a page of one digit.
fn is_locator_end(before: &str) -> bool {
    let digits = before.trim_end_matches(|c: char| c.is_ascii_digit());
    let lead = digits.trim_end();
    digits.len() < before.len()
        && (lead.ends_with([',', ':', 'p', 'S', '–', '-']) || lead.ends_with("p."))
}

fn begins_sentence(text: &str, behind: usize) -> bool {
    text.get(behind..)
        .map(str::trim_start)
        .and_then(|rest| rest.chars().next())
        .is_some_and(|c| c.is_uppercase() || matches!(c, '“' | '"' | '„' | '«' | '»' | '‘'))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn notes_are_cut_between_works() {
        let cases: &[(&str, &[&str])] = &[
            (
                "Lindqvist, Dark Street, 47.",
                &["Lindqvist, Dark Street, 47"],
            ),
            (
                "A. B. Harrow, “Moths. A Life; a Light,” Night 12, no. 3 (2014): 4. See also Okoro, Lamps, 9; Vane, Streets, 3.",
                &[
                    "A. B. Harrow, “Moths. A Life; a Light,” Night 12, no. 3 (2014): 4",
                    "See also Okoro, Lamps, 9",
                    "Vane, Streets, 3",
                ],
            ),
            (
                "Ada Lindqvist, Lamps, ed. Ben Okoro, 2nd ed. (Harbour Press, 2014).",
                &["Ada Lindqvist, Lamps, ed. Ben Okoro, 2nd ed. (Harbour Press, 2014)"],
            ),
            ("Ibid. The lamps were dim.", &["Ibid", "The lamps were dim"]),
            (
                "Vgl. Lindqvist 2014, S. 47 ff.",
                &["Vgl. Lindqvist 2014, S. 47 ff."],
            ),
            ("", &[]),
            (" ; ; ", &[]),
            ("“Moths.” Lamps.", &["“Moths.”", "Lamps"]),
        ];
        for (note, wanted) in cases {
            let found: Vec<&str> = pieces(note, ByteRange::of(0, note.len()))
                .into_iter()
                .map(|piece| &note[piece.as_range()])
                .collect();
            assert_eq!(found, *wanted, "{note}");
        }
    }
}
