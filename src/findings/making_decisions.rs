//! Decisions on findings as a person makes them: which finding is meant by an ID or its beginning, what is written down
//! of it, and which decision is taken back.
//!
//! Which decision then holds for which finding is decided in [`super::applying_decisions`].

use std::collections::BTreeMap;

use super::applying_decisions::decision_on;
use super::notes::NotesReport;
use super::{CheckReport, Finding, id};
use crate::review::{DECISIONS_FILE, Decision, Decisions, DecisionsError, Review};

/// Why nothing was decided.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum DecidingError {
    /// The decisions can't be read or changed.
    #[error(transparent)]
    Decisions(#[from] DecisionsError),
    /// No finding or decision has this ID.
    #[error("{id}: {what}{}", hint(.near))]
    Unknown {
        /// As typed.
        id: String,
        /// Where it was looked for.
        what: String,
        /// IDs that are nearly the same.
        near: Vec<String>,
    },
    /// Several begin like this.
    #[error("{id}: several begin like this: {}; type more of it", among.join("; "))]
    Several {
        /// As typed.
        id: String,
        /// Those that do, with a few words on each.
        among: Vec<String>,
    },
    /// The finding is settled already.
    #[error(
        "{id}: this was settled on {on} because: {because}. To give another reason, take it back first (--undo {decision})"
    )]
    Already {
        /// The ID.
        id: String,
        /// The day.
        on: String,
        /// The reason.
        because: String,
        /// The name of the decision in the file.
        decision: String,
    },
}

fn hint(near: &[String]) -> String {
    if near.is_empty() {
        String::new()
    } else {
        format!(" Did you mean {}?", near.join(" or "))
    }
}

/// A finding that can be settled.
#[derive(Debug, Clone)]
pub struct Candidate<'a> {
    /// Its file as the review names it.
    pub file: String,
    /// The finding.
    pub finding: &'a Finding,
}

impl Candidate<'_> {
    /// `uc-1a2b3c4d (unmarked-copy, drafts/chapter.md:12)`.
    #[must_use]
    pub fn shown(&self) -> String {
        let Finding {
            id, kind, draft, ..
        } = self.finding;
        format!("{id} ({}, {}:{})", kind.name(), self.file, draft.line)
    }
}

/// All findings of some drafts and of the notes, in order.
#[derive(Debug, Clone)]
pub struct Candidates<'a> {
    /// The findings.
    pub all: Vec<Candidate<'a>>,
}

impl<'a> Candidates<'a> {
    /// The findings of a check of drafts, and of one of the notes.
    #[must_use]
    pub fn of(review: &Review, report: &'a CheckReport, notes: Option<&'a NotesReport>) -> Self {
        let of_drafts = report
            .drafts
            .iter()
            .map(|draft| (review.name_of(&draft.path), &draft.findings));
        let entries = notes.into_iter().flat_map(|notes| &notes.entries);
        let of_notes = entries.map(|entry| {
            let file = review.name_of(&review.root.join(&entry.path));
            (file, &entry.findings)
        });
        let all = of_drafts.chain(of_notes).flat_map(|(file, findings)| {
            findings.iter().map(move |finding| Candidate {
                file: file.clone(),
                finding,
            })
        });
        Self { all: all.collect() }
    }

    /// The findings that are meant, each once: by their whole IDs, or by the beginning of just one.
    ///
    /// # Errors
    /// [`DecidingError`] where no finding or several are meant by one of them.
    pub fn choose(&self, typed: &[String]) -> Result<Vec<&Candidate<'a>>, DecidingError> {
        let mut chosen: Vec<&Candidate<'a>> = Vec::new();
        for typed in typed {
            let candidate = self.meant(typed)?;
            let is_same = |other: &&Candidate<'_>| other.finding.id == candidate.finding.id;
            if !chosen.iter().any(is_same) {
                chosen.push(candidate);
            }
        }
        Ok(chosen)
    }

    fn meant(&self, typed: &str) -> Result<&Candidate<'a>, DecidingError> {
        let mut by_id: BTreeMap<&str, &Candidate<'a>> = BTreeMap::new();
        for candidate in &self.all {
            by_id.entry(&candidate.finding.id).or_insert(candidate);
        }
        if let Some(exact) = by_id.get(typed) {
            return Ok(exact);
        }
        let begin: Vec<&Candidate<'a>> = by_id
            .iter()
            .filter(|(id, _)| !typed.is_empty() && id.starts_with(typed))
            .map(|(_, candidate)| *candidate)
            .collect();
        match begin.as_slice() {
            [only] => Ok(only),
            [] => Err(self.unknown(typed)),
            several => Err(DecidingError::Several {
                id: typed.to_owned(),
                among: several.iter().map(|candidate| candidate.shown()).collect(),
            }),
        }
    }

    fn unknown(&self, typed: &str) -> DecidingError {
        let mut files: Vec<&str> = self.all.iter().map(|c| c.file.as_str()).collect();
        files.dedup();
        let place = if files.is_empty() {
            "the drafts".to_owned()
        } else {
            files.join(", ")
        };
        DecidingError::Unknown {
            id: typed.to_owned(),
            what: format!(
                "no finding in {place} has this ID. `ownwords check` shows them; a passage gets a new ID when its words change, and a draft elsewhere is named with --in."
            ),
            near: near(typed, self.all.iter().map(|c| c.finding.id.as_str())),
        }
    }
}

