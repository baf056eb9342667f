//! Citations against the reference list and the entries: `cited-not-listed`, `listed-not-cited`,
//! `cited-without-entry`.
//!
//! What is listed is the draft's own reference list where it has one, else the review's references.
//! A chapter without a list of its own can't fail to cite what it lists.

use std::collections::{BTreeMap, BTreeSet};

use rustc_hash::{FxHashMap, FxHashSet};

use crate::review::{Doi, Key, Reference, References, Resolved};
use crate::text::words::bare_words;
use crate::text::{BlockKind, ByteRange, CiteTarget, Text};
use crate::wording::normal_form;

use super::citing::ResolvedCitation;
use super::laid::LaidDraft;
use super::listed_index::{Headings, Lines};
use super::near::{Line, Work};
use super::quoting::is_secondary;
use super::{Kind, Observation, Weight};

/// One line of a draft's reference list.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Listed {
    /// Where it stands.
    pub range: ByteRange,
    /// The number before it, or its place in the list.
    pub number: u32,
    /// The reference of the review that it is.
    pub key: Option<Key>,
    /// Its words in normal form.
    words: Vec<String>,
}

/// Words of a list line that are shown to say which is meant.
const LINE_WORDS: usize = 6;

/// Words from the start of a list line within which its first author must stand.
pub(super) const AUTHOR_WITHIN: usize = 6;

/// The draft's own reference list.
#[must_use]
pub(crate) fn listed(text: &Text, references: &References) -> Vec<Listed> {
    let by_author = by_author(references);
    let items = text
        .blocks()
        .iter()
        .filter(|block| block.kind == BlockKind::ReferenceListItem);
    items
        .zip(1..)
        .map(|(block, place)| {
            let written = text.slice(block.range);
            let words = normal_words(written);
            let leading: String = written
                .trim_start_matches(['[', '('])
                .chars()
                .take_while(char::is_ascii_digit)
                .collect();
            Listed {
                range: block.range,
                number: leading
                    .parse()
                    .ok()
                    .filter(|number| *number < 1000)
                    .unwrap_or(place),
                key: by_doi(written, references).or_else(|| best_reference(&words, &by_author)),
                words,
            }
        })
        .collect()
}

/// References with the words of their first author's name, by the first of these words.
type ByAuthor<'r> = FxHashMap<String, Vec<(Vec<String>, &'r Reference)>>;

fn by_author(references: &References) -> ByAuthor<'_> {
    let mut by_author = ByAuthor::default();
    for reference in references.iter() {
        let author = reference.authors.first();
        let name = author.map_or_else(Vec::new, |person| normal_words(&person.family));
        if let Some(first) = name.first() {
            let list = by_author.entry(first.clone()).or_default();
            list.push((name, reference));
        }
    }
    by_author
}

/// The reference whose DOI a list line gives.
fn by_doi(line: &str, references: &References) -> Option<Key> {
    let known = Doi::all(line).find_map(|doi| references.with_doi(&doi))?;
    Some(known.key.clone())
}

/// The reference whose first author and year a list line names, the one with most of its title there.
fn best_reference(line: &[String], by_author: &ByAuthor<'_>) -> Option<Key> {
    let share_of_title = |reference: &Reference| {
        let title = normal_words(&reference.title);
        let there = title.iter().filter(|word| line.contains(word)).count();
        if title.is_empty() {
            0
        } else {
            there * 100 / title.len()
        }
    };
    let starts = line.iter().take(AUTHOR_WITHIN + 1).enumerate();
    starts
        .flat_map(|(at, word)| {
            let rest = line.get(at..).unwrap_or_default();
            let named = by_author.get(word).into_iter().flatten();
            named.filter(move |(name, _)| rest.starts_with(name))
        })
        .map(|(_, reference)| *reference)
        .filter(|reference| {
            let year = reference.year.map(|year| year.to_string());
            year.is_none_or(|year| line.iter().any(|word| word.starts_with(&year)))
        })
        .map(|reference| (share_of_title(reference), reference))
        .filter(|(share, _)| *share >= 50)
        .max_by(|(a, first), (b, second)| a.cmp(b).then_with(|| second.key.cmp(&first.key)))
        .map(|(_, reference)| reference.key.clone())
}

/// The words of a stretch in normal form.
pub(super) fn normal_words(written: &str) -> Vec<String> {
    bare_words(written)
        .map(|word| normal_form(word).into_owned())
        .collect()
}

