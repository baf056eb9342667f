//! Paraphrase: `close-paraphrase`, `uncredited-paraphrase` and `credit-elsewhere`.
//!
//! How sure it is that a passage comes from a source is asked first ([`Sureness`]); what follows from
//! its degree and its credit comes after.

use crate::overlap::support::{self, Sureness};
use crate::overlap::{Degree, Passage};

use super::judging::Judged;
use super::{Credit, CreditState, Kind, Weight};

/// Content words, names and numbers aside, that a paraphrase must have kept: names alone show a topic.
pub(super) const LEAST_OWN_KEPT: usize = 4;

/// Strength (nats) from which on fewer are enough: then the sentence around the names is the source's too. Our own
/// calibration on sentences with single words changed, 2026-11-26.
pub(super) const STRONG: f32 = 32.0;
/// How many are enough then.
pub(super) const LEAST_KEPT_OF_STRONG: usize = 2;

/// How many are needed where the evidence is words without their order: a topic shares some of them.
pub(super) const LEAST_KEPT_OF_GATHERED: usize = 8;

fn least_own_kept(strength: f32) -> usize {
    if strength < support::LIKELY {
        LEAST_KEPT_OF_GATHERED
    } else if strength < STRONG {
        LEAST_OWN_KEPT
    } else {
        LEAST_KEPT_OF_STRONG
    }
}

/// Words below which a passage that is only likely a source's, without credit, is good to know and no more: a sentence. Our own
/// calibration on scripture that owes nothing to the source and on planted translations, 2026-12-01.
pub(super) const SENTENCE_WORDS: usize = 24;

/// The verdict on a passage without copies; `None` where there is nothing to say.
#[must_use]
pub(crate) fn judge(
    passage: &Passage,
    sure: Sureness,
    own_kept: usize,
    credit: &Credit,
    name: &str,
) -> Option<Judged> {
    if sure == Sureness::Doubtful {
        return None;
    }
    let degree = passage.measures.degree();
    let is_close = degree <= Degree::LightRevision;
    if own_kept < least_own_kept(passage.support.strength()) {
        return None;
    }
    let kind = match (credit.state, is_close) {
        (CreditState::Elsewhere, _) => Kind::CreditElsewhere,
        (_, true) => Kind::CloseParaphrase,
        // A citation that points at no known reference may well be the credit.
        (CreditState::None, false) if !credit.citations.is_empty() => return None,
        (CreditState::None, false) => Kind::UncreditedParaphrase,
        (CreditState::Credited, false) => return None,
    };
    let weight = match (kind, degree, sure) {
        (Kind::CloseParaphrase, Degree::Verbatim | Degree::NearCopy, _) => Weight::Act,
        (Kind::CloseParaphrase, _, Sureness::Certain) if credit.state == CreditState::None => {
            Weight::Act
        }
        // Nothing but its wording speaks for the source here, and that of a single sentence is soon alike.
        (Kind::CloseParaphrase, ..)
            if credit.state == CreditState::None && passage.measures.words < SENTENCE_WORDS =>
        {
            Weight::Know
        }
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
            "Most of the wording is still the source's. Quote it with marks and page, or put the source away and write the point again."
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
                "The content and its distinctive words are from {name}, but the citation here is to {cited}. Cite {name}, or check which work the point is from. {rewrite}"
            )
        }
        // What is cited here is unknown, so it may be this very work.
        (_, CreditState::None) if !credit.citations.is_empty() => {
            format!("{rewrite} If the citation here does not mean {name}, correct it.")
        }
        (_, CreditState::None) => {
            format!("{rewrite} Whatever its wording, the point needs a citation of {name}.")
        }
        _ => rewrite.to_owned(),
    }
}
