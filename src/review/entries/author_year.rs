//! Reads a heading such as `Harrow & Okoro (2014)` or `Harrow, A., & Okoro, B. (2014). Moths` as names
//! and a year. A heading is looser than a citation, so there may be several readings; the one that
//! resolves is the right one.

use crate::text::{CiteTarget, Year};

/// What a heading may say.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct AuthorYear {
    /// The ways to read its names, the likeliest first.
    pub(super) readings: Vec<CiteTarget>,
    /// Whether every name is written with a capital, as names are.
    pub(super) capitals: bool,
    /// Whether the year stands in parentheses or behind a comma, as in a citation.
    pub(super) set_off: bool,
}

/// Names and year of a heading; `None` where it has no year with a name before it.
pub(super) fn of_heading(text: &str) -> Option<AuthorYear> {
    let (before, year) = split_at_year(text)?;
    let set_off = before.trim_end().ends_with(['(', '[', ',']);
    let names =
        before.trim_matches(|letter: char| letter.is_whitespace() || ",;:([{*_#".contains(letter));
    let (names, et_al) = strip_et_al(names);
    if !names.chars().any(char::is_alphabetic) {
        return None;
    }
    let target = |people: Vec<(String, String)>| {
        let (names, initials) = people.into_iter().unzip();
        CiteTarget::Author {
            names,
            initials,
            et_al,
            year: Some(year.clone()),
        }
    };
    let mut readings = vec![target(listed(names))];
    for reading in [
        pairs(names),
        given_first(names),
        Some(vec![(names.to_owned(), String::new())]),
    ] {
        readings.extend(
            reading
                .map(&target)
                .filter(|reading| !readings.contains(reading)),
        );
    }
    Some(AuthorYear {
        readings,
        capitals: capitals(names),
        set_off,
    })
}

/// The text before the first year, and the year.
fn split_at_year(text: &str) -> Option<(&str, Year)> {
    let mut from = 0;
    for word in text.split_inclusive(|letter: char| {
        !(letter.is_alphanumeric() || letter == '.' || letter == '-')
    }) {
        let start = from;
        from += word.len();
        let bare = word.trim_end_matches(|letter: char| !letter.is_alphanumeric());
        let before = text.get(..start)?;
        if let Some(year) = year(bare)
            && before.chars().any(char::is_alphabetic)
        {
            return Some((before, year));
        }
    }
    None
}

fn year(word: &str) -> Option<Year> {
    let made = |number, suffix| Year {
        number,
        suffix,
        written: word.to_owned(),
    };
    let lower = word.to_ascii_lowercase();
    if let Some(rest) = lower.strip_prefix("n.d") {
        let suffix = rest.trim_start_matches(['.', '-']);
        return (suffix.len() <= 1).then(|| {
            made(
                None,
                suffix.chars().next().filter(char::is_ascii_alphabetic),
            )
        });
    }
    let (digits, rest) = word.split_at_checked(4)?;
    let all_digits = digits.bytes().all(|byte| byte.is_ascii_digit());
    let number = digits.parse().ok().filter(|_| all_digits)?;
    let mut letters = rest.chars();
    match (letters.next(), letters.next()) {
        (None, _) => Some(made(Some(number), None)),
        (Some(letter), None) if letter.is_ascii_alphabetic() => {
            Some(made(Some(number), Some(letter.to_ascii_lowercase())))
        }
        _ => None,
    }
}

fn strip_et_al(names: &str) -> (&str, bool) {
    let lower = names.to_ascii_lowercase(); // same length in bytes
    ["et al.", "et al", "and others", "and colleagues", "u. a."]
        .iter()
        .filter(|words| lower.ends_with(*words))
        .find_map(|words| names.get(..names.len() - words.len()))
        .map_or((names, false), |rest| {
            (rest.trim_end_matches([' ', ',']), true)
        })
}

/// Names between commas, `&` and *and*, initials behind their names: `Harrow, A., & Okoro, B.`
fn listed(names: &str) -> Vec<(String, String)> {
    let mut people: Vec<(String, String)> = Vec::new();
    for part in parts(names).flat_map(|part| part.split(',')) {
        let part = part.trim();
        if part.is_empty() {
            continue;
        }
        match people.last_mut() {
            Some((_, initials)) if initials.is_empty() && is_initials(part) => {
                part.clone_into(initials)
            }
            _ => people.push((part.to_owned(), String::new())),
        }
    }
    people
}

/// `Harrow, Anna; Okoro, Ben`: a comma in every part.
fn pairs(names: &str) -> Option<Vec<(String, String)>> {
    parts(names)
        .map(|part| part.trim_matches([' ', ',']))
        .filter(|part| !part.is_empty())
        .map(|part| {
            let (family, given) = part.split_once(',')?;
            Some((family.trim().to_owned(), given.trim().to_owned()))
        })
        .collect()
}

