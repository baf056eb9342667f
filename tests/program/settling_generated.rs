//! Guarantees of decisions on generated drafts, through the library: settling every finding leaves nothing
//! open, and editing an unrelated paragraph neither reopens nor loses one.

use std::fs;

use crate::common::{HARROW, QUILL};
use ownwords::findings::decision_on;
use ownwords::review::{self, Decision, DecisionsError};
use proptest::prelude::*;

/// Sentences of the two sources, long enough to be findings when copied.
fn copied() -> Vec<String> {
    let both = format!("{HARROW} {QUILL}").replace('\n', " ");
    both.split_inclusive(". ")
        .map(str::trim)
        .filter(|sentence| sentence.split_whitespace().count() > 11 && !sentence.contains('['))
        .map(str::to_owned)
        .collect()
}

/// Sentences of the writer's own.
const OWN: [&str; 6] = [
    "My question here is a narrow one, and I leave the politics of budgets to others.",
    "None of this settles what a parish ought to do next winter.",
    "Two points deserve more patience than they usually get.",
    "I return to the matter of cost towards the end of this part.",
    "So far the argument has moved on familiar ground.",
    "Readers in a hurry may skip the table.",
];

/// A paragraph: numbers of sentences, even ones the writer's own, odd ones copied.
fn paragraph() -> impl Strategy<Value = Vec<usize>> {
    proptest::collection::vec(0usize..40, 1..4)
}

/// A paragraph that begins and ends with sentences of the writer's own, so that no passage reaches over
/// its ends.
fn closed() -> impl Strategy<Value = Vec<usize>> {
    paragraph().prop_map(|mut numbers| {
        numbers.splice(0..0, [2, 0]);
        numbers.extend([4, 6]);
        numbers
    })
}

fn written(paragraphs: &[Vec<usize>]) -> String {
    let copied = copied();
    let sentence = |number: &usize| match number % 2 {
        0 => OWN[number / 2 % OWN.len()].to_owned(),
        _ => copied[number / 2 % copied.len()].clone(),
    };
    let paragraph =
        |numbers: &Vec<usize>| numbers.iter().map(sentence).collect::<Vec<_>>().join(" ");
    paragraphs
        .iter()
        .map(paragraph)
        .collect::<Vec<_>>()
        .join("\n\n")
        + "\n"
}

struct Folder(crate::common::Review);

impl Folder {
    fn new() -> Self {
        Self(crate::common::Review::of_two())
    }

    /// Open and settled findings of a draft, and how many decisions have lapsed.
    fn check(&self, draft: &str) -> (usize, usize, usize) {
        let report = self.report(draft);
        let findings = &report.drafts[0].findings;
        let settled = findings
            .iter()
            .filter(|finding| finding.settled.is_some())
            .count();
        (
            findings.len() - settled,
            settled,
            report.drafts[0].lapsed.len(),
        )
    }

    fn report(&self, draft: &str) -> ownwords::findings::CheckReport {
        let path = self.0.path("drafts/draft.md");
        fs::write(&path, draft).unwrap();
        let session = ownwords::Session::open(self.0.root()).unwrap();
        session.check(&[path]).unwrap()
    }

    /// Settles every open finding of a draft.
    fn settle_all(&self, draft: &str) {
        let report = self.report(draft);
        review::change(self.0.root(), |there| {
            let mut new: Vec<Decision> = Vec::new();
            for finding in report.drafts[0]
                .findings
                .iter()
                .filter(|f| f.settled.is_none())
            {
                let others = there.all().iter().chain(&new);
                let decision = decision_on(
                    finding,
                    "drafts/draft.md",
                    ("looked at", "2026-03-02"),
                    others,
                );
                new.push(decision);
            }
            Ok::<_, DecisionsError>((new, Vec::new()))
        })
        .unwrap();
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn settling_every_finding_leaves_nothing_open(paragraphs in proptest::collection::vec(paragraph(), 1..7)) {
        let folder = Folder::new();
        let draft = written(&paragraphs);
        let (open, _, _) = folder.check(&draft);
        folder.settle_all(&draft);
        prop_assert_eq!(folder.check(&draft), (0, open, 0));
        // The same words wrapped anew.
        let wrapped = draft.replace(", ", ",\n").replace(" of ", "\nof ");
        prop_assert_eq!(folder.check(&wrapped), (0, open, 0));
    }

    #[test]
    fn editing_an_unrelated_paragraph_changes_nothing(
        paragraphs in proptest::collection::vec(closed(), 2..6),
        at in any::<prop::sample::Index>(),
        before in 0usize..6,
        after in 0usize..6,
        settled in any::<bool>(),
    ) {
        let folder = Folder::new();
        let at = at.index(paragraphs.len() + 1);
        let edited = |own: &[usize]| {
            let mut paragraphs = paragraphs.clone();
            paragraphs.insert(at, own.iter().map(|number| number * 2).collect());
            written(&paragraphs)
        };
        // The unrelated paragraph stands there, says something else, grows, and is gone.
        let draft = edited(&[before]);
        if settled {
            folder.settle_all(&draft);
        }
        let as_it_was = folder.check(&draft);
        for now in [edited(&[after]), edited(&[after, before, 2]), written(&paragraphs)] {
            prop_assert_eq!(folder.check(&now), as_it_was, "{}", now);
        }
    }

    /// With only some settled, it is the same ones that are settled after the paragraphs change places.
    #[test]
    fn paragraphs_may_change_places(
        paragraphs in proptest::collection::vec(closed(), 2..6),
        which in proptest::collection::vec(any::<bool>(), 24),
        by in 1usize..5,
    ) {
        let folder = Folder::new();
        let draft = written(&paragraphs);
        let report = folder.report(&draft);
        let chosen: Vec<_> = report.drafts[0]
            .findings
            .iter()
            .zip(&which)
            .filter(|(_, chosen)| **chosen)
            .map(|(finding, _)| finding)
            .collect();
        review::change(folder.0.root(), |_| {
            let mut new: Vec<Decision> = Vec::new();
            for finding in &chosen {
                new.push(decision_on(finding, "drafts/draft.md", ("looked at", "2026-03-02"), new.clone().iter()));
            }
            Ok::<_, DecisionsError>((new, Vec::new()))
        }).unwrap();
        let settled = |draft: &str| {
            let report = folder.report(draft);
            let mut words: Vec<String> = report.drafts[0]
                .findings
                .iter()
                .filter(|finding| finding.settled.is_some())
                .map(|finding| finding.draft.text.clone())
                .collect();
            words.sort();
            words
        };
        let before = settled(&draft);
        prop_assert_eq!(before.len(), chosen.len());
        let mut turned = paragraphs.clone();
        turned.rotate_left(by % paragraphs.len());
        prop_assert_eq!(settled(&written(&turned)), before);
    }
}
