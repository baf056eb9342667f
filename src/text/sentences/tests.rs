use proptest::prelude::*;

use super::*;
use crate::text::{Block, MarkedText, Origin, PageLabel, PageStart, Pages, words};

fn cut(text: &Text) -> Vec<&str> {
    let words = words::words(text);
    sentences(text, &words)
        .iter()
        .map(|sentence| text.slice(sentence.range))
        .collect()
}

/// Cuts each case, where `|` stands where a sentence must end and nowhere else, and fails with all
/// that come out otherwise.
#[track_caller]
fn assert_cuts(cases: &[&str]) {
    let wrong: Vec<String> = cases
        .iter()
        .filter_map(|marked| {
            let expected: Vec<&str> = marked.split('|').map(str::trim).collect();
            let text = Text::paragraph(&marked.replace('|', ""));
            let found = cut(&text);
            (found != expected).then(|| format!("{expected:?}\n  was {found:?}\n"))
        })
        .collect();
    assert!(wrong.is_empty(), "{}", wrong.concat());
}

#[test]
fn sentences_by_case() {
    let cases = [
        // Plain ends.
        "The lamps go off.| The moths return.",
        "The lamps go off!| Do moths return?| They do.",
        "The lamps go off.| 40 moths return.",
        "The lamps\ngo off.|\nThe moths\nreturn",
        "The lamps go off?!| They do.",
        "It is dark .| The moths return.",
        "Moths (and beetles) return.| Lamps (old ones) stay.",
        // Short forms.
        "Some moths, e.g. the hawk moths, return.| Others, i.e. The rest, stay.",
        "See Harrow et al. (2014) for more.| Okoro et al. 2016 agree.",
        "It was found by Harrow et al.| The lamps were old.",
        "Moths, beetles, etc. return to the lamp.",
        "Moths, beetles, etc.| Lamps draw them all.",
        "Compare cf. Lindqvist on lamps vs. Harrow on moths.",
        "See pp. 3–4 and p. 12 there.| See p. xiv as well.",
        "As Fig. 3 and Figs. 4 and 5 show, Eq. (3) holds.| Tab. 2 lists it.",
        "See App. B and Fig. S2 and Vol. IV of it.",
        "A moth ate a ripe fig.| The lamp went out.",
        "We asked and they said no.| The lamps stayed.",
        "Take no. 3 or nos. 4 and 5.| No.| The end.",
        "No.| I think the lamps stay.",
        "Dr. Harrow met Prof. Okoro and Mrs. Lindqvist on St. Hilda Road.",
        "Lamps burn in Mill St.| They always did.",
        "John Okoro Jr. wrote it.| It was ca. 1900 and c. 1910.",
        "It took approx. Five lamps.",
        "The U.S. Forest Service counts moths.| It works in the U.S. and the U.K. too.",
        "They left the U.S.| The moths stayed.",
        "She holds a Ph.D. and a lamp.| He took a Ph.D.| In time he left.",
        "At 10 p.m. the lamps go off.| They go on at 5 a.m.| Moths hide.",
        "In Jan. 2014 and Sept. they flew.| It ended in Dec.| Moths slept.",
        "From the 2nd ed. Night Press made a third.",
        "In Harrow, J. (ed.) Night Lamps there are moths.",
        "Silene sp. was visited by Hadena spp.| Others were not.",
        // Initials.
        "J. R. Harrow wrote it.| J.R. Harrow did.| J.-P. Okoro did not.",
        "Harrow, J. A. and Okoro, B. agree.",
        "They tried plan B.| However, it failed.",
        "S. latifolia is pale.| H. bicruris visits it.",
        // Numbers, lists, sections.
        "It rose by 3.5 lux to 1,203.75 units.| It fell later.",
        "It was 2014.| Then it rained.",
        "It rose to 3.5.| Then it fell.",
        "1. Lamps draw moths.| 2. Moths visit plants.",
        "2.1. Lamps draw moths.| 3. Some do.| IV. Others don't.",
        // Ellipses.
        "The lamps ... were old.| The moths … were not.",
        "The lamps were old...| The moths were not.",
        "The lamps were old…| The moths were not.",
        "The lamps . . . were old.| They [...] stayed.",
        "The lamps were old. . . .| Moths came.",
        "They crossed ... Mill Road at night.",
        "The lamps went off.| [...] Moths came.| […] They stayed.",
        // Quotations and brackets.
        "“The lamps go off.”| “The moths return.”",
        "\"The lamps go off.\"| 'The moths return.'| It is so.",
        "He asked, “Do moths return?” and left.",
        "“Do moths return?” Harrow asked.| They do.",
        "“Do moths return?” the author asks.| They do.",
        "“Do moths return?” Harrow (2014) asks.| They do.",
        "“Do moths return?”| Harrow argues that they do.",
        "“Do moths return?”| The lamps are off.",
        "“Moths!” she cried.| (They were moths.)| She left.",
        "“It is dark.” he said.",
        "He called it “dark.”| She called it ‘grey.’| So be it.",
        "Was it ‘dark’?| It was (so they say [in 2014]).| Fine.",
        "It is so (see Fig. 3).| It stays so.",
        "« La nuit tombe. »| « Elle est noire. »",
        "»Es ist Nacht.«| »Es bleibt so.«",
        "Who knows (?) what moths [!] Want is.",
        // Citations after the full stop.
        "The lamps go off. (Harrow, 2014)| The moths return.",
        "“The lamps go off.” (Harrow, 2014, p. 3).| The moths return.",
        "“The lamps go off.” (p. 3)| The moths return.",
        "The lamps go off. [12]| The moths return. [3, 4]",
        "The lamps go off. [@harrow2014, p. 3]| The moths return.",
        "The lamps go off.| (In 2014 they were still on.)| The moths return.",
        "The lamps go off (Harrow, 2014).| The moths return.",
        "Lamps, etc. (Harrow, 2014).| The moths return.",
        "Harrow et al. (2014) The moths return.",
        "The lamps go off.| (Harrow, 2014) and so on.",
        // Note numbers.
        "The lamps go off.12| The moths return.",
        "The lamps go off.”[3]| The moths return.",
        "The lamps go off.²| The moths return.",
        // Not an end.
        "See www.example.org/lamps.html for more.",
        "Lamps, moths, ... and plants.",
        "The node.js lamp and the .txt file.",
        // Other scripts.
        "光害。| 夜空！| 「暗い。」",
        "Свет горит.| Мотыльки летят.",
    ];
    assert_cuts(&cases);
}

