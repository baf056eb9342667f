//! Wording of the sources in the notes: the verdicts of a draft's rules, read as notes want it.
//!
//! - In a summary, and among the quotations, copies without marks and close wording are reported; other words for
//!   what the source says are what a summary is.
//! - In the comments any of them is `comment-copies-source`.
//! - An entry's own reference needs no citation in it. Wording of another work does.

use crate::findings::credit::credit;
use crate::findings::judging::{Judged, Rules};
use crate::findings::laid::LaidDraft;
use crate::findings::lost_marks::Lost;
use crate::findings::trail::is_close;
use crate::findings::{Credit, CreditState, Explained, Kind, Observation, copying, paraphrase};
use crate::overlap::chains::unmarked_words;
use crate::overlap::strings::Run;
use crate::overlap::{Degree, Passage};
use crate::review::{Key, PartKind};
use crate::text::Locator;

use super::together::{LaidPart, Together};

type At<'l, T> = (&'l LaidPart, T);

/// All findings on wording, and the overlaps that were explained away, each with its part.
pub(super) fn judge_all<'l>(
    rules: &Rules<'_>,
    passages: &[Passage],
    together: &'l Together,
) -> (Vec<At<'l, Observation>>, Vec<At<'l, Explained>>) {
    let laid = rules.laid;
    let (mut findings, mut explained) = (Vec::new(), Vec::new());
    for passage in passages {
        let bytes = laid.draft.stream.bytes(laid.text(), passage.draft);
        let (Some(source), Some(stretch)) =
            (laid.session.source(passage.document), together.at(bytes))
        else {
            continue;
        };
        let (copies, away) = copying::split(passage, laid);
        let reported = copying::explained(passage, &away, laid);
        explained.extend(reported.into_iter().map(|one| (stretch, one)));
        let copies: Vec<Run> = copies
            .into_iter()
            .filter(|run| is_in(stretch, run, laid))
            .collect();
        let own = entry_key(laid, stretch);
        let credit = implied_credit(laid, passage, &source.key, own);
        let Some(judged) = judge(rules, passage, &copies, &away, &credit, &source.key) else {
            continue;
        };
        let Some(judged) = in_notes(judged, passage, &copies, stretch, &source.key, laid) else {
            continue;
        };
        let place = laid.place_of(passage.draft);
        let mut finding = rules.finding(passage, judged, None, &source.key, credit, place);
        if own == Some(&source.key) {
            finding.credit = None;
        }
        findings.push((stretch, finding));
    }
    (findings, explained)
}

/// Whether most of a copied run lies in a part.
fn is_in(stretch: &LaidPart, run: &Run, laid: &LaidDraft) -> bool {
    let bytes = laid.draft.stream.bytes(laid.text(), run.draft);
    2 * stretch.here.intersection(bytes).len() > bytes.len()
}

fn entry_key<'r>(laid: &'r LaidDraft, stretch: &LaidPart) -> Option<&'r Key> {
    let entries = &laid.session.review.entries;
    entries.get(stretch.entry)?.key.as_ref()
}

/// The credit of a passage: its entry's own reference is credited by the entry, another one only by a
/// citation.
fn implied_credit(laid: &LaidDraft, passage: &Passage, key: &Key, own: Option<&Key>) -> Credit {
    if own == Some(key) {
        return Credit {
            state: CreditState::Credited,
            citations: Vec::new(),
        };
    }
    let place = laid.place_of(passage.draft);
    let mut credit = credit(laid, place.range, key);
    credit.citations.retain(|written| names_work(written));
    if credit.state == CreditState::None && own.is_some() {
        credit.state = CreditState::Elsewhere;
    }
    credit
}

/// Whether a citation names a work, and is not just a page or a mark that an entry implies.
fn names_work(citation: &str) -> bool {
    let inside = citation.trim_matches(['(', ')', '[', ']']);
    inside.contains(char::is_alphanumeric) && Locator::parse(inside).is_none()
}