impl Listed {
    /// Its beginning, for near misses.
    pub(super) fn line(&self) -> Line<'_> {
        Line {
            words: &self.words,
            author_within: AUTHOR_WITHIN,
        }
    }

    /// The words among which its first author stands.
    pub(super) fn start(&self) -> &[String] {
        self.words.get(..AUTHOR_WITHIN).unwrap_or(&self.words)
    }

    /// Whether the line has the words of a title.
    fn has_title(&self, title: &str) -> bool {
        let title = normal_words(title);
        !title.is_empty() && title.iter().all(|word| self.words.contains(word))
    }

    /// Whether the line names the author and year of a cite, or the author and title.
    pub(super) fn answers(&self, target: &CiteTarget) -> bool {
        let (names, year) = match target {
            CiteTarget::Author { names, year, .. } => (names, year),
            CiteTarget::Work {
                names, year, title, ..
            } if self.has_title(title) => (names, year),
            _ => return false,
        };
        let start = self.start();
        let first = names
            .first()
            .map(|name| normal_words(name))
            .unwrap_or_default();
        let named = !first.is_empty() && first.iter().all(|word| start.contains(word));
        let year = year
            .as_ref()
            .and_then(|year| year.number)
            .map(|year| year.to_string());
        named && year.is_none_or(|year| self.words.iter().any(|word| word.starts_with(&year)))
    }
}

/// All findings of the three kinds.
#[must_use]
pub(crate) fn judge_all(laid: &LaidDraft) -> Vec<Observation> {
    let lines = &Lines::of(&laid.listed);
    let mut findings = Vec::new();
    let mut reported: BTreeSet<String> = BTreeSet::new();
    let mut cited: BTreeMap<Key, ByteRange> = BTreeMap::new();
    for credited in &laid.citations {
        let cites = &credited.citation.cites;
        let read = cites.iter().position(is_secondary).unwrap_or_default();
        for (number, (cite, resolved)) in cites.iter().zip(&credited.resolved).enumerate() {
            let range = if credited.citation.narrative || cite.range.is_empty() {
                credited.citation.range
            } else {
                cite.range
            };
            for key in resolved.keys() {
                cited.entry(key.clone()).or_insert(range);
            }
            let name = cite_name(&cite.target);
            let missing = lines.lack(&cite.target, resolved);
            // A work known only by way of another is not listed (APA 7, 8.6; MLA 9, 6.77; from memory).
            let is_unread = number < read;
            if missing && !is_unread && reported.insert(name.clone()) {
                findings.push(not_listed(
                    laid,
                    range,
                    (&cite.target, &name),
                    resolved,
                    lines,
                ));
            }
        }
    }
    findings.extend(not_cited(laid, lines, &cited));
    findings.extend(without_entry(laid, &cited));
    findings
}

fn cite_name(target: &CiteTarget) -> String {
    match target {
        CiteTarget::Author {
            names, et_al, year, ..
        } => {
            let mut name = names.join(" & ");
            if *et_al {
                name.push_str(" et al.");
            }
            match year {
                Some(year) => format!("{name} ({})", year.written),
                None => name,
            }
        }
        CiteTarget::Work { names, title, .. } => format!("{}, “{title}”", names.join(" & ")),
        CiteTarget::Key(key) => format!("@{key}"),
        CiteTarget::Number(number) => format!("[{number}]"),
    }
}

fn not_listed(
    laid: &LaidDraft,
    range: ByteRange,
    (target, name): (&CiteTarget, &str),
    resolved: &Resolved,
    lines: &Lines<'_>,
) -> Observation {
    let place = if lines.listed.is_empty() {
        "the references of the review"
    } else {
        "the reference list"
    };
    let near = match resolved {
        Resolved::None { near } => laid.references.hint(near),
        _ => None,
    };
    let near = match near_line(laid, target, lines) {
        Some(in_list) => format!(" The list holds {in_list}: is that the one?"),
        None => near.map_or_else(String::new, |hint| format!(" Perhaps: {hint}")),
    };
    let advice = format!(
        "{name} is cited here but is not in {place}. Add it, or correct the citation.{near}"
    );
    Observation::new(Kind::CitedNotListed, Weight::Act, laid.place(range), advice)
}

