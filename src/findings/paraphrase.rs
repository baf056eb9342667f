//! Paraphrase: `close-paraphrase`, `uncredited-paraphrase` and `credit-elsewhere`.
//!
//! How sure it is that a passage comes from a source is asked first ([`sureness`]); what follows from
//! its degree and its credit comes after.

use crate::overlap::{Degree, Passage};

use super::passage::Judged;
use super::{Credit, CreditState, Kind, Weight};

/// How sure it is that a passage comes from its source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sureness {
    /// It may be chance or a common topic: no finding.
    Doubtful,
    /// Likely.
    Likely,
    /// Chance can be left out.
    Certain,
}

/// Least content words of a passage that can be judged.
const LEAST_CONTENT: usize = 5;

/// Closeness and shared weight (nats) from which on a passage is likely, and certain, to come from
/// its source. Our own calibration, see DEVELOPERS.md.
const LIKELY: (f32, f32) = (0.42, 38.0);
const CERTAIN: (f32, f32) = (0.52, 60.0);

/// How sure it is that the passage comes from its source.
#[must_use]
pub fn sureness(passage: &Passage) -> Sureness {
    let reaches = |(closeness, weight): (f32, f32)| {
        passage.closeness >= closeness && passage.shared_weight >= weight
    };
    if passage.measures.content_words < LEAST_CONTENT {
        Sureness::Doubtful
    } else if reaches(CERTAIN) {
        Sureness::Certain
    } else if reaches(LIKELY) {
        Sureness::Likely
    } else {
        Sureness::Doubtful
    }
}

/// The verdict on a passage without copies; `None` where there is nothing to say.
#[must_use]
pub fn judge(passage: &Passage, credit: &Credit, name: &str) -> Option<Judged> {
    let sure = sureness(passage);
    if sure == Sureness::Doubtful {
        return None;
    }
    let degree = passage.measures.degree();
    let is_close = degree <= Degree::LightRevision;
    let kind = match (credit.state, is_close) {
        (CreditState::Elsewhere, _) => Kind::CreditElsewhere,
        (_, true) => Kind::CloseParaphrase,
        (CreditState::None, false) => Kind::UncreditedParaphrase,
        (CreditState::Credited, false) => return None,
    };
    let weight = match (kind, degree, sure) {
        (Kind::CloseParaphrase, Degree::Verbatim | Degree::NearCopy, _) => Weight::Act,
        (Kind::CloseParaphrase, ..) if credit.state == CreditState::None => Weight::Act,
        (Kind::CreditElsewhere, _, Sureness::Certain) => Weight::Act,
        (_, _, Sureness::Certain) => Weight::Look,
        _ if is_close => Weight::Look,
        _ => Weight::Know,
    };
    Some(Judged {
        kind,
        weight,
        advice: advice(kind, degree, credit, name),
    })
}

fn advice(kind: Kind, degree: Degree, credit: &Credit, name: &str) -> String {
    let rewrite = match degree {
        Degree::Verbatim | Degree::NearCopy => {
            "Most of the wording is still the source's. Quote it with marks and page, or put the source away and write the point afresh."
        }
        Degree::LightRevision => {
            "The sentences still follow the source's with words exchanged. Put the source away, say what matters of it for your argument, then check the facts."
        }
        Degree::HeavyRevision | Degree::Restructured => "The wording is mostly your own.",
    };
    match (kind, credit.state) {
        (Kind::CreditElsewhere, _) => {
            let cited = credit.citations.join(", ");
            format!(
                "The content and its telling words are from {name}, but the citation here is to {cited}. Cite {name}, or check which work the point is from. {rewrite}"
            )
        }
        (_, CreditState::None) => {
            format!("{rewrite} Whatever its wording, the point needs a citation of {name}.")
        }
        _ => rewrite.to_owned(),
    }
}
