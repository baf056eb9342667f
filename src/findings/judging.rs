//! From a passage to its finding: whether it is a copy, a paraphrase or nothing to speak of, and the
//! finding with everything that makes it plain.

use crate::overlap::passages::BESIDE_COPIES;
use crate::overlap::strings::Run;
use crate::overlap::support::Sureness;
use crate::overlap::{Degree, Passage, shared_places};
use crate::review::{Key, PartKind};

use super::credit::credit;
use super::laid::LaidDraft;
use super::lost_marks::{Lost, LostMarks};
use super::session::Holding;
use super::trail::{Trails, is_close, lost_place, note_from_source, note_place};
use super::{CreditState, Evidence, Explained, Kind, Observation, Weight, copying, paraphrase};

/// A verdict: what it is, how much it matters, what would mend it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Judged {
    /// The kind.
    pub kind: Kind,
    /// The weight.
    pub weight: Weight,
    /// The advice.
    pub advice: String,
}

/// What was found of the passages so far.
#[derive(Debug, Default)]
struct Verdicts {
    findings: Vec<Observation>,
    explained: Vec<Explained>,
    /// For each lost quotation, whether a finding speaks of it.
    reported: Vec<bool>,
}

/// What the rules on passages have to hand.
#[derive(Debug)]
pub(crate) struct Rules<'a> {
    /// The draft, laid on the review.
    pub laid: &'a LaidDraft,
    /// The ways through the notes.
    pub trails: Trails,
    /// Marked in the notes, unmarked here.
    pub lost: Vec<LostMarks>,
}

