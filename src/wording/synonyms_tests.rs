//! How many of the pairs that writers exchange are found, and how often two unrelated words are taken for near.

use super::*;
use crate::wording::{lexicon, stem};

/// Pairs of learned prose, written down before the table was tuned. Most of the groups of our own list were written
/// by the same hand, so the share found here is a memory of the list as much as a measurement.
const PAIRS: &[(&str, &str)] = &[
    ("analyze", "examine"),
    ("assess", "evaluate"),
    ("assist", "help"),
    ("accurate", "correct"),
    ("adequate", "sufficient"),
    ("allocate", "assign"),
    ("alter", "change"),
    ("apparent", "obvious"),
    ("assume", "suppose"),
    ("attain", "achieve"),
    ("beneficial", "advantageous"),
    ("brief", "short"),
    ("build", "construct"),
    ("clarify", "explain"),
    ("collect", "gather"),
    ("commence", "begin"),
    ("compel", "force"),
    ("comprehend", "understand"),
    ("consequence", "result"),
    ("consider", "regard"),
    ("contemporary", "modern"),
    ("decline", "decrease"),
    ("demonstrate", "show"),
    ("detect", "discover"),
    ("diminish", "reduce"),
    ("distribute", "spread"),
    ("diverse", "varied"),
    ("dwell", "live"),
    ("eliminate", "remove"),
    ("emphasize", "stress"),
    ("enhance", "improve"),
    ("enormous", "huge"),
    ("entire", "whole"),
    ("error", "mistake"),
    ("establish", "found"),
    ("evidence", "proof"),
    ("examine", "inspect"),
    ("forbid", "prohibit"),
    ("frequent", "common"),
    ("gradual", "slow"),
    ("growth", "increase"),
    ("hazard", "danger"),
    ("illness", "disease"),
    ("illumination", "light"),
    ("impede", "hinder"),
    ("indicate", "suggest"),
    ("initial", "first"),
    ("investigate", "study"),
    ("lack", "absence"),
    ("main", "principal"),
    ("obtain", "acquire"),
    ("occur", "happen"),
    ("outcome", "result"),
    ("permit", "allow"),
    ("purchase", "buy"),
    ("rapid", "quick"),
    ("remedy", "cure"),
    ("require", "need"),
    ("scarce", "rare"),
    ("select", "choose"),
    ("shift", "move"),
    ("sufficient", "enough"),
    ("support", "back"),
    ("vanish", "disappear"),
    ("vital", "essential"),
    ("widespread", "common"),
    ("insect", "bug"),
    ("nocturnal", "nighttime"),
    ("lamp", "light"),
    ("meadow", "field"),
    ("pollen", "dust"),
    ("dim", "weaken"),
    ("municipality", "town"),
    ("householder", "resident"),
];

fn near(a: &str, b: &str) -> Option<Nearness> {
    nearness(&stem(a), &stem(b))
}

#[test]
fn most_pairs_of_learned_prose_are_found() {
    let found: Vec<_> = PAIRS.iter().map(|(a, b)| near(a, b)).collect();
    let same = found
        .iter()
        .filter(|n| **n == Some(Nearness::SameSense))
        .count();
    let hop = found
        .iter()
        .filter(|n| **n == Some(Nearness::OneHop))
        .count();
    assert!(same >= PAIRS.len() * 8 / 10, "{same}");
    assert!(same + hop >= PAIRS.len() * 9 / 10, "{same} + {hop}");
}

#[test]
fn words_of_different_pairs_are_seldom_near() {
    let (mut same, mut hop, mut all) = (0u32, 0u32, 0u32);
    for (i, (a, _)) in PAIRS.iter().enumerate() {
        for (_, b) in PAIRS
            .iter()
            .enumerate()
            .filter(|(j, _)| *j != i)
            .map(|(_, pair)| pair)
        {
            match near(a, b) {
                Some(Nearness::SameSense) => same += 1,
                Some(Nearness::OneHop) => hop += 1,
                None => {}
            }
            all += 1;
        }
    }
    assert!(f64::from(same) < 0.01 * f64::from(all));
    assert!(f64::from(hop) < 0.03 * f64::from(all));
}

#[test]
fn common_words_are_seldom_near_by_chance() {
    let common: Vec<_> = lexicon::stems()
        .filter(|s| lexicon::entry(s).is_some_and(|e| e.tags >= 20))
        .collect();
    let looked_up: Vec<_> = common.iter().map(|s| senses(s)).collect();
    let (mut same, mut hop, mut all) = (0u32, 0u32, 0u32);
    // A fixed stride that shares no factor with the count visits far-apart pairs evenly, without a random source.
    for (i, a) in looked_up.iter().enumerate() {
        for step in 1..100 {
            let Some(b) = looked_up.get((i + step * 97) % looked_up.len()) else {
                continue;
            };
            match a.nearness(b) {
                Some(Nearness::SameSense) => same += 1,
                Some(Nearness::OneHop) => hop += 1,
                None => {}
            }
            all += 1;
        }
    }
    assert!(all > 100_000);
    assert!(f64::from(same) < 0.01 * f64::from(all));
    assert!(f64::from(hop) < 0.03 * f64::from(all));
}

#[test]
fn our_own_groups_are_in_the_table() {
    for line in include_str!("data/own_synonyms.txt")
        .lines()
        .filter(|line| !line.starts_with('#'))
    {
        let words: Vec<_> = line
            .split_whitespace()
            .filter(|w| !crate::wording::is_function_word(w))
            .collect();
        for pair in words.windows(2) {
            assert_eq!(
                near(pair[0], pair[1]),
                Some(Nearness::SameSense),
                "{} {}",
                pair[0],
                pair[1]
            );
        }
    }
}

#[test]
fn some_pairs_by_name() {
    let cases = [
        ("began", "started", Some(Nearness::SameSense)),
        ("colours", "hue", Some(Nearness::SameSense)),
        ("explained", "explanation", Some(Nearness::OneHop)),
        ("moth", "committee", None),
        ("lamp", "moth", None),
        ("the", "moth", None),
        ("qwxyz", "moth", None),
        ("1990", "1991", None),
    ];
    for (a, b, expected) in cases {
        assert_eq!(near(a, b), expected, "{a} {b}");
        assert_eq!(near(b, a), expected, "{b} {a}");
    }
}

#[test]
fn ids_say_the_same_as_nearness() {
    let (a, b) = (senses(&stem("begin")), senses(&stem("start")));
    let ids: std::collections::HashSet<_> = a.ids().collect();
    assert!(b.ids().any(|id| ids.contains(&id)));
    assert!(senses("qwxyz").is_empty() && senses("qwxyz").hop_ids().next().is_none());
}
