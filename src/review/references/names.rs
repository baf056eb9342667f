//! Names compared as people write them: case, accents, hyphens, apostrophes and particles aside.

use unicode_normalization::UnicodeNormalization as _;
use unicode_normalization::char::is_combining_mark;

use super::Person;

/// Words before a family name that a writer may leave out or write with a capital.
const PARTICLES: &[&str] = &[
    "af", "al", "av", "bin", "da", "das", "de", "dei", "del", "della", "den", "der", "des", "di",
    "do", "dos", "du", "e", "el", "ibn", "la", "las", "le", "los", "op", "t", "te", "ten", "ter",
    "van", "vande", "vander", "vom", "von", "y", "zu", "zum", "zur",
];

/// Words that a group's acronym passes over.
const SMALL_WORDS: &[&str] = &[
    "a", "and", "at", "by", "de", "for", "in", "la", "of", "on", "the", "to", "und",
];

/// Letters that no decomposition turns into plain ones.
const LETTERS: &[(char, &str)] = &[
    ('ß', "ss"),
    ('ø', "o"),
    ('đ', "d"),
    ('ð', "d"),
    ('ł', "l"),
    ('æ', "ae"),
    ('œ', "oe"),
    ('þ', "th"),
    ('ı', "i"),
    ('ħ', "h"),
];

/// The folded form in which names and titles are compared: lower case, accents off, apostrophes and
/// full stops gone, every other mark a blank, single blanks between the words.
pub(crate) fn fold(name: &str) -> String {
    let mut out = String::with_capacity(name.len());
    let mut gap = false;
    let kept = name
        .chars()
        .filter(|&letter| !is_apostrophe(letter) && letter != '.');
    for letter in kept.flat_map(char::to_lowercase).nfkd() {
        if is_combining_mark(letter) {
            continue;
        }
        if !letter.is_alphanumeric() && letter != '&' {
            gap = true;
            continue;
        }
        if gap && !out.is_empty() {
            out.push(' ');
        }
        gap = false;
        match LETTERS.iter().find(|(from, _)| *from == letter) {
            Some((_, plain)) => out.push_str(plain),
            None if letter == '&' => out.push_str("and"),
            None => out.push(letter),
        }
    }
    out
}

fn is_apostrophe(letter: char) -> bool {
    matches!(letter, '\'' | '’' | '‘' | 'ʼ' | 'ʻ' | '`' | '´' | '′')
}

/// A family name in two: its particles and the rest. A name that is nothing but particles (`Le`) is
/// all rest, and so is its last word.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Family {
    pub(super) particles: String,
    pub(super) core: String,
}

impl Family {
    pub(super) fn of(name: &str) -> Self {
        let folded = fold(name);
        let folded = ["jr", "sr", "ii", "iii"]
            .iter()
            .find_map(|generation| folded.strip_suffix(generation)?.strip_suffix(' '))
            .unwrap_or(&folded);
        let mut core = folded;
        while let Some((word, rest)) = core.split_once(' ')
            && PARTICLES.contains(&word)
        {
            core = rest;
        }
        // `core` is a tail of `folded`, so the difference of their lengths is a character boundary
        let particles = folded.strip_suffix(core).unwrap_or_default().trim_end();
        Self {
            particles: particles.to_owned(),
            core: core.to_owned(),
        }
    }

    /// How well a cited name fits: 0 to the letter, 1 with particles left out; `None` not at all.
    fn fit(&self, cited: &Self) -> Option<u8> {
        if self.core != cited.core || self.core.is_empty() {
            return None;
        }
        let (listed, cited) = (self.particles.as_str(), cited.particles.as_str());
        if listed == cited {
            Some(0)
        } else if listed.ends_with(cited) || cited.ends_with(listed) {
            Some(1)
        } else {
            None
        }
    }
}

/// A name in brackets or parentheses at the end of a group's name, and what stands before it.
fn bracketed(name: &str) -> (&str, Option<&str>) {
    let trimmed = name.trim();
    let Some(inner) = trimmed.strip_suffix([')', ']']) else {
        return (trimmed, None);
    };
    match inner.rsplit_once(['(', '[']) {
        Some((before, acronym)) if !before.trim().is_empty() => {
            (before.trim(), Some(acronym.trim()))
        }
        _ => (trimmed, None),
    }
}

/// A group's name without its article and bracketed acronym, folded.
fn group_name(name: &str) -> String {
    let folded = fold(bracketed(name).0);
    folded
        .strip_prefix("the ")
        .map_or(folded.clone(), str::to_owned)
}

/// First letters of the words of a folded group name, small words passed over; `None` below two.
fn acronym(folded: &str) -> Option<String> {
    let letters: String = folded
        .split(' ')
        .filter(|word| !SMALL_WORDS.contains(word))
        .filter_map(|word| word.chars().next())
        .collect();
    (letters.chars().count() >= 2).then_some(letters)
}

