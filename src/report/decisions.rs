//! The list of decisions, for reading or for programs: what was settled when and why, and whether it
//! still holds.

use std::io::{self, Write};

use serde::Serialize;

use super::english::counted;
use super::harmless;
use super::terminal::Look;
use super::terminal::sheet::{INDENT, Sheet};
use crate::findings::decision_list::{DecisionList, State};
use crate::review::Decision;

/// JSON Schema (2020-12) of what [`write_json`] prints.
pub const DECISIONS_SCHEMA: &str = include_str!("decisions.schema.json");

/// Writes the list for reading.
///
/// # Errors
/// What the writer refuses.
pub fn write(list: &DecisionList, look: &Look, out: &mut impl Write) -> io::Result<()> {
    let mut sheet = Sheet::new(out, look);
    if list.decisions.is_empty() {
        sheet.paragraph(0, "Nothing is settled yet. A finding that you have looked at is settled with: ownwords settle ID --because TEXT")?;
    } else {
        let decisions = counted(list.decisions.len(), "decision", "decisions");
        sheet.heading(0, &format!("{decisions}{}", tally(list)))?;
        sheet.blank()?;
    }
    for (decision, state) in &list.decisions {
        let head = format!("{} · {} · {}", decision.name(), decision.kind, decision.on);
        sheet.heading(0, &harmless(&head))?;
        sheet.labelled("passage", &harmless(&decision.text))?;
        sheet.labelled("because", &harmless(&decision.because))?;
        sheet.labelled(state_label(state), &harmless(&state_line(decision, state)))?;
        sheet.blank()?;
    }
    if !list.terms.is_empty() {
        sheet.heading(0, "Fixed expressions")?;
        for term in &list.terms {
            sheet.hanging(INDENT, " -", &harmless(term))?;
        }
    }
    Ok(())
}

/// How many ask for another look.
fn tally(list: &DecisionList) -> String {
    let count = |name: &str| {
        let of_state = list
            .decisions
            .iter()
            .filter(|(_, state)| state_name(state) == name);
        of_state.count()
    };
    let mut said = String::new();
    let kinds = [
        ("changed", "whose passage has changed"),
        ("gone", "whose passage is gone"),
        ("not looked at", "in a draft that was not checked"),
    ];
    for (name, words) in kinds {
        match count(name) {
            0 => {}
            some => said.push_str(&format!(", {some} {words}")),
        }
    }
    said
}

fn state_name(state: &State) -> &'static str {
    match state {
        State::Holds { .. } => "holds",
        State::Changed { .. } => "changed",
        State::Gone => "gone",
        State::NotLookedAt => "not looked at",
    }
}

fn state_label(state: &State) -> &'static str {
    match state {
        State::Holds { .. } => "holds",
        State::Changed { .. } => "changed",
        State::Gone => "gone",
        State::NotLookedAt => "draft",
    }
}

fn state_line(decision: &Decision, state: &State) -> String {
    match state {
        State::Holds { file, line } => format!("at {file}:{line}"),
        State::Changed { now } => format!(
            "The passage in {} has changed since; look again at {now}.",
            decision.draft
        ),
        State::Gone => format!(
            "{} no longer holds such a finding; the decision can be taken back (--undo) or kept.",
            decision.draft
        ),
        State::NotLookedAt => format!(
            "{} was not checked, so whether this decision still holds is not known; name the draft after --in.",
            decision.draft
        ),
    }
}

#[derive(Serialize)]
struct ListForm<'a> {
    format: &'static str,
    version: u32,
    decisions: Vec<DecisionForm<'a>>,
    terms: &'a [String],
}

#[derive(Serialize)]
struct DecisionForm<'a> {
    id: &'a str,
    place: &'a str,
    kind: &'a str,
    draft: &'a str,
    on: &'a str,
    because: &'a str,
    text: &'a str,
    state: &'static str,
    now: Option<&'a str>,
    at: Option<AtForm<'a>>,
}

impl<'a> DecisionForm<'a> {
    fn of((decision, state): &'a (Decision, State)) -> Self {
        Self {
            id: &decision.id,
            place: &decision.place,
            kind: &decision.kind,
            draft: &decision.draft,
            on: &decision.on,
            because: &decision.because,
            text: &decision.text,
            state: state_name(state),
            now: match state {
                State::Changed { now } => Some(now),
                _ => None,
            },
            at: match state {
                State::Holds { file, line } => Some(AtForm {
                    path: file,
                    line: *line,
                }),
                _ => None,
            },
        }
    }
}

#[derive(Serialize)]
struct AtForm<'a> {
    path: &'a str,
    line: usize,
}

/// Writes the list as JSON, with a line feed at the end.
///
/// # Errors
/// What the writer refuses.
pub fn write_json(list: &DecisionList, out: &mut impl Write) -> io::Result<()> {
    let decisions = list.decisions.iter().map(DecisionForm::of).collect();
    let list = ListForm {
        format: "ownwords-decisions",
        version: 1,
        decisions,
        terms: &list.terms,
    };
    serde_json::to_writer_pretty(&mut *out, &list)?;
    writeln!(out)
}
