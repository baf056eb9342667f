//! The guarantee: every shared string of `run_words` words or more between a draft and a source is
//! told, wherever it stands and whatever stands around it: as a finding, or as an overlap that fixed
//! wording explains. Planted runs in generated texts, through the public interface.

use std::sync::Arc;

use ownwords::Session;
use ownwords::reading::Memory;
use ownwords::review::{Decisions, Key, References, Review, Settings, Source};
use ownwords::text::{ByteRange, MarkedText, Text};
use proptest::prelude::*;

const FUNCTION_WORDS: [&str; 8] = ["the", "of", "and", "in", "was", "by", "not", "to"];

/// An invented word: one in three a function word, the others made of syllables, a different one for
/// each number. A vocabulary this wide leaves a draft nothing in common with its sources but what is
/// planted, so that a missed run is covered by nothing else.
fn word(number: usize) -> String {
    if number.is_multiple_of(3) {
        return FUNCTION_WORDS[number / 3 % FUNCTION_WORDS.len()].to_owned();
    }
    let syllables = ["ba", "co", "du", "fe", "gi", "ho", "ku", "la", "mo", "ne"];
    let digits = [
        number / 1000 % 10,
        number / 100 % 10,
        number / 10 % 10,
        number % 10,
    ];
    digits.map(|digit| syllables[digit]).concat() + "x"
}

/// Words that stand in no source, function words aside.
const FILLER: usize = 5_000;

fn sentence_of(words: &[usize], stops: &[usize]) -> String {
    let mut text = String::new();
    for (at, number) in words.iter().enumerate() {
        if at > 0 {
            text.push_str(match stops.get(at % stops.len().max(1)) {
                Some(0) => ". ",
                Some(1) => ",\n",
                Some(2) => " (see above) ",
                Some(3) => "\u{a0}",
                _ => " ",
            });
        }
        text.push_str(&word(*number));
    }
    text.push('.');
    text
}

fn review(sources: Vec<String>, run_words: usize) -> Review {
    let sources = sources
        .into_iter()
        .enumerate()
        .map(|(number, text)| Source {
            key: Key::new(&format!("invented{number}")),
            path: format!("sources/invented{number}.txt").into(),
            text: Arc::new(MarkedText::source(Text::paragraph(&text))),
            is_abstract: false,
        })
        .collect();
    let mut settings = Settings::default();
    settings.run_words = run_words;
    Review {
        root: ".".into(),
        settings,
        references: Arc::new(References::default()),
        sources,
        note_files: Vec::new(),
        entries: Vec::new(),
        not_entries: Vec::new(),
        bibliography: Vec::new(),
        decisions: Decisions::default(),
        shared_terms: Vec::new(),
        left_out: Vec::new(),
        files: Arc::new(Memory::new()),
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn a_planted_run_is_always_told(
        source in proptest::collection::vec(0_usize..900, 40..160),
        other in proptest::collection::vec(0_usize..900, 0..160),
        before in proptest::collection::vec(FILLER..FILLER + 900, 8..60),
        after in proptest::collection::vec(FILLER..FILLER + 900, 8..60),
        stops in proptest::collection::vec(0_usize..9, 1..7),
        from in 0_usize..1000,
        run_words in 4_usize..12,
    ) {
        let from = from % (source.len() - run_words);
        let run = &source[from..from + run_words];
        let planted: Vec<String> = run.iter().map(|number| word(*number)).collect();
        let planted = planted.join(" ");
        let start = sentence_of(&before, &stops);
        let draft = format!("{start} {planted} {}", sentence_of(&after, &stops));
        let range = ByteRange::of(start.len() + 1, start.len() + 1 + planted.len());

        let review = review(vec![sentence_of(&source, &[9]), sentence_of(&other, &[9])], run_words);
        let session = Session::new(review);
        let file = session.review.draft_of("draft.txt".as_ref(), Text::paragraph(&draft));
        let (report, text) = (session.lay(&file).report(), &file.text);

        let told: Vec<ByteRange> = report.findings.iter().map(|finding| finding.draft.range)
            .chain(report.explained.iter().map(|explained| explained.draft.range))
            .collect();
        for word in text.words.iter().filter(|word| range.covers(**word)) {
            prop_assert!(
                told.iter().any(|told| told.covers(*word)),
                "{:?} of {planted:?} is in none of {told:?}\nsource: {:?}\ndraft: {draft:?}",
                text.text.slice(*word), sentence_of(&source, &[9]),
            );
        }
        for finding in &report.findings {
            prop_assert!(text.text.content().get(finding.draft.range.as_range()).is_some());
            prop_assert!(!finding.draft.text.is_empty());
        }
    }

    /// Drafts pieced together from several sources, held against looking at every pair of positions.
    #[test]
    fn every_run_of_every_source_is_told(
        sources in proptest::collection::vec(proptest::collection::vec(0_usize..900, 20..90), 1..5),
        pieces in proptest::collection::vec((0_usize..5, 0_usize..90, 1_usize..14), 1..14),
        breaks in proptest::collection::vec(0_usize..6, 1..14),
        run_words in 4_usize..9,
    ) {
        let mut draft = String::new();
        for (at, (source, from, len)) in pieces.iter().enumerate() {
            let source = &sources[source % sources.len()];
            let from = from % source.len();
            let words: Vec<String> = source[from..(from + len).min(source.len())].iter().map(|number| word(*number)).collect();
            draft.push_str(&words.join(" "));
            let filler: Vec<String> = (0..16).map(|filler| word(FILLER + (at * 16 + filler) * 7)).collect();
            draft.push_str(&format!(" {}", filler.join(" ")));
            draft.push_str(match breaks[at % breaks.len()] { 0 => ". ", 1 => ", ", 2 => " then ", _ => " " });
        }
        let review = review(sources.iter().map(|words| sentence_of(words, &[9])).collect(), run_words);
        let session = Session::new(review);
        let file = session.review.draft_of("draft.txt".as_ref(), Text::paragraph(&draft));
        let (report, text) = (session.lay(&file).report(), &file.text);
        let told: Vec<ByteRange> = report.findings.iter().map(|finding| finding.draft.range)
            .chain(report.explained.iter().map(|explained| explained.draft.range))
            .collect();
        let words: Vec<&str> = text.words.iter().map(|word| text.text.slice(*word)).collect();
        for source in &sources {
            let theirs: Vec<String> = source.iter().map(|number| word(*number)).collect();
            for ours in words.windows(run_words).enumerate() {
                let (at, run) = ours;
                if theirs.windows(run_words).any(|window| window == run) {
                    for word in &text.words[at..at + run_words] {
                        prop_assert!(
                            told.iter().any(|told| told.covers(*word)),
                            "{:?} of {run:?} is in none of {told:?}\ndraft: {draft:?}", text.text.slice(*word)
                        );
                    }
                }
            }
        }
    }
}
