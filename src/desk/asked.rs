//! What a page asks of the desk, and the answers.

use serde::Deserialize;
use serde_json::{Value, json};

use super::class::{self, Written};
use super::{Desk, Failed, Role, Taken, take};
use crate::findings::{CheckReport, CreditState, DraftReport, Finding, Weight};
use crate::paths::portable;
use crate::report::page::pieces;
use crate::report::{desk, harmless};
use crate::review::Settings;

/// A request. As JSON its name stands in `ask`, `{"ask": "finding", "at": 3}`.
#[derive(Debug, Clone, Deserialize)]
#[serde(tag = "ask", rename_all = "lowercase")]
pub enum Request {
    /// What is on the desk, and how much is to be looked at in each draft.
    Overview,
    /// Says what a file is for.
    Role {
        /// Its name on the desk.
        name: String,
        /// What it is for.
        role: Role,
    },
    /// Takes a file off the desk.
    Remove {
        /// Its name on the desk.
        name: String,
    },
    /// Clears the desk.
    Clear,
    /// Opens the demo review.
    Demo,
    /// A draft in pieces.
    Draft {
        /// Its number, from 0.
        number: usize,
    },
    /// One finding in full.
    Finding {
        /// Its number in the report, from 0.
        at: usize,
    },
    /// A rewrite of a finding's passage, set against its source.
    Place {
        /// The finding's number.
        at: usize,
        /// The rewrite.
        text: String,
    },
    /// Settles a finding.
    Settle {
        /// Its ID.
        id: String,
        /// The reason.
        because: String,
        /// The day, `YYYY-MM-DD`.
        on: String,
    },
    /// Takes a decision back.
    Undo {
        /// Its name.
        decision: String,
    },
    /// The entries of the notes.
    Notes,
    /// All quotations.
    Quotations,
    /// Rewrites of one passage.
    Class {
        /// The passage.
        passage: String,
        /// The rewrites.
        rewrites: Vec<Written>,
    },
    /// The words of one file, for a passage or a rewrite of a class.
    Words {
        /// Its name.
        name: String,
        /// Its bytes.
        bytes: Vec<u8>,
    },
    /// A file to take away.
    Take {
        /// Which.
        what: What,
        /// Of which draft, from 0.
        #[serde(default)]
        draft: usize,
        /// The passage, for sheets of a class.
        #[serde(default)]
        passage: String,
        /// The rewrites, for sheets of a class.
        #[serde(default)]
        rewrites: Vec<Written>,
    },
}

/// What can be taken away.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum What {
    /// The page report.
    Page,
    /// A copy of the draft with comments.
    Margin,
    /// The findings as a table.
    Table,
    /// The quotations as a table.
    Quotations,
    /// The annotated bibliography.
    Bibliography,
    /// The review as a zip package.
    Review,
    /// The sheet of a class with the answers.
    Handout,
    /// The sheet of a class to work on.
    Exercise,
}

/// What the desk answers.
#[derive(Debug, Clone, PartialEq)]
pub enum Answer {
    /// For the page.
    Json(Value),
    /// To be saved.
    File(Taken),
}

impl Desk {
    /// Answers a request.
    ///
    /// # Errors
    /// [`Failed`] with a sentence for the page.
    pub fn answer(&mut self, request: Request) -> Result<Answer, Failed> {
        let json = match request {
            Request::Overview => self.overview(),
            Request::Role { name, role } => {
                self.give_role(&name, role);
                self.overview()
            }
            Request::Remove { name } => {
                self.remove(&name);
                self.overview()
            }
            Request::Clear => {
                self.clear();
                self.overview()
            }
            Request::Demo => {
                self.open_demo();
                self.overview()
            }
            Request::Draft { number } => {
                let draft = pieces::draft(self.report()?, number);
                draft.ok_or_else(|| Failed::new("there is no such draft any more; open another"))?
            }
            Request::Finding { at } => self.finding(at)?,
            Request::Place { at, text } => {
                let passage = self.passage_of(at)?;
                class::placed(&passage, &text, self.settings())
            }
            Request::Settle { id, because, on } => {
                self.settle(&id, &because, &on)?;
                self.overview()
            }
            Request::Undo { decision } => {
                self.undo(&decision)?;
                self.overview()
            }
            Request::Notes => desk::notes(self.notes()?),
            Request::Quotations => {
                self.opened()?;
                let drafts = self.drafts();
                let account = self.opened()?.session.quotations(&drafts)?;
                json!({ "html": desk::account(&account).into_string() })
            }
            Request::Class { passage, rewrites } => {
                class::all(&passage, &rewrites, self.settings())
            }
            Request::Words { name, bytes } => words(&name, bytes)?,
            Request::Take {
                what,
                draft,
                passage,
                rewrites,
            } => {
                return self
                    .take(what, draft, &passage, &rewrites)
                    .map(Answer::File);
            }
        };
        Ok(Answer::Json(json))
    }

    fn take(
        &self,
        what: What,
        draft: usize,
        passage: &str,
        rewrites: &[Written],
    ) -> Result<Taken, Failed> {
        match what {
            What::Page => take::page(self.report()?),
            What::Table => take::table(self.report()?),
            What::Margin => take::margin(&self.opened()?.session.review, self.report()?, draft),
            What::Quotations => {
                let session = &self.opened()?.session;
                take::quotations(&session.quotations(&self.drafts())?)
            }
            What::Bibliography => take::bibliography(&self.opened()?.session.review),
            What::Review if self.is_folder() => Err(Failed::new(
                "the review lies in a folder already, and your decisions are saved there",
            )),
            What::Review => take::review(&self.as_review()),
            What::Handout | What::Exercise => {
                let report = class::report(passage, rewrites, self.settings());
                take::sheet(&report, what == What::Handout)
            }
        }
    }

