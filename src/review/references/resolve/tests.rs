//! Citations and the references they point at.

use super::super::letters;
use super::super::near::Difference;
use super::super::tests::reference;
use super::*;

fn list() -> References {
    let mut works = vec![
        reference(
            "harrow2019a",
            "Harrow, Anna",
            Some(2019),
            "Moths at the lamp",
        ),
        reference("harrow2019b", "Harrow, Anna", Some(2019), "Plants at night"),
        reference("harrow2014", "Harrow, Anna; Okoro, Ben", Some(2014), "Two"),
        reference(
            "harrow2014team",
            "Harrow, Anna; Okoro, Ben; Lind, Eva",
            Some(2014),
            "Three",
        ),
        reference("harrow2014solo", "Harrow, Anna", Some(2014), "Alone"),
        reference("berg2010", "van der Berg, Jo", Some(2010), "Streets"),
        reference("berg2011", "Berg, Kim", Some(2011), "Lanes"),
        reference("vdberg2011", "van der Berg, Jo", Some(2011), "Roads"),
        reference("muller2012", "Müller-Ort, Ida", Some(2012), "Glow"),
        reference("obrien2013", "O’Brien, Pat", Some(2013), "Dusk"),
        reference("nls2020", "National Lighting Survey", Some(2020), "Census"),
        reference(
            "parks2015",
            "Department of Parks and Gardens",
            Some(2015),
            "Beds",
        ),
        reference("lind2016e", "Lind, Eva", Some(2016), "Pollen"),
        reference("lind2016m", "Lind, Mats", Some(2016), "Nectar"),
        reference("tarn", "Tarn, Lee", None, "Undated"),
        reference(
            "leaflet2001",
            "",
            Some(2001),
            "Switch off at midnight: a leaflet",
        ),
        reference("stone2003", "Stone, Ida; others", Some(2003), "Pebbles"),
        reference("Quill1999", "Quill, Ada; Rook, Bo", Some(1999), "Feathers"),
    ];
    for work in &mut works {
        if work.suffix.is_none() {
            work.suffix = letters::letter_of_key(work.key.as_str(), work.year);
        }
    }
    References::new(works)
}

/// `Harrow & Okoro 2014`, `A. Harrow et al. 2014a`, `Tarn n.d.`, `Harrow` as a target.
fn target(written: &str) -> CiteTarget {
    let (names, year) = match written.rsplit_once(' ') {
        Some((names, year)) if year == "n.d." || year.starts_with(|c: char| c.is_ascii_digit()) => {
            (names, Some(year))
        }
        _ => (written, None),
    };
    let (names, et_al) = match names.strip_suffix(" et al.") {
        Some(names) => (names, true),
        None => (names, false),
    };
    let (initials, names) = names
        .split(" & ")
        .map(|name| match name.split_once(". ") {
            Some((initials, name)) => (format!("{initials}."), name.to_owned()),
            None => (String::new(), name.to_owned()),
        })
        .unzip();
    CiteTarget::Author {
        names,
        initials,
        et_al,
        year: year.map(|year| {
            let (number, suffix) = letters::year_and_letter(year);
            Year {
                number,
                suffix,
                written: year.to_owned(),
            }
        }),
    }
}

#[test]
fn citations_find_their_references() {
    let list = list();
    let cases: &[(&str, &[&str])] = &[
        ("Harrow 2019a", &["harrow2019a"]),
        ("Harrow 2019b", &["harrow2019b"]),
        ("HARROW 2019A", &["harrow2019a"]),
        ("Harrow 2019", &["harrow2019a", "harrow2019b"]),
        ("Harrow 2019c", &[]),
        ("Harrow 2014", &["harrow2014solo"]),
        ("Harrow & Okoro 2014", &["harrow2014"]),
        ("Harrow et al. 2014", &["harrow2014team"]),
        ("Harrow & Okoro et al. 2014", &["harrow2014team"]),
        ("Harrow & Lind 2014", &[]),
        ("Harrow & Okoro & Lind 2014", &["harrow2014team"]),
        ("Harrow & Okoro & Lind & Tarn 2014", &[]),
        ("Okoro 2014", &[]),
        ("Quill 1999", &["Quill1999"]),
        ("Quill et al. 1999", &["Quill1999"]),
        ("Tarn et al. n.d.", &[]),
        ("Stone et al. 2003", &["stone2003"]),
        ("Stone 2003", &["stone2003"]),
        ("Stone & Pike 2003", &[]),
        ("Berg 2010", &["berg2010"]),
        ("Van der Berg 2010", &["berg2010"]),
        ("Berg 2011", &["berg2011"]),
        ("van der Berg 2011", &["vdberg2011"]),
        ("Muller‐Ort 2012", &["muller2012"]),
        ("O'Brien 2013", &["obrien2013"]),
        ("NLS 2020", &["nls2020"]),
        ("National Lighting Survey [NLS] 2020", &["nls2020"]),
        ("Department of Parks & Gardens 2015", &["parks2015"]),
        ("Lind 2016", &["lind2016e", "lind2016m"]),
        ("E. Lind 2016", &["lind2016e"]),
        ("B. Lind 2016", &[]),
        ("Tarn n.d.", &["tarn"]),
        ("Tarn 2001", &[]),
        ("Tarn", &["tarn"]),
        ("Quill", &["Quill1999"]),
        ("Switch off at midnight 2001", &["leaflet2001"]),
        ("Switch 2002", &[]),
        ("Nobody 2019", &[]),
        ("", &[]),
    ];
    for (written, wanted) in cases {
        let resolved = list.resolve(&target(written));
        let keys: Vec<&str> = resolved.keys().iter().map(Key::as_str).collect();
        assert_eq!(&keys, wanted, "{written}");
    }
}

