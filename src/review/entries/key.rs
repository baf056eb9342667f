//! Which reference a heading speaks of.

use super::super::references::fold;
use super::author_year;
use crate::review::{Key, NearMiss, References, Resolved};
use crate::text::CiteTarget;

/// What a heading says about its reference.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Named {
    /// It names one reference.
    One(Key),
    /// It may mean several.
    Several(Vec<Key>),
    /// It is written like the name of a reference but fits none.
    Unknown(Vec<NearMiss>),
    /// It does not speak of a reference.
    Nothing,
}

impl Named {
    fn of(resolved: Resolved) -> Self {
        match resolved {
            Resolved::One(key) => Self::One(key),
            Resolved::Several(keys) => Self::Several(keys),
            Resolved::None { near } => Self::Unknown(near),
        }
    }
}

/// The reference that a heading names: by an attribute (`{#key}`, `[@key]`, `@key`), by the key as its
/// whole text or first word, by authors and year, or by the whole title.
pub(super) fn of_heading(text: &str, references: &References) -> Named {
    if let Some(key) = attribute(text) {
        return Named::of(references.resolve_key(key));
    }
    let bare = text.trim_matches(is_mark);
    let first = bare
        .split(char::is_whitespace)
        .next()
        .unwrap_or_default()
        .trim_matches(is_mark);
    let like_a_key = first.chars().any(|letter| letter.is_ascii_digit());
    for word in [Some(bare), Some(first).filter(|_| like_a_key)]
        .into_iter()
        .flatten()
    {
        if let Some(key) = references.of_key(word) {
            return Named::One(key);
        }
    }
    by_author_year(bare, references).unwrap_or_else(|| by_title(bare, references))
}

/// The reference whose only author (or all of whose authors) a heading without a year names. Weaker than
/// [`of_heading`], so asked only where parts of an entry stand below.
pub(super) fn of_bare_name(text: &str, references: &References) -> Option<Key> {
    let name = text.trim_matches(is_mark);
    let names: Vec<String> = name
        .split(['&', ';'])
        .map(|name| name.trim().to_owned())
        .collect();
    let initials = names.iter().map(|_| String::new()).collect();
    let target = CiteTarget::Author {
        names,
        initials,
        et_al: false,
        year: None,
    };
    references.resolve(&target).one().cloned()
}

fn is_mark(letter: char) -> bool {
    letter.is_whitespace() || "#*_:[](){}.,–—\"“”`".contains(letter)
}

/// The key in `{#key}`, `[@key]` or a bare `@key`.
fn attribute(text: &str) -> Option<&str> {
    let behind = |mark: &str| text.split_once(mark).map(|(_, rest)| rest);
    let rest = behind("{#").or_else(|| behind("[@")).or_else(|| {
        let bare =
            text.trim_matches(|letter: char| letter.is_whitespace() || "#*_".contains(letter));
        bare.strip_prefix('@')
    })?;
    let end = rest
        .find(|letter: char| letter.is_whitespace() || "}],;".contains(letter))
        .unwrap_or(rest.len());
    rest.get(..end).filter(|key| !key.is_empty())
}

fn by_author_year(text: &str, references: &References) -> Option<Named> {
    let heading = author_year::of_heading(text)?;
    let mut resolved: Vec<Resolved> = Vec::new();
    for reading in &heading.readings {
        match references.resolve(reading) {
            Resolved::One(key) => return Some(Named::One(key)),
            other => resolved.push(other),
        }
    }
    let several = resolved
        .iter()
        .find(|found| matches!(found, Resolved::Several(_)));
    if let Some(found) = several {
        return Some(
            by_title_among(text, found.keys(), references)
                .unwrap_or(Named::Several(found.keys().to_vec())),
        );
    }
    // `Harrow, Campion after eleven (2019)`: the title stands before the year.
    if heading.set_off
        && let Some(key) = references.described(text)
    {
        return Some(Named::One(key));
    }
    let near = resolved.into_iter().find_map(|found| match found {
        Resolved::None { near } if !near.is_empty() => Some(near),
        _ => None,
    });
    // `March 2019` is no reference; `Harow 2019` is one if there is a Harrow
    let meant = heading.capitals && (heading.set_off || near.is_some());
    meant.then(|| Named::Unknown(near.unwrap_or_default()))
}

/// Of several works of the same authors and year, the one whose title the heading goes on to name.
fn by_title_among(text: &str, keys: &[Key], references: &References) -> Option<Named> {
    let text = fold(text);
    let mut named = keys.iter().filter(|key| {
        let title = references
            .get(key)
            .map(|work| fold(&work.title))
            .unwrap_or_default();
        !title.is_empty() && text.contains(&title)
    });
    match (named.next(), named.next()) {
        (Some(key), None) => Some(Named::One(key.clone())),
        _ => None,
    }
}

fn by_title(text: &str, references: &References) -> Named {
    let text = fold(text);
    match references.with_title(&text) {
        [one] if !text.is_empty() => Named::One(one.clone()),
        _ => Named::Nothing,
    }
}

#[cfg(test)]
mod tests {
    use super::super::super::references::tests::reference;
    use super::*;

    #[test]
    fn headings_name_references() {
        let list = References::new([
            reference(
                "harrow2019x",
                "Harrow, Anna",
                Some(2019),
                "Moths at the lamp",
            ),
            reference("harrow2019y", "Harrow, Anna", Some(2019), "Plants at night"),
            reference("lind2016", "Lind, Eva; Okoro, Ben", Some(2016), "Nectar"),
            reference("light", "Tarn, Lee", None, "Light"),
        ]);
        let one = |key: &str| Named::One(Key::new(key));
        for (heading, wanted) in [
            ("harrow2019x", one("harrow2019x")),
            ("## Harrow2019X: Moths", one("harrow2019x")),
            ("Moths and lamps {#harrow2019y}", one("harrow2019y")),
            ("[@lind2016]", one("lind2016")),
            ("@lind2016", one("lind2016")),
            ("Lind & Okoro (2016)", one("lind2016")),
            ("**Lind, E., & Okoro, B. (2016).** Nectar.", one("lind2016")),
            ("Eva Lind and Ben Okoro (2016)", one("lind2016")),
            ("Harrow (2019a)", one("harrow2019x")),
            ("Harrow (2019): Plants at night", one("harrow2019y")),
            (
                "Harrow (2019)",
                Named::Several(vec![Key::new("harrow2019x"), Key::new("harrow2019y")]),
            ),
            ("Plants at night", one("harrow2019y")),
            ("light", one("light")),
            ("Light pollution", Named::Nothing),
            ("Themes", Named::Nothing),
            ("Lighting policy since 2012", Named::Nothing),
            ("March 2019", Named::Nothing),
            ("Nobody (2012)", Named::Unknown(Vec::new())),
            ("", Named::Nothing),
        ] {
            assert_eq!(of_heading(heading, &list), wanted, "{heading}");
        }
        let Named::Unknown(near) = of_heading("Linde & Okoro (2016)", &list) else {
            panic!()
        };
        assert_eq!(near[0].key.as_str(), "lind2016");
        assert_eq!(of_bare_name("Tarn", &list), Some(Key::new("light")));
        assert_eq!(of_bare_name("Harrow", &list), None);
    }
}