/// The folded forms under which a person or group may be cited, first the fullest.
pub(super) fn forms(person: &Person) -> Vec<String> {
    let mut forms = vec![Family::of(&person.family).core];
    if person.given.is_empty() {
        let full = group_name(&person.family);
        forms.extend(acronym(&full));
        forms.extend(bracketed(&person.family).1.map(fold));
        forms.push(full);
    }
    forms.retain(|form| !form.is_empty());
    forms.sort_unstable();
    forms.dedup();
    forms
}

/// The folded forms under which a cited name is to be looked up.
pub(super) fn lookups(cited: &str) -> Vec<String> {
    let mut forms = vec![Family::of(cited).core, group_name(cited)];
    forms.retain(|form| !form.is_empty());
    forms.dedup();
    forms
}

/// How well a cited name fits a person or group: 0 in full, 1 with particles left out or as an
/// acronym; `None` not at all.
pub(super) fn fit(person: &Person, cited: &str) -> Option<u8> {
    if let Some(fit) = Family::of(&person.family).fit(&Family::of(cited)) {
        return Some(fit);
    }
    if !person.given.is_empty() {
        return None;
    }
    let cited = group_name(cited);
    let full = group_name(&person.family);
    if cited.is_empty() {
        None
    } else if cited == full {
        Some(0)
    } else {
        forms(person).contains(&cited).then_some(1)
    }
}

/// First letters of given names or of cited initials, folded.
fn initials(given: &str) -> Vec<char> {
    given
        .split(|letter: char| {
            letter.is_whitespace() || matches!(letter, '.' | '-' | '‐' | '‑' | '~')
        })
        .filter_map(|part| fold(part).chars().next())
        .collect()
}

/// Whether cited initials allow these given names: as far as both are known they begin alike.
pub(super) fn initials_allow(given: &str, cited: &str) -> bool {
    let (listed, cited) = (initials(given), initials(cited));
    listed.iter().zip(&cited).all(|(one, other)| one == other)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn folding_unites_ways_of_writing() {
        let cases = [
            ("Müller", "muller"),
            ("Łukasiewicz", "lukasiewicz"),
            ("O’Brien", "obrien"),
            ("O'BRIEN", "obrien"),
            ("Smith-Jones", "smith jones"),
            ("Smith‑Jones", "smith jones"),
            ("St. John", "st john"),
            ("Parks & Gardens", "parks and gardens"),
            ("  Æbelø  ", "aebelo"),
            ("İnan", "inan"),
            ("—", ""),
        ];
        for (name, folded) in cases {
            assert_eq!(fold(name), folded, "{name}");
        }
    }

    #[test]
    fn family_names_fit() {
        let cases = [
            ("van der Berg", "Berg", Some(1)),
            ("van der Berg", "Van der Berg", Some(0)),
            ("Berg", "van der Berg", Some(1)),
            ("van der Berg", "der Berg", Some(1)),
            ("van Berg", "von Berg", None),
            ("Le", "Le", Some(0)),
            ("Harrow", "Harrow Jr.", Some(0)),
            ("Lindqvist", "Lindkvist", None),
        ];
        for (listed, cited, wanted) in cases {
            let person = Person {
                family: listed.to_owned(),
                given: "A.".to_owned(),
            };
            assert_eq!(fit(&person, cited), wanted, "{listed} / {cited}");
        }
    }

    #[test]
    fn groups_fit_by_name_or_acronym() {
        let cases = [
            (
                "National Lighting Survey",
                "National Lighting Survey",
                Some(0),
            ),
            (
                "The National Lighting Survey",
                "National Lighting Survey [NLS]",
                Some(0),
            ),
            ("National Lighting Survey", "NLS", Some(1)),
            ("Council for Dark Skies", "CDS", Some(1)),
            ("Lampwatch Collective (LWC)", "LWC", Some(1)),
            ("National Lighting Survey", "National Survey", None),
            ("National Lighting Survey", "", None),
        ];
        for (listed, cited, wanted) in cases {
            let group = Person {
                family: listed.to_owned(),
                given: String::new(),
            };
            assert_eq!(fit(&group, cited), wanted, "{listed} / {cited}");
        }
    }

    #[test]
    fn initials_tell_namesakes_apart() {
        for (given, cited, wanted) in [
            ("Anna Maria", "A.", true),
            ("Anna Maria", "A. M.", true),
            ("Anna", "A.M.", true),
            ("Anna", "B.", false),
            ("Anna Maria", "A. B.", false),
            ("", "A.", true),
            ("Jean-Luc", "J.-L.", true),
        ] {
            assert_eq!(initials_allow(given, cited), wanted, "{given} / {cited}");
        }
    }
}