#[test]
fn keys_are_found_exactly_then_in_any_case() {
    let mut works: Vec<Reference> = list().iter().cloned().collect();
    works.push(reference("quill1999", "Quill, Ada", Some(1999), "Copy"));
    let list = References::new(works);
    let keys = |key: &str| list.resolve(&CiteTarget::Key(key.to_owned()));
    assert_eq!(keys("Quill1999").one().map(Key::as_str), Some("Quill1999"));
    assert_eq!(keys("BERG2010").one().map(Key::as_str), Some("berg2010"));
    assert_eq!(keys("QUILL1999").keys().len(), 2);
    assert_eq!(
        list.resolve(&CiteTarget::Number(1)),
        Resolved::None { near: vec![] }
    );
}

#[test]
fn near_misses_say_what_differs() {
    let list = list();
    let cases = [
        ("Tarn 2001", "tarn", "n.d. in the references, 2001 here"),
        ("Berg 2012", "berg2011", "2011 in the references, 2012 here"),
        (
            "Harow 2019a",
            "harrow2019a",
            "name is Harrow in the references, Harow here",
        ),
        (
            "Harrow 2019c",
            "harrow2019a",
            "2019a in the references, 2019c here",
        ),
        (
            "Harrow & Lind 2014",
            "harrow2014",
            "authors are Harrow, Okoro",
        ),
        ("B. Lind 2016", "lind2016e", "given name is Eva"),
    ];
    for (written, key, words) in cases {
        let Resolved::None { near } = list.resolve(&target(written)) else {
            panic!("{written} was found")
        };
        let first = near
            .first()
            .unwrap_or_else(|| panic!("nothing near {written}"));
        assert_eq!(first.key.as_str(), key, "{written}");
        assert!(
            first.difference.to_string().contains(words),
            "{}",
            first.difference
        );
        assert!(list.hint(&near).unwrap().starts_with("did you mean "));
    }
    assert_eq!(
        list.resolve(&target("Nobody 2019")),
        Resolved::None { near: vec![] }
    );
    let Resolved::None { near } = list.resolve_key("harow2014") else {
        panic!("found")
    };
    assert_eq!(near[0].key.as_str(), "harrow2014");
    assert!(matches!(near[0].difference, Difference::Key { .. }));
}

proptest::proptest! {
    #[test]
    fn every_reference_is_found_by_its_own_name(at in 0usize..18, upper: bool) {
        let list = list();
        let work = list.iter().nth(at).unwrap();
        let shout = |name: &str| if upper { name.to_uppercase() } else { name.to_owned() };
        let names: Vec<String> = work.authors.iter().map(|person| shout(&person.family)).collect();
        let initials = work.authors.iter().map(|person| person.given.clone()).collect();
        let year = Year { number: work.year, suffix: work.suffix, written: work.dated() };
        let target = CiteTarget::Author { names, initials, et_al: false, year: Some(year) };
        if !work.authors.is_empty() && !work.has_others() {
            proptest::prop_assert_eq!(list.resolve(&target), Resolved::One(work.key.clone()));
        }
    }

    #[test]
    fn any_citation_resolves_without_panic(names in proptest::collection::vec("\\PC{0,8}", 0..4), et_al: bool, number: Option<i32>) {
        let year = Some(Year { number, suffix: None, written: String::new() });
        let _ = list().resolve(&CiteTarget::Author { initials: names.clone(), names, et_al, year });
    }
}