/// `Anna Harrow and Ben Okoro`: the last word of each is the family name.
fn given_first(names: &str) -> Option<Vec<(String, String)>> {
    if !capitals(names) {
        return None;
    }
    let people: Vec<_> = listed(names)
        .into_iter()
        .map(|(name, initials)| match name.rsplit_once(' ') {
            Some((given, family)) => (family.to_owned(), given.to_owned()),
            None => (name, initials),
        })
        .collect();
    Some(people)
}

fn parts(names: &str) -> impl Iterator<Item = &str> {
    names
        .split(['&', ';', '/'])
        .flat_map(|part| part.split(" and "))
}

fn is_initials(part: &str) -> bool {
    part.split([' ', '.', '-'])
        .all(|piece| piece.chars().count() <= 1)
        && part.chars().any(char::is_alphabetic)
}

/// Whether every word is one that names are made of: with a capital, or short and small (particles,
/// *and*).
fn capitals(names: &str) -> bool {
    names
        .split(|letter: char| letter.is_whitespace() || matches!(letter, '-' | '/'))
        .all(|word| {
            let first = word.chars().find(|letter| letter.is_alphanumeric());
            first.is_none_or(char::is_uppercase)
                || [
                    "and", "de", "del", "della", "den", "der", "di", "du", "la", "of", "the",
                    "for", "ten", "ter", "van", "von", "al",
                ]
                .contains(&word)
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn first(text: &str) -> Option<(String, String, bool, String)> {
        let found = of_heading(text)?;
        let CiteTarget::Author {
            names,
            initials,
            et_al,
            year,
        } = found.readings.into_iter().next()?
        else {
            return None;
        };
        Some((names.join("|"), initials.join("|"), et_al, year?.written))
    }

    #[test]
    fn headings_are_read() {
        for (text, names, initials, et_al, year) in [
            ("Harrow (2019a)", "Harrow", "", false, "2019a"),
            ("Harrow & Okoro, 2014", "Harrow|Okoro", "|", false, "2014"),
            (
                "Harrow et al. (2014): Moths in 1999",
                "Harrow",
                "",
                true,
                "2014",
            ),
            (
                "Harrow, A. M., & Okoro, B. (2014). Moths.",
                "Harrow|Okoro",
                "A. M.|B.",
                false,
                "2014",
            ),
            (
                "van der Berg and Lind 2016",
                "van der Berg|Lind",
                "|",
                false,
                "2016",
            ),
            ("Tarn (n.d.)", "Tarn", "", false, "n.d"),
            ("Müller-Ort (2012)", "Müller-Ort", "", false, "2012"),
        ] {
            let wanted = (
                names.to_owned(),
                initials.to_owned(),
                et_al,
                year.to_owned(),
            );
            assert_eq!(first(text), Some(wanted), "{text}");
        }
        for text in [
            "Summary",
            "2019",
            "(2019) Harrow",
            "Harrow",
            "Harrow 20195",
            "harrow2019",
            "",
        ] {
            assert_eq!(first(text), None, "{text}");
        }
    }

    #[test]
    fn other_readings_follow() {
        let has = |text: &str, names: &[&str]| {
            of_heading(text).unwrap().readings.iter().any(|reading| {
                matches!(reading, CiteTarget::Author { names: found, .. } if found == names)
            })
        };
        assert!(has("Harrow, Anna; Okoro, Ben (2014)", &["Harrow", "Okoro"]));
        assert!(has(
            "Anna Harrow and Ben Okoro (2014)",
            &["Harrow", "Okoro"]
        ));
        assert!(has(
            "Parks and Gardens Board (2014)",
            &["Parks and Gardens Board"]
        ));
    }

    #[test]
    fn the_shape_tells_citations_from_prose() {
        for (text, capitals, set_off) in [
            ("Harrow (2019)", true, true),
            ("van der Berg, 2019", true, true),
            ("Lighting policy since 2012", false, false),
            ("What changed (2012)", false, true),
            ("March 2019", true, false),
        ] {
            let found = of_heading(text).unwrap();
            assert_eq!(
                (found.capitals, found.set_off),
                (capitals, set_off),
                "{text}"
            );
        }
    }

    proptest::proptest! {
        #[test]
        fn any_heading_is_read_without_panic(text in "\\PC*|([A-Zé][a-zé.]{0,4}|[ ,;&()-]| and |et al\\.|2019|n\\.d\\.){0,12}") {
            let _ = of_heading(&text);
        }
    }
}
