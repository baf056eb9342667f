//! Whether stretches of page labels cover the pages on which some words stand.
//!
//! Labels fall into series that count separately: Arabic numbers, Roman numerals, numbers after the same
//! letters. Within a series a page in the middle of a stretch is covered. Across series (from `xvi` to `1`)
//! it is unknown what lies between, so the two ends have to be covered.

/// A label as a place in its series.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Place {
    Arabic(u32),
    Roman(u32),
    Lettered(String, u32),
    Named(String),
}

impl Place {
    fn of(label: &str) -> Self {
        let label = label.trim().to_lowercase();
        if let Ok(number) = label.parse() {
            return Self::Arabic(number);
        }
        if let Some(number) = roman(&label) {
            return Self::Roman(number);
        }
        let letters = label.trim_end_matches(|c: char| c.is_ascii_digit());
        match label.strip_prefix(letters).map(str::parse) {
            Some(Ok(number)) => Self::Lettered(letters.to_owned(), number),
            _ => Self::Named(label),
        }
    }

    /// The number, and whether the other label belongs to the same series.
    fn number_beside(&self, other: &Self) -> Option<u32> {
        match (self, other) {
            (Self::Arabic(number), Self::Arabic(_)) | (Self::Roman(number), Self::Roman(_)) => {
                Some(*number)
            }
            (Self::Lettered(mine, number), Self::Lettered(theirs, _)) if mine == theirs => {
                Some(*number)
            }
            _ => None,
        }
    }
}

/// Whether every page from `first` to `last` lies in a stretch. An empty end of a stretch is open.
pub(super) fn covers(stretches: &[(String, String)], first: &str, last: &str) -> bool {
    let (first, last) = (Place::of(first), Place::of(last));
    match (first.number_beside(&last), last.number_beside(&first)) {
        (Some(from), Some(to)) => run_covered(stretches, &first, from, to),
        _ => [&first, &last]
            .iter()
            .all(|place| place_covered(stretches, place)),
    }
}

/// Goes from page to page through whichever stretch continues, since one stretch may end where the next
/// begins (`pp. 3–4, 5`).
fn run_covered(stretches: &[(String, String)], series: &Place, from: u32, to: u32) -> bool {
    let mut spans: Vec<(u32, u32)> = stretches
        .iter()
        .filter_map(|stretch| span_in(stretch, series))
        .collect();
    spans.sort_unstable();
    let mut wanted = from;
    for (start, end) in spans {
        if start <= wanted && wanted <= end {
            if end >= to {
                return true;
            }
            wanted = end.saturating_add(1);
        }
    }
    false
}

/// A stretch as numbers of the given series.
fn span_in((first, last): &(String, String), series: &Place) -> Option<(u32, u32)> {
    let start = Place::of(first).number_beside(series)?;
    if last.is_empty() {
        return Some((start, u32::MAX));
    }
    let end = Place::of(last).number_beside(series)?;
    Some((start.min(end), start.max(end)))
}

fn place_covered(stretches: &[(String, String)], place: &Place) -> bool {
    match place.number_beside(place) {
        Some(number) => run_covered(stretches, place, number, number),
        None => stretches
            .iter()
            .any(|(first, last)| Place::of(first) == *place || Place::of(last) == *place),
    }
}

/// The value of a Roman numeral in its canonical spelling, in either case; `None` for other words.
pub(super) fn roman(word: &str) -> Option<u32> {
    // The longest canonical numeral, mmmdccclxxxviii, has 15 letters.
    if word.is_empty() || word.len() > 15 {
        return None;
    }
    let word = word.to_ascii_lowercase();
    let (mut value, mut before) = (0_u32, 0_u32);
    for sign in word.bytes().rev() {
        let worth = match sign {
            b'i' => 1,
            b'v' => 5,
            b'x' => 10,
            b'l' => 50,
            b'c' => 100,
            b'd' => 500,
            b'm' => 1000,
            _ => return None,
        };
        value = if worth < before {
            value.checked_sub(worth)?
        } else {
            value + worth
        };
        before = worth;
    }
    is_canonical(value, &word).then_some(value)
}

/// Whether the value written out gives the same word: `ixi` and `vix` add up, but are not numerals.
fn is_canonical(value: u32, word: &str) -> bool {
    const DIGITS: [[&str; 10]; 4] = [
        ["", "i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix"],
        ["", "x", "xx", "xxx", "xl", "l", "lx", "lxx", "lxxx", "xc"],
        ["", "c", "cc", "ccc", "cd", "d", "dc", "dcc", "dccc", "cm"],
        ["", "m", "mm", "mmm", "", "", "", "", "", ""],
    ];
    let digit = |place: usize, worth: u32| {
        DIGITS
            .get(place)
            .and_then(|row| row.get((value / worth % 10) as usize))
            .copied()
            .unwrap_or_default()
    };
    let parts = [digit(3, 1000), digit(2, 100), digit(1, 10), digit(0, 1)];
    parts.concat() == word
}
