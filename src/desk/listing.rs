//! The list of what is on the desk: each file with what was read of it, or why it could not be.

use std::path::Path;

use serde_json::{Value, json};

use super::shelf::OnDesk;
use super::{Desk, Role};
use crate::paths::portable;
use crate::reading::Memory;
use crate::report::harmless;
use crate::report::said;
use crate::review::{SETTINGS_FILE, Value as Setting};

impl Desk {
    /// The files on the desk in order of their names; empty where the review lies on the disk.
    pub(super) fn on_desk(&self) -> Vec<Value> {
        let files = self.shelf.files.iter();
        files
            .filter(|(_, file)| file.role != Role::Review)
            .map(|(name, file)| {
                let (read, why) = self.about(file);
                json!({
                    "name": name,
                    "shown": harmless(name),
                    "role": file.role,
                    "asked": file.asked,
                    "read": read.map(|read| harmless(&read).into_owned()),
                    "why": why.map(|why| harmless(&why).into_owned()),
                })
            })
            .collect()
    }

    /// What was read of a file, and what is the matter with it.
    fn about(&self, file: &OnDesk) -> (Option<String>, Option<String>) {
        if file.role == Role::Unused {
            let why = "left aside: no kind of file that is read here";
            return (None, Some(why.to_owned()));
        }
        let Some(opened) = &self.opened else {
            return (None, None);
        };
        let review = &opened.session.review;
        let path = file.path.as_path();
        let read = match file.role {
            Role::Source => self.source(path),
            Role::Draft => {
                let report = opened.report.as_ref();
                let drafts = report.map_or(&[][..], |report| &report.drafts);
                let draft = drafts.iter().find(|draft| draft.path == path);
                draft.map(said::extent)
            }
            Role::Notes => {
                let at = review
                    .note_files
                    .iter()
                    .position(|notes| notes.path == path);
                at.map(|at| {
                    let entries = review.entries.iter().filter(|entry| entry.file == at);
                    said::entries(entries.count())
                })
            }
            Role::References => Some(said::references(review.references.iter().count())),
            Role::Earlier | Role::Review | Role::Unused => None,
        };
        let shown = portable(path);
        let all = opened
            .report
            .as_ref()
            .map_or(&review.left_out, |report| &report.left_out);
        let whys = all.iter().filter(|left| left.what == shown);
        let whys: Vec<String> = whys.map(|left| left.why.to_string()).collect();
        (read, (!whys.is_empty()).then(|| whys.join("; ")))
    }

    fn source(&self, path: &Path) -> Option<String> {
        let compared = self.opened.as_ref()?.session.compared();
        let source = compared.iter().find(|source| source.path == path)?;
        Some(said::stored(source))
    }

    /// What was left out that is no file on the desk.
    pub(super) fn left_out(&self) -> Vec<Value> {
        let Some(opened) = &self.opened else {
            return Vec::new();
        };
        let review = &opened.session.review;
        let all = opened
            .report
            .as_ref()
            .map_or(&review.left_out, |report| &report.left_out);
        let listed = |what: &str| {
            self.shelf
                .files
                .values()
                .any(|file| portable(&file.path) == what)
        };
        all.iter()
            .filter(|left| !listed(&left.what))
            .map(|left| json!({ "what": harmless(&left.what), "why": harmless(&left.why.to_string()) }))
            .collect()
    }

    /// The files as a review folder that the command line opens too: with settings that name the references.
    pub(super) fn as_review(&self) -> Memory {
        let mut files = self.store.with(|files| files.clone());
        let references = self.shelf.references();
        let aside: Vec<_> = self
            .shelf
            .files
            .values()
            .filter(|file| file.role == Role::Unused)
            .collect();
        for file in aside {
            files.remove(&file.path);
        }
        let has_settings = files
            .iter()
            .any(|(path, _)| path == Path::new(SETTINGS_FILE));
        if !has_settings {
            let named = match references.is_empty() {
                true => String::new(),
                false => format!("references = {}\n", Setting::List(references)),
            };
            files.insert(
                SETTINGS_FILE,
                format!("# Made on the desk of ownwords.\n{named}"),
            );
        }
        files
    }
}