    /// The settings of the review, or the usual ones.
    fn settings(&self) -> &Settings {
        static USUAL: std::sync::LazyLock<Settings> = std::sync::LazyLock::new(Settings::default);
        let opened = self.opened.as_ref();
        opened.map_or(&USUAL, |opened| &opened.session.review.settings)
    }

    fn finding(&self, at: usize) -> Result<Value, Failed> {
        let report = self.report()?;
        let gone = || Failed::new("this finding is gone; the draft has changed");
        let finding = nth(report, at).ok_or_else(gone)?;
        let mut leaf = pieces::leaf(report, at).ok_or_else(gone)?;
        if let Some(fields) = leaf.as_object_mut() {
            let source = self.page_of(finding);
            fields.insert("id".to_owned(), json!(finding.id));
            fields.insert("passage".to_owned(), json!(finding.draft.text));
            fields.insert("page".to_owned(), json!(source));
            fields.insert("canRewrite".to_owned(), json!(finding.source.is_some()));
            let decision = finding.settled.as_ref().map(|settled| &settled.decision);
            fields.insert("settled".to_owned(), json!(decision));
        }
        Ok(leaf)
    }

    /// The page of the source around a finding's wording.
    fn page_of(&self, finding: &Finding) -> Option<String> {
        let place = finding.source.as_ref()?;
        let sources = &self.opened.as_ref()?.session.review.sources;
        let source = sources
            .iter()
            .find(|source| source.path == place.path && source.key == place.key)?;
        Some(desk::context(&source.text.text, place.range).into_string())
    }

    fn passage_of(&self, at: usize) -> Result<String, Failed> {
        let finding = nth(self.report()?, at);
        let source = finding.and_then(|finding| finding.source.as_ref());
        let source = source.ok_or_else(|| {
            Failed::new("no stored source belongs to this passage, so a rewrite can't be placed")
        })?;
        Ok(source.wording())
    }

    fn overview(&self) -> Value {
        let report = self
            .opened
            .as_ref()
            .and_then(|opened| opened.report.as_ref());
        let drafts = report.map_or(&[][..], |report| &report.drafts);
        let mut first = 0;
        let drafts: Vec<Value> = drafts
            .iter()
            .map(|draft| {
                let shown = chapter(draft, first);
                first += draft.findings.len();
                shown
            })
            .collect();
        let review = self.opened.as_ref().map(|opened| {
            let review = &opened.session.review;
            json!({
                "sources": review.sources.len(),
                "entries": review.entries.len(),
                "references": review.references.iter().count(),
            })
        });
        json!({
            "revision": self.revision,
            "folder": self.is_folder().then(|| harmless(&portable(&self.root)).into_owned()),
            "files": self.on_desk(),
            "drafts": drafts,
            "review": review,
            "closed": self.closed.as_deref().map(harmless),
            "leftOut": self.left_out(),
            "decisions": self.decisions.all().len(),
        })
    }
}

fn nth(report: &CheckReport, at: usize) -> Option<&Finding> {
    let drafts = report.drafts.iter();
    drafts.flat_map(|draft| &draft.findings).nth(at)
}

/// A draft in the overview: how much of each weight is open, and which sources it rests on most.
fn chapter(draft: &DraftReport, first: usize) -> Value {
    let open = || {
        draft
            .findings
            .iter()
            .filter(|finding| finding.settled.is_none())
    };
    let of = |weight: Weight| open().filter(|finding| finding.weight == weight).count();
    let without = open().filter(|finding| {
        let credit = finding.credit.as_ref();
        finding.weight == Weight::Act
            && credit.is_some_and(|credit| credit.state != CreditState::Credited)
    });
    let mut by_source = std::collections::BTreeMap::<&str, usize>::new();
    for source in open().filter_map(|finding| finding.source.as_ref()) {
        *by_source.entry(&source.name).or_default() += 1;
    }
    let mut sources: Vec<(&str, usize)> = by_source.into_iter().collect();
    sources.sort_by_key(|(_, count)| std::cmp::Reverse(*count));
    let sources = sources.into_iter().take(3).map(|(name, _)| harmless(name));
    let name = draft.path.file_name().unwrap_or(draft.path.as_os_str());
    let ending = draft
        .path
        .extension()
        .map(|ending| ending.to_string_lossy().to_lowercase());
    json!({
        "name": harmless(&name.to_string_lossy()),
        "first": first,
        "words": draft.words,
        "mend": of(Weight::Act),
        "look": of(Weight::Look),
        "know": of(Weight::Know),
        "uncredited": without.count(),
        "settled": draft.findings.len() - open().count(),
        "sources": sources.collect::<Vec<_>>(),
        "margin": matches!(ending.as_deref(), Some("docx" | "docm" | "odt")),
        "mended": draft.since.as_ref().map(|since| since.mended.len()),
    })
}

/// The words of a file.
fn words(name: &str, bytes: Vec<u8>) -> Result<Value, Failed> {
    let format = crate::reading::Format::of(std::path::Path::new(name))?;
    let read = crate::reading::from_bytes(bytes, format)
        .map_err(|why| Failed::new(&format!("{}: {why}", harmless(name))))?;
    Ok(json!({ "text": read.text.content().trim() }))
}