impl Rules<'_> {
    /// All findings on the passages, and the overlaps that were explained away.
    #[must_use]
    pub(crate) fn judge_all(&self, passages: &[Passage]) -> (Vec<Observation>, Vec<Explained>) {
        let mut verdicts = Verdicts {
            reported: vec![false; self.lost.len()],
            ..Verdicts::default()
        };
        for passage in passages {
            let Some(source) = self.laid.session.source(passage.document) else {
                continue;
            };
            // Where nothing is credited, all of it is one borrowing; where something is, each sort of sentence is
            // judged for itself.
            if self.credit(passage, &source.key).state == CreditState::Credited {
                for part in self.laid.parts(passage) {
                    self.judge_part(&part, &source.key, &mut verdicts);
                }
            } else {
                self.judge_part(passage, &source.key, &mut verdicts);
            }
        }
        self.judge_untold(&mut verdicts);
        for (lost, reported) in self.lost.iter().zip(verdicts.reported) {
            if !reported {
                verdicts.findings.extend(self.lost_without_source(lost));
            }
        }
        (verdicts.findings, verdicts.explained)
    }

    /// Judges copies that stood in a passage of which only other parts were told: no copy is lost for what stands around it.
    fn judge_untold(&self, verdicts: &mut Verdicts) {
        let draft = &self.laid.draft;
        let mut told = vec![false; draft.stream.len()];
        let findings = verdicts.findings.iter().map(|one| one.draft.range);
        let explained = verdicts.explained.iter().map(|one| one.draft.range);
        for range in findings.chain(explained) {
            told[draft.stream.within(&draft.text, range).as_range()].fill(true);
        }
        for copy in self.laid.untold_copies(&mut told) {
            let Some(source) = self.laid.session.source(copy.document) else {
                continue;
            };
            let (copies, away) = copying::split(&copy, self.laid);
            let explained = copying::explained(&copy, &away, self.laid);
            verdicts.explained.extend(explained);
            self.judge(&copy, &copies, &away, &source.key, verdicts);
        }
    }

    /// Judges sentences of one sort. Kind and degree have to agree, so a copy in the writer's own words is only the copy.
    fn judge_part(&self, passage: &Passage, key: &Key, verdicts: &mut Verdicts) {
        let (copies, away) = copying::split(passage, self.laid);
        let explained = copying::explained(passage, &away, self.laid);
        verdicts.explained.extend(explained);
        let degree = passage.measures.degree();
        if !copies.is_empty() && degree > Degree::NearCopy {
            if let Some(judged) = self.around_copies(passage, &copies, key) {
                return self.take(passage, judged, key, verdicts);
            }
            if degree > Degree::LightRevision {
                for alone in self.laid.copies_alone(passage, &copies) {
                    let (copies, away) = copying::split(&alone, self.laid);
                    self.judge(&alone, &copies, &away, key, verdicts);
                }
                return;
            }
        }
        self.judge(passage, &copies, &away, key, verdicts);
    }

    /// Asks all rules about a passage.
    fn judge(
        &self,
        passage: &Passage,
        copies: &[Run],
        away: &[(Run, String)],
        key: &Key,
        verdicts: &mut Verdicts,
    ) {
        let lost = Lost::within(&self.lost, passage.draft);
        let credit = self.credit(passage, key);
        let judged = copying::judge(passage, copies, &lost, &credit, self.laid)
            .or_else(|| self.reworded(passage, away, &credit, key));
        if let Some(judged) = judged {
            self.take(passage, judged, key, verdicts);
        }
    }

    /// The verdict on a reworded passage with copies in it, where the words around these are the source's too and are a
    /// finding by themselves. Otherwise the copies alone are one, so that kind and degree agree.
    fn around_copies(&self, passage: &Passage, copies: &[Run], key: &Key) -> Option<Judged> {
        let lost = Lost::within(&self.lost, passage.draft);
        let beside = passage.support_beside(copies, &self.laid.draft, &self.laid.session.library);
        if !lost.marks.is_empty() || beside.weight < BESIDE_COPIES {
            return None;
        }
        let credit = self.credit(passage, key);
        let judged = self.reworded(passage, &[], &credit, key)?;
        if self.own(passage, judged.kind, key).is_some() {
            return None;
        }
        Some(copying::within_reworded(judged, copies, self.laid))
    }

    fn reworded(
        &self,
        passage: &Passage,
        away: &[(Run, String)],
        credit: &super::Credit,
        key: &Key,
    ) -> Option<Judged> {
        let name = self.laid.name(key);
        let sure = self.sureness(passage, away);
        let own_kept = self.laid.fixed.own_kept(passage, &self.laid.draft);
        paraphrase::judge(passage, sure, own_kept, credit, &name)
    }

    fn credit(&self, passage: &Passage, key: &Key) -> super::Credit {
        let place = self.laid.place_of(passage.draft);
        credit(self.laid, place.range, key)
    }

    /// Takes a verdict down, as a finding or as the writer's own.
    fn take(&self, passage: &Passage, judged: Judged, key: &Key, verdicts: &mut Verdicts) {
        let place = self.laid.place_of(passage.draft);
        if let Some(why) = self.own(passage, judged.kind, key) {
            verdicts.explained.push(Explained {
                draft: place,
                source: key.clone(),
                why,
            });
            return;
        }
        let lost = Lost::within(&self.lost, passage.draft);
        for (reported, marks) in verdicts.reported.iter_mut().zip(&self.lost) {
            *reported |= lost.marks.contains(&marks);
        }
        let by_way_of = match judged.kind {
            Kind::LostQuotationMarks => lost.longest(),
            _ => None,
        };
        let credit = self.credit(passage, key);
        let finding = self.finding(passage, judged, by_way_of, key, credit, place);
        verdicts.findings.push(finding);
    }

    /// How sure it is that a passage comes from its source, overlaps that were explained away left out.
    pub(super) fn sureness(&self, passage: &Passage, away: &[(Run, String)]) -> Sureness {
        if away.is_empty() {
            return passage.support.sureness();
        }
        let runs: Vec<Run> = away.iter().map(|(run, _)| *run).collect();
        passage
            .support_beside(&runs, &self.laid.draft, &self.laid.session.library)
            .sureness()
    }

    /// The finding that a verdict on a passage makes.
    pub(super) fn finding(
        &self,
        passage: &Passage,
        judged: Judged,
        lost: Option<&LostMarks>,
        key: &Key,
        credit: super::Credit,
        draft: super::DraftPlace,
    ) -> Observation {
        let laid = self.laid;
        let from = Some((passage.document, passage.source));
        let note = match lost {
            Some(lost) => lost_place(laid, lost, from),
            None => self
                .trails
                .note(laid, passage.draft, key)
                .and_then(|note| note_place(laid, note, from)),
        };
        let document = &laid.session.library.documents[passage.document];
        let mut also_in: Vec<Key> = Vec::new();
        for other in &passage.also_in {
            if let Some(source) = laid.session.source(*other)
                && source.key != *key
                && !also_in.contains(&source.key)
            {
                also_in.push(source.key.clone());
            }
        }
        Observation {
            source: laid.source_place(passage.document, passage.source),
            note,
            degree: Some(passage.measures.degree()),
            measures: Some(passage.measures),
            credit: Some(credit),
            evidence: Evidence {
                shared: shared_places(&passage.alignment, &laid.draft, document),
                differences: Vec::new(),
                also_in,
            },
            ..Observation::new(judged.kind, judged.weight, draft, judged.advice)
        }
    }

    /// Why a reworded passage is the writer's own by way of the notes, if it is: their comments reused,
    /// or their summary where the summary itself is far from the source. Copies are never: a source's
    /// words are not the writer's for standing in the notes.
    fn own(&self, passage: &Passage, kind: Kind, key: &Key) -> Option<String> {
        if matches!(kind, Kind::UnmarkedCopy | Kind::LostQuotationMarks) {
            return None;
        }
        let from_source = |note: &Passage| {
            note_from_source(self.laid, note, passage.document, passage.source)
                .map(|measures| measures.degree())
        };
        // Thoughts on a text share its vocabulary, so comments may come nearer to it than a summary.
        let comment = self.trails.comment(self.laid, passage, key);
        if let Some((note, on)) = comment
            && is_taken_over(passage, note)
            && from_source(note).is_some_and(|degree| degree > Degree::NearCopy)
        {
            return Some(format!("your own comments on {on}"));
        }
        let note = self.trails.note(self.laid, passage.draft, key)?;
        let is_summary = matches!(
            self.laid.session.holding(note.document),
            Some(Holding::Note(_, PartKind::Summary))
        );
        let is_far = from_source(note).is_some_and(|degree| !is_close(degree));
        (is_summary && is_far && is_taken_over(passage, note))
            .then(|| "your own summary, which is far from the source".to_owned())
    }

    /// Words marked in the notes and not here, that no stored source holds.
    fn lost_without_source(&self, lost: &LostMarks) -> Option<Observation> {
        let laid = self.laid;
        let draft = laid.place_of(lost.draft);
        let Some(Holding::Note(entry, _)) = laid.session.holding(lost.document) else {
            return None;
        };
        let credit = entry.key.as_ref().map(|key| credit(laid, draft.range, key));
        let advice = copying::put_back(lost, laid);
        Some(Observation {
            note: lost_place(laid, lost, None),
            credit,
            ..Observation::new(Kind::LostQuotationMarks, Weight::Act, draft, advice)
        })
    }
}

/// Whether a draft's passage came from the note rather than from the source: it is nearer to the note, and
/// where it is close to the source too, hardly a word of the note was changed.
fn is_taken_over(passage: &Passage, note: &Passage) -> bool {
    note.measures.position() < passage.measures.position()
        && (!is_close(passage.measures.degree()) || note.measures.degree() <= Degree::NearCopy)
}
