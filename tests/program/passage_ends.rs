//! Where a passage begins and ends: at the borrowing, not at the writer's own words around it, and never over sentences of
//! another sort. Kind and degree agree.

use crate::common::Review;

const BERG: &str = "\
Sleep and attention in commuting pupils

Mattis Berg and Pell Oduya

[p. 88]

Pupils who travelled for more than fifty minutes each way slept thirty-eight minutes less on school nights than those \
who lived beside the school. The loss was largest in the autumn term and had not been made up by the weekend. In the \
attention task they missed one signal in nine, while their classmates missed one in fourteen. We found no difference \
between those who travelled by bus and those who travelled by train.

[p. 89]

Teachers noticed the difference before any measurement was made. Schools could move the first lesson by twenty minutes \
at no cost except a rewritten timetable.
";

const REFERENCE: &str = "@article{berg2021, author={Berg, Mattis and Oduya, Pell}, title={Sleep and attention in \
commuting pupils}, journal={Journal of School Travel}, year={2021}, pages={80--97}}";

/// Each finding as kind, degree, page of the source and words of the draft.
fn findings(draft: &str) -> Vec<(String, String, String, String)> {
    let review = Review::new()
        .reference(REFERENCE)
        .source("berg2021.md", BERG);
    let checked = review.check(draft);
    let all = checked.json["drafts"][0]["findings"].as_array().unwrap();
    let string = |value: &serde_json::Value| value.as_str().unwrap_or_default().to_owned();
    all.iter()
        .map(|one| {
            (
                string(&one["kind"]),
                string(&one["degree"]),
                string(&one["source"]["page"]),
                string(&one["draft"]["text"]),
            )
        })
        .collect()
}

fn one(draft: &str) -> (String, String, String, String) {
    let mut found = findings(draft);
    assert_eq!(found.len(), 1, "{found:?}");
    found.remove(0)
}

#[test]
fn a_copied_sentence_is_a_finding_of_its_own() {
    let (kind, degree, page, text) = one(
        "Berg and Oduya (2021) report that long commutes cost pupils more than half an hour of sleep (p. 88). In the \
         attention task they missed one signal in nine, while their classmates missed one in fourteen. The figures \
         for bus and train were alike.\n",
    );
    assert_eq!(
        (&*kind, &*degree, &*page),
        ("unmarked-copy", "verbatim", "88")
    );
    assert!(
        text.starts_with("In the attention") && text.ends_with("in fourteen."),
        "{text}"
    );
}

#[test]
fn a_lead_with_names_and_citation_is_not_part_of_the_copy() {
    let (kind, degree, page, text) = one(
        "In what follows I write about school travel, and Berg and Oduya (2021, p. 88) have the figures: pupils who \
         travelled for more than fifty minutes each way slept thirty-eight minutes less on school nights than those \
         who lived beside the school. That is a great deal for a child of ten.\n",
    );
    assert_eq!(
        (&*kind, &*degree, &*page),
        ("unmarked-copy", "verbatim", "88")
    );
    assert!(
        text.starts_with("pupils") && text.ends_with("the school."),
        "{text}"
    );
}

#[test]
fn a_small_word_of_the_next_sentence_is_not_part_of_the_copy() {
    let review = Review::new()
        .reference(REFERENCE)
        .source("berg2021.md", BERG);
    let checked = review.check(
        "Pupils who travelled for more than fifty minutes each way slept thirty-eight minutes less on school nights \
         than those who lived beside the school. The price was paid at noon (Berg & Oduya, 2021, p. 88).\n",
    );
    let found = &checked.json["drafts"][0]["findings"][0];
    assert!(
        found["draft"]["text"]
            .as_str()
            .unwrap()
            .ends_with("the school."),
        "{found}"
    );
    assert_eq!(found["measures"]["longest_string"], 25);
    assert!(
        found["advice"]
            .as_str()
            .unwrap()
            .starts_with("25 words in a row"),
        "{found}"
    );
}

#[test]
fn a_title_and_authors_in_a_sentence_are_no_paraphrase() {
    let draft = "Berg and Oduya (2021) studied attention and sleep in pupils who commute. Theirs is the only study.\n";
    assert_eq!(findings(draft), []);
}

#[test]
fn a_run_in_a_sentence_of_ones_own_is_only_the_run() {
    let (kind, degree, _, text) = one(
        "My argument about bells and bus stops in this valley does not hang on any single figure, yet since teachers \
         noticed the difference before any measurement was made I take their word for it here and go on to buildings \
         (Berg & Oduya, 2021, p. 89).\n",
    );
    assert_eq!((&*kind, &*degree), ("unmarked-copy", "verbatim"));
    assert!(
        text.contains("noticed the difference") && text.split_whitespace().count() < 14,
        "{text}"
    );
}