#[test]
fn a_blank_line_ends_a_sentence() {
    assert_cuts(&[
        "The lamps go off|\n\nThe moths return",
        "The lamps go off|\r\n \r\nThe moths return",
        "The lamps go off\r\nand the moths return",
    ]);
}

#[test]
fn sentences_of_other_blocks() {
    let content =
        "Results. Lamps\n\nOne item\n\nA. B. 2014. Lamps. Press.\n\na\tb\nc\td\n\nlet x. Y";
    let kinds = [
        BlockKind::Heading { level: 1 },
        BlockKind::ListItem,
        BlockKind::ReferenceListItem,
        BlockKind::Table,
        BlockKind::Code,
    ];
    let mut start = 0;
    let blocks = content.split("\n\n").zip(kinds).map(|(part, kind)| {
        let range = ByteRange::of(start, start + part.len());
        start += part.len() + 2;
        Block { kind, range }
    });
    let text = Text::new(
        content.to_owned(),
        blocks.collect(),
        Pages::default(),
        Origin::Recoded,
    );
    let expected = [
        "Results. Lamps",
        "One item",
        "A. B. 2014. Lamps. Press.",
        "a",
        "b",
        "c",
        "d",
    ];
    assert_eq!(cut(&text), expected);
}

fn with_pages(content: &str) -> Text {
    let marks = content.match_indices("[p. ").filter_map(|(start, _)| {
        let length = content[start..].find(']')? + 1;
        Some(PageStart {
            label: PageLabel::new("1"),
            mark: ByteRange::of(start, start + length),
        })
    });
    Text::new(
        content.to_owned(),
        Text::paragraph(content).blocks().to_vec(),
        Pages::new(marks.collect()),
        Origin::Recoded,
    )
}

#[test]
fn a_page_mark_does_not_end_a_sentence() {
    let text =
        with_pages("[p. 1] 1. The lamps\n\n[p. 2]\n\nDim at night. [p. 3] They [p. 4] stay.");
    let expected = [
        "1. The lamps\n\n[p. 2]\n\nDim at night.",
        "They [p. 4] stay.",
    ];
    assert_eq!(cut(&text), expected);
}

#[test]
fn words_lie_in_their_sentence() {
    let marked = MarkedText::new(Text::paragraph("… “Lamps go off.” Moths come. …"));
    let ranges: Vec<_> = marked
        .sentences
        .iter()
        .map(|s| s.words.as_range())
        .collect();
    assert_eq!(ranges, [0..3, 3..5]);
}

fn prose() -> impl Strategy<Value = String> {
    let piece = prop_oneof![
        4 => "[A-Z]?[a-z]{1,5}",
        3 => "[ \n]{1,3}",
        4 => "[.!?…,;:]{1,4}",
        2 => "[\"'“”‘’«»()\\[\\]]{1,2}",
        2 => prop::sample::select(vec![
            "e.g.", "et al.", "J. R.", "(Harrow, 2014)", "[12]", "p. 3", "[p. 3]", "...", "1.",
            "light-\ning", "U.S.", "。", " ", "\u{A0}",
        ]).prop_map(str::to_owned),
        1 => any::<char>().prop_map(String::from),
    ];
    prop::collection::vec(piece, 0..60).prop_map(|parts| parts.concat())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 2000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_word_is_in_exactly_one_sentence(content in prose()) {
        let text = with_pages(&content);
        let words = words::words(&text);
        let found = sentences(&text, &words);
        let mut next = 0;
        for sentence in &found {
            prop_assert_eq!(sentence.words.start(), next);
            prop_assert!(!sentence.words.is_empty());
            next = sentence.words.end();
            for word in &words[sentence.words.as_range()] {
                prop_assert!(sentence.range.covers(*word));
            }
            prop_assert!(content.get(sentence.range.as_range()).is_some());
        }
        prop_assert_eq!(next, words.len());
        prop_assert!(found.windows(2).all(|pair| pair[0].range.end() <= pair[1].range.start()));
    }
}