fn judge(
    rules: &Rules<'_>,
    passage: &Passage,
    copies: &[Run],
    away: &[(Run, String)],
    credit: &Credit,
    key: &Key,
) -> Option<Judged> {
    let laid = rules.laid;
    copying::judge(passage, copies, &Lost::default(), credit, laid).or_else(|| {
        let sure = rules.sureness(passage, away);
        let own_kept = laid.fixed.own_kept(passage, &laid.draft);
        paraphrase::judge(passage, sure, own_kept, credit, &laid.name(key))
    })
}

/// A verdict on a draft as one on notes; `None` where it is nothing in notes.
fn in_notes(
    judged: Judged,
    passage: &Passage,
    copies: &[Run],
    stretch: &LaidPart,
    key: &Key,
    laid: &LaidDraft,
) -> Option<Judged> {
    let degree = passage.measures.degree();
    if judged.kind != Kind::UnmarkedCopy && !is_close(degree) {
        return None;
    }
    let runs = copies.iter().map(|run| unmarked_words(run, &laid.draft));
    let copied = runs.max().filter(|_| judged.kind == Kind::UnmarkedCopy);
    let own = entry_key(laid, stretch);
    let elsewhere = (own.is_some() && own != Some(key)).then(|| laid.name(key));
    let kind = match (stretch.part, judged.kind) {
        (PartKind::Comments, _) => Kind::CommentCopiesSource,
        (_, kind) => kind,
    };
    Some(Judged {
        kind,
        advice: advice(stretch.part, copied, degree, elsewhere.as_deref()),
        ..judged
    })
}

/// What would mend source wording in a part of an entry. `copied` is the longest run of a copy,
/// `elsewhere` the name of the work where it is not the entry's own.
fn advice(
    part: PartKind,
    copied: Option<usize>,
    degree: Degree,
    elsewhere: Option<&str>,
) -> String {
    let what = match (copied, degree) {
        (Some(words), _) => {
            format!("{words} words in a row stand here as they stand in the source.")
        }
        (None, Degree::Verbatim | Degree::NearCopy) => {
            "Most of the wording here is still the source's.".to_owned()
        }
        (None, _) => "The sentences here follow the source's with words exchanged.".to_owned(),
    };
    let mend = match part {
        PartKind::Comments => {
            "Comments are taken for your own later: set the words off with marks and page, or say what you think of them in your own sentence."
        }
        PartKind::Quotations => "Put quotation marks and the page, as with your other quotations.",
        PartKind::Summary | PartKind::Reference if copied.is_some() => {
            "Put marks and the page now, while the text is at hand, or say it in your own sentence; what stands unmarked here ends up unmarked in a draft."
        }
        PartKind::Summary | PartKind::Reference => {
            "Put the source away and explain the point as you would to a friend; what stays close here stays close in a draft."
        }
    };
    match elsewhere {
        Some(name) => {
            format!("{what} {mend} It is from {name}, not from this entry's work: name it here.")
        }
        None => format!("{what} {mend}"),
    }
}

/// A verdict on a quotation in the notes; `None` where it is nothing in notes.
pub(super) fn of_quotation(
    mut finding: Observation,
    stretch: &LaidPart,
    laid: &LaidDraft,
) -> Option<Observation> {
    let own = entry_key(laid, stretch);
    match finding.kind {
        // Both are for drafts; an entry without a reference is reported as such.
        Kind::LongQuotationInline | Kind::HeavilyQuoted | Kind::QuotationWithoutCredit => {
            return None;
        }
        // Without its text nothing can be said, and the entry's line says so once.
        Kind::QuotationNotFound if !own.is_some_and(|key| laid.session.has_text(key)) => {
            return None;
        }
        Kind::CreditElsewhere => {
            let source = finding.source.as_ref()?;
            let page = source
                .pages
                .as_ref()
                .map(|(first, _)| format!(", p. {first}"));
            finding.advice = format!(
                "These words stand in {}{}, not in this entry's work. Move the quotation to the entry on that work, or name the work beside it.",
                source.name,
                page.unwrap_or_default()
            );
        }
        _ => {}
    }
    // That an entry credits its own reference is no news, nor is a page that does.
    let is_named = |credit: &Credit| credit.citations.iter().any(|written| names_work(written));
    finding.credit = finding
        .credit
        .filter(|credit| credit.state == CreditState::Elsewhere && is_named(credit));
    Some(finding)
}