#[test]
fn a_light_revision_with_a_run_is_a_paraphrase_whose_advice_names_the_run() {
    let review = Review::new()
        .reference(REFERENCE)
        .source("berg2021.md", BERG);
    let checked = review.check(
        "Children who travelled for more than fifty minutes each way got thirty-eight minutes less rest before lessons \
         than others whose homes stood near the school (Berg & Oduya, 2021, p. 88).\n",
    );
    let found = &checked.json["drafts"][0]["findings"];
    assert_eq!(found[0]["kind"], "close-paraphrase", "{found}");
    assert_eq!(found[0]["degree"], "light revision", "{found}");
    let advice = found[0]["advice"].as_str().unwrap();
    assert!(
        advice
            .starts_with("9 words in a row (“who travelled for more than fifty minutes each way”)"),
        "{advice}"
    );
}

const LINDQVIST: &str = "\
[p. 12]

Whoever walks the embankment after midnight meets a light like that of a full moon behind thin cloud. Pupils who went by \
the embankment for more than fifty minutes each way saw more stars on school nights than those who lived beside the school.
";

const OTHER: &str =
    "@book{lindqvist2017, author={Lindqvist, Orla}, title={The quiet hour}, year={2017}}";

fn of_two_sources(draft: &str) -> serde_json::Value {
    let review = Review::new()
        .reference(REFERENCE)
        .reference(OTHER)
        .source("berg2021.md", BERG)
        .source("lindqvist2017.md", LINDQVIST);
    review.check(draft).json["drafts"][0]["findings"].clone()
}

#[test]
fn a_string_of_a_second_source_inside_a_passage_is_a_finding_of_its_own() {
    let found = of_two_sources(
        "Pupils who travelled for more than fifty minutes each way slept thirty-eight minutes less on school nights, \
         where a light like that of a full moon behind thin cloud was all they had, than those who lived beside the \
         school (Berg & Oduya, 2021, p. 88).\n",
    );
    let of = |key: &str| {
        let all = found.as_array().unwrap().iter();
        let mut of = all.filter(|one| one["source"]["key"] == key);
        of.next()
            .unwrap_or_else(|| panic!("none of {key}: {found}"))
            .clone()
    };
    let first = of("berg2021");
    assert_eq!(first["credit"]["state"], "credited");
    assert!(
        first["draft"]["text"]
            .as_str()
            .unwrap()
            .contains("slept thirty-eight minutes")
    );
    let second = of("lindqvist2017");
    assert_eq!(second["source"]["page"], "12");
    assert_eq!(second["credit"]["state"], "elsewhere");
    assert!(
        second["draft"]["text"]
            .as_str()
            .unwrap()
            .contains("light like that of a full moon")
    );
}

#[test]
fn another_source_is_named_only_if_it_has_the_same_words() {
    let found = of_two_sources(
        "Pupils who travelled for more than fifty minutes each way slept thirty-eight minutes less on school nights than \
         those who lived beside the school.\n",
    );
    assert_eq!(found[0]["source"]["key"], "berg2021");
    assert_eq!(found[0]["also_in"], serde_json::json!([]), "{found}");
}

const CANAL: &str = "\
[p. 3]

Campion, honeysuckle and evening primrose growing beside the abandoned canal towpath were the plants most often visited by \
pollinating hawkmoths. It did not last. Rain ruined seventeen consecutive trapping sessions along the northern towpath until \
volunteers built wooden shelters over every sodium lantern.
";

const CANAL_REFERENCE: &str =
    "@book{harrow2019, author={Harrow, Una and Okoro, Ada}, title={Towpaths}, year={2019}}";

fn of_canal(draft: &str) -> Vec<serde_json::Value> {
    let review = Review::new()
        .reference(CANAL_REFERENCE)
        .source("harrow2019.txt", CANAL);
    let found = review.check(draft).json["drafts"][0]["findings"].clone();
    found.as_array().unwrap().clone()
}

#[test]
fn a_copy_over_several_sentences_is_found_with_and_without_credit() {
    let rest = "For years nobody on the council, as they complain at length in a chapter about money and about trains, wanted to \
                hear at all what anyone had to say about primrose, or about campion, or which of them were the plants most often \
                visited by pollinating hawkmoths. It did not last. Rain ruined seventeen consecutive trapping sessions, so that \
                in the end, as the reader learns from a long aside on carpentry and on the kindness of strangers who turned up \
                with saws and with soup, some volunteers built things.";
    for lead in ["", "Harrow and Okoro (2019) wrote of it. "] {
        let found = of_canal(&format!("{lead}{rest}\n"));
        let told = found.iter().any(|one| {
            let text = one["draft"]["text"].as_str().unwrap();
            text.contains("most often visited by pollinating hawkmoths. It did not last. Rain ruined seventeen")
        });
        assert!(told, "{lead}: {found:?}");
    }
}

#[test]
fn the_source_of_a_copy_is_shown_whole() {
    let found = of_canal(
        "Harrow and Okoro (2019) wrote of it. It did not last. Rain ruined seventeen, before shelters of wood were put up by \
         volunteers above each lantern of sodium on that towpath in the north, ending consecutive trapping losses.\n",
    );
    for one in &found {
        let said = one["advice"].as_str().unwrap();
        let counted: Option<u64> = said
            .split_once(" words in a row")
            .and_then(|(number, _)| number.parse().ok());
        if let Some(counted) = counted {
            assert_eq!(one["measures"]["longest_string"], counted, "{one}");
        }
    }
}