/// The line of the list that is a slip away from a citation, in words.
fn near_line(laid: &LaidDraft, target: &CiteTarget, lines: &Lines<'_>) -> Option<String> {
    let work = Work::cited(target, normal_words)?;
    lines.near(&work).find_map(|(_, line)| {
        let slip = work.slip(&line.line())?;
        let written = laid.text().text.slice(line.range);
        let first: Vec<&str> = written.split_whitespace().take(LINE_WORDS).collect();
        Some(format!("\"{} ...\", {}", first.join(" "), slip.clause()))
    })
}

/// For lines of the list, by their numbers, the first citation that is a slip away from them and is itself in no line.
fn near_cites(laid: &LaidDraft, lines: &Lines<'_>) -> BTreeMap<usize, String> {
    let mut near = BTreeMap::new();
    let mut seen: FxHashSet<Work> = FxHashSet::default();
    for credited in &laid.citations {
        for (cite, resolved) in credited.citation.cites.iter().zip(&credited.resolved) {
            let Some(work) = Work::cited(&cite.target, normal_words) else {
                continue;
            };
            // Another citation of the same work comes too late.
            if seen.contains(&work) || !lines.lack(&cite.target, resolved) {
                continue;
            }
            for (number, line) in lines.near(&work) {
                if !near.contains_key(&number) && work.slip(&line.line()).is_some() {
                    near.insert(number, cite_name(&cite.target));
                }
            }
            seen.insert(work);
        }
    }
    near
}

fn not_cited(
    laid: &LaidDraft,
    lines: &Lines<'_>,
    cited: &BTreeMap<Key, ByteRange>,
) -> Vec<Observation> {
    let cites = laid.citations.iter();
    let cites = cites.flat_map(|credited: &ResolvedCitation| &credited.citation.cites);
    let (mut numbers, mut answering) = (BTreeSet::new(), BTreeSet::new());
    for cite in cites {
        match &cite.target {
            CiteTarget::Number(number) => drop(numbers.insert(*number)),
            target => answering.extend(lines.answering(target)),
        }
    }
    let is_cited = |(number, line): &(usize, &Listed)| {
        let by_key = line.key.as_ref().is_some_and(|key| cited.contains_key(key));
        by_key || numbers.contains(&line.number) || line.key.is_none() && answering.contains(number)
    };
    let near = near_cites(laid, lines);
    lines
        .listed
        .iter()
        .enumerate()
        .filter(|line| !is_cited(line))
        .map(|(number, line)| {
            let advice = match near.get(&number) {
                Some(cited) => format!(
                    "This work is in the reference list but is not cited in the text. The text cites {cited}, which the list does \
                     not hold: if that is this work, correct the citation or the list."
                ),
                None => "This work is in the reference list but is not cited in the text. Cite it where it belongs, or take it off the list."
                    .to_owned(),
            };
            Observation::new(Kind::ListedNotCited, Weight::Look, laid.place(line.range), advice)
        })
        .collect()
}

fn without_entry(laid: &LaidDraft, cited: &BTreeMap<Key, ByteRange>) -> Vec<Observation> {
    let review = &laid.session.review;
    if review.entries.is_empty() {
        return Vec::new();
    }
    let headings = Headings::of(laid);
    let with_entry: BTreeSet<&Key> = review
        .entries
        .iter()
        .filter_map(|entry| entry.key.as_ref())
        .collect();
    cited
        .iter()
        .filter(|(key, _)| laid.references.get(key).is_some() && !with_entry.contains(key))
        .map(|(key, range)| {
            let near = near_entry(laid, key, &headings).map_or_else(String::new, |heading| {
                format!(" There is one headed \"{heading}\": if that is this work, correct its heading.")
            });
            let advice = format!(
                "{} is cited, but your notes have no entry on it.{near} Write one while the text is at hand, or leave it if you keep no notes on this work.",
                laid.name(key)
            );
            Observation::new(Kind::CitedWithoutEntry, Weight::Know, laid.place(*range), advice)
        })
        .collect()
}

/// The heading of an entry that is a slip away from a reference and leads to none itself.
fn near_entry(laid: &LaidDraft, key: &Key, headings: &Headings<'_>) -> Option<String> {
    let reference = laid.references.get(key)?;
    let work = Work::new(
        normal_words(&reference.authors.first()?.family),
        reference.year,
    )?;
    headings
        .starts
        .naming(work.name())
        .into_iter()
        .find_map(|number| {
            let (heading, words) = headings.written.get(number)?;
            let line = Line {
                words,
                author_within: AUTHOR_WITHIN,
            };
            work.slip(&line).map(|_| (*heading).to_owned())
        })
}
