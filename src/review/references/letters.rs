//! The letters of works by the same authors in the same year (2019a, 2019b).

use std::collections::BTreeMap;

use super::{Key, Reference, names};

/// Gives letters where several works have the same authors and year and none of them has a letter:
/// a, b, c in order of their titles, a leading article passed over (common practice of author-date
/// styles; from memory, APA 7 section 9.47). Works beyond the letter z stay without.
pub(super) fn assign(references: &mut BTreeMap<Key, Reference>) {
    let mut groups: BTreeMap<AuthorsAndYear, Vec<(String, Key)>> = BTreeMap::new();
    for reference in references.values() {
        if reference.authors.is_empty() {
            continue;
        }
        let authors = reference
            .authors
            .iter()
            .map(|person| names::fold(&format!("{}, {}", person.family, person.given)))
            .collect();
        groups
            .entry((authors, reference.year))
            .or_default()
            .push((sort_title(&reference.title), reference.key.clone()));
    }
    for mut works in groups.into_values() {
        let lettered = |key: &Key| {
            references
                .get(key)
                .is_some_and(|work| work.suffix.is_some())
        };
        if works.len() < 2 || works.iter().any(|(_, key)| lettered(key)) {
            continue;
        }
        works.sort();
        // The same work under two keys has one letter, or none where there is no other.
        let titles: Vec<&[(String, Key)]> = works
            .chunk_by(|(one, _), (other, _)| one == other)
            .collect();
        if titles.len() < 2 {
            continue;
        }
        for (same, letter) in titles.into_iter().zip('a'..='z') {
            for (_, key) in same {
                if let Some(reference) = references.get_mut(key) {
                    reference.suffix = Some(letter);
                }
            }
        }
    }
}

/// Folded names in order, and the year.
type AuthorsAndYear = (Vec<String>, Option<i32>);

/// The folded title without a leading article.
fn sort_title(title: &str) -> String {
    let folded = names::fold(title);
    ["a ", "an ", "the "]
        .iter()
        .find_map(|article| folded.strip_prefix(article))
        .map_or(folded.clone(), str::to_owned)
}

/// The letter that a key ends in behind the year: `harrow2019a` with 2019 gives `a`.
pub(super) fn letter_of_key(key: &str, year: Option<i32>) -> Option<char> {
    let letter = key.chars().next_back()?;
    let before = key.strip_suffix(letter)?;
    let year = year?.to_string();
    (letter.is_ascii_lowercase() && before.ends_with(&year)).then_some(letter)
}

/// A year as bibliographies write it, with the letter that may follow: the first run of three or four
/// digits (`2019a`, `c. 1850`, `2019-05-02`, `-0044`), or nothing (`n.d.`, `in press`).
pub(super) fn year_and_letter(written: &str) -> (Option<i32>, Option<char>) {
    let is_digit = |letter: char| letter.is_ascii_digit();
    let mut rest = written;
    let mut before = ' ';
    while let Some(start) = rest.find(is_digit) {
        let (head, digits) = rest.split_at(start);
        before = head.chars().next_back().unwrap_or(before);
        let end = digits
            .find(|letter| !is_digit(letter))
            .unwrap_or(digits.len());
        let (number, tail) = digits.split_at(end);
        if (3..=4).contains(&number.len()) && !before.is_alphabetic() {
            let year: Option<i32> = number.parse().ok();
            let negative = before == '-' && written.trim_start().starts_with('-');
            let mut after = tail.chars();
            let letter = after.next().filter(char::is_ascii_alphabetic);
            let alone = !after.next().is_some_and(char::is_alphanumeric);
            return (
                year.map(|year| if negative { -year } else { year }),
                letter
                    .filter(|_| alone)
                    .map(|letter| letter.to_ascii_lowercase()),
            );
        }
        before = '0';
        rest = tail;
    }
    (None, None)
}

#[cfg(test)]
mod tests {
    use super::super::References;
    use super::super::tests::reference;
    use super::*;

    #[test]
    fn letters_follow_the_titles() {
        let references = References::new([
            reference("one", "Harrow, A.", Some(2019), "The wings of moths"),
            reference("two", "Harrow, A.", Some(2019), "A lamp"),
            reference("three", "Harrow, A.", Some(2018), "Lamps"),
            reference("four", "Harrow, A.; Okoro, B.", Some(2019), "Alone"),
            reference("five", "Harrow, B.", Some(2019), "Another Harrow"),
            reference("six", "Okoro, B.", Some(2019), "One work"),
            reference("seven", "Okoro, B.", Some(2019), "One work"),
        ]);
        let letter = |key: &str| {
            references
                .get(&Key::new(key))
                .and_then(|found| found.suffix)
        };
        assert_eq!(letter("two"), Some('a'));
        assert_eq!(letter("one"), Some('b'));
        for alone in ["three", "four", "five", "six", "seven"] {
            assert_eq!(letter(alone), None, "{alone}");
        }
    }

    #[test]
    fn a_letter_that_is_given_keeps_the_others_without() {
        let mut given = reference("one", "Harrow, A.", Some(2019), "Wings");
        given.suffix = Some('b');
        let references =
            References::new([given, reference("two", "Harrow, A.", Some(2019), "Lamp")]);
        assert_eq!(references.get(&Key::new("two")).unwrap().suffix, None);
    }

    #[test]
    fn keys_and_years_are_read() {
        for (key, year, letter) in [
            ("harrow2019a", Some(2019), Some('a')),
            ("harrow2019", Some(2019), None),
            ("harrow2019a", Some(2018), None),
            ("harrowmoths", Some(2019), None),
            ("harrow2019A", Some(2019), None),
            ("", Some(2019), None),
            ("2019é", Some(2019), None),
        ] {
            assert_eq!(letter_of_key(key, year), letter, "{key}");
        }
        for (written, wanted) in [
            ("2019", (Some(2019), None)),
            ("2019a", (Some(2019), Some('a'))),
            ("2019B", (Some(2019), Some('b'))),
            ("2019-05-02", (Some(2019), None)),
            ("2019/2020", (Some(2019), None)),
            ("c. 1850", (Some(1850), None)),
            ("-044", (Some(-44), None)),
            ("May 3, 2019", (Some(2019), None)),
            ("2019 a reprint", (Some(2019), None)),
            ("2019ab", (Some(2019), None)),
            ("in press", (None, None)),
            ("20195", (None, None)),
            ("", (None, None)),
        ] {
            assert_eq!(year_and_letter(written), wanted, "{written}");
        }
    }
}