/// The decisions to write for some findings, with a reason and the day (`YYYY-MM-DD`). `now` are the decisions in the
/// file, `before` those when the drafts were checked: one that came in between on the same passage is somebody else's on
/// the same thing.
///
/// # Errors
/// [`DecidingError::Already`] where one of the findings is settled.
pub fn decisions_on(
    chosen: &[&Candidate<'_>],
    (because, on): (&str, &str),
    now: &Decisions,
    before: &Decisions,
) -> Result<Vec<Decision>, DecidingError> {
    let mut new: Vec<Decision> = Vec::new();
    for Candidate { file, finding } in chosen {
        let already = |on: &str, because: &str, decision: &str| DecidingError::Already {
            id: finding.id.clone(),
            on: on.to_owned(),
            because: because.to_owned(),
            decision: decision.to_owned(),
        };
        if let Some(settled) = &finding.settled {
            return Err(already(&settled.on, &settled.because, &settled.decision));
        }
        let id = id::without_count(&finding.id);
        let came_between = now.of(id).iter().find(|decision| {
            decision.place == finding.surroundings && !before.of(id).contains(decision)
        });
        if let Some(other) = came_between {
            return Err(already(&other.on, &other.because, &other.name()));
        }
        let there = now.of(id).iter().chain(&new);
        let decision = decision_on(finding, file, (because, on), there);
        new.push(decision);
    }
    Ok(new)
}

/// The decision that is meant: by its name in the file, the finding's ID, or the beginning of either.
///
/// # Errors
/// [`DecidingError`] where none or several are meant.
pub fn decision_meant<'d>(
    typed: &str,
    there: &'d Decisions,
) -> Result<&'d Decision, DecidingError> {
    let all = there.all();
    if let Some(exact) = all.iter().find(|decision| decision.name() == typed) {
        return Ok(exact);
    }
    let of_id = there.of(id::without_count(typed));
    let begin: Vec<&Decision> = if of_id.is_empty() {
        let starts = |d: &&Decision| !typed.is_empty() && d.name().starts_with(typed);
        all.iter().filter(starts).collect()
    } else {
        of_id.iter().collect()
    };
    match begin.as_slice() {
        [only] => Ok(only),
        [] => Err(DecidingError::Unknown {
            id: typed.to_owned(),
            what: format!(
                "{DECISIONS_FILE} holds no decision on this; `ownwords settle --list` shows them."
            ),
            near: near(typed, all.iter().map(|decision| decision.id.as_str())),
        }),
        several => {
            let shown = |decision: &&Decision| {
                format!(
                    "{} ({}, \"{}\")",
                    decision.name(),
                    decision.draft,
                    decision.text
                )
            };
            Err(DecidingError::Several {
                id: typed.to_owned(),
                among: several.iter().map(shown).collect(),
            })
        }
    }
}

/// Names within two slips, the nearest first, at most three.
fn near<'n>(typed: &str, names: impl Iterator<Item = &'n str>) -> Vec<String> {
    let mut near: Vec<(usize, &str)> = names
        .map(|name| (strsim::damerau_levenshtein(typed, name), name))
        .filter(|(slips, _)| *slips <= 2)
        .collect();
    near.sort_unstable();
    near.dedup();
    near.into_iter()
        .take(3)
        .map(|(_, name)| name.to_owned())
        .collect()
}
