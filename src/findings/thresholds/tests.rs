use super::*;

#[test]
fn the_table_follows_the_scale_and_the_settings() {
    let settings = Settings {
        run_words: 11,
        heavily_quoted_percent: Some(20),
        ..Settings::default()
    };
    let table = thresholds(&settings);
    let value = |name: &str| {
        let row = table.iter().find(|row| row.name == name);
        row.map(|row| row.value.clone()).unwrap_or_default()
    };
    assert_eq!(value("run_words"), "11 words");
    for (name, _) in SETTINGS {
        assert!(!value(name).is_empty(), "{name} is no setting");
    }
    assert_eq!(value("heavily_quoted_percent"), "20 %");
    assert!(value("likely origin").starts_with(&format!("{:.0} nats", support::LIKELY)));
    let near = Degree::NearCopy.span().1;
    assert_eq!(
        value("near copy / light revision"),
        format!("position {near:.2}")
    );
}

#[test]
fn origins_name_their_sort_and_memory() {
    assert_eq!(
        KECK.to_string(),
        "published: Keck (2006), Journal of Second Language Writing 15(4), from memory"
    );
    assert_eq!(Provenance::OwnChoice.to_string(), "our own choice");
    assert!(PROSE_AND_VERSE.to_string().contains("2026-12-01"));
}

#[test]
fn the_scale_is_covered_without_gaps() {
    let spans = Degree::ALL.map(Degree::span);
    assert_eq!((spans[0].0, spans[4].1), (0.0, 1.0));
    for pair in spans.windows(2) {
        assert!(pair[0].1 == pair[1].0 && pair[0].0 < pair[0].1);
    }
}
