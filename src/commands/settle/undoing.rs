//! Decisions taken back.

use std::path::Path;

use super::refusal::{SettleError, near};
use crate::commands::output::Output;
use crate::commands::{Failure, Outcome};
use crate::findings::id;
use crate::report::harmless;
use crate::review::{self, DECISIONS_FILE, Decision, Decisions};

pub(super) fn undo(root: &Path, ids: &[String]) -> Result<Outcome, Failure> {
    let mut undone: Vec<Decision> = Vec::new();
    review::change(root, |there| {
        for typed in ids {
            let decision = decided(typed, there)?;
            if !undone.contains(decision) {
                undone.push(decision.clone());
            }
        }
        let names = undone.iter().map(Decision::name).collect();
        Ok::<_, SettleError>((Vec::new(), names))
    })?;
    Output::standard().write(|out| {
        for Decision {
            id, kind, draft, ..
        } in &undone
        {
            let line = format!("open again: {id} ({kind}, {draft})");
            writeln!(out, "{}", harmless(&line))?;
        }
        Ok(())
    })?;
    Ok(Outcome::Clear)
}

/// The decision that is meant: by its name in the file, the finding's ID, or the beginning of either.
fn decided<'d>(typed: &str, there: &'d Decisions) -> Result<&'d Decision, SettleError> {
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
        [] => Err(SettleError::Unknown {
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
            Err(SettleError::Several {
                id: typed.to_owned(),
                among: several.iter().map(shown).collect(),
            })
        }
    }
}
