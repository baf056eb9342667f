//! The stored source texts: every readable file in the folder of sources, matched with its reference by name.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use rayon::prelude::*;

use super::entries::annotated::text_of_abstract;
use super::files::Here;
use super::own_pages::without_own_pages;
use super::references::{Annotation, FileMatch};
use super::{Key, LeftOut, Reference, References, Settings, Why};
use crate::text::{ByteRange, MarkedText, PageLabel, PageStart, Pages};

/// One stored source text.
#[derive(Debug)]
pub struct Source {
    /// The reference it belongs to.
    pub key: Key,
    /// Its file, relative to the review.
    pub path: PathBuf,
    /// The text, marked.
    pub text: Arc<MarkedText>,
    /// Whether it is no more than the abstract that a bibliography file holds. That is the author's own
    /// text, and stands in where no source is stored.
    pub is_abstract: bool,
}

/// Reads all source files, several at a time; the result is in order of keys and paths all the same.
pub(super) fn read(
    here: Here<'_>,
    settings: &Settings,
    references: &References,
    annotations: &[Annotation],
    left_out: &mut Vec<LeftOut>,
) -> Vec<Source> {
    let has_abstracts = annotations.iter().any(|one| !one.own_abstract.is_empty());
    let files = match here.files_in(&settings.sources, &settings.limits, left_out) {
        Some(files) => files,
        None if has_abstracts => Vec::new(),
        None => {
            left_out.push(LeftOut {
                what: here.shown(&settings.sources),
                why: Why::NoSources,
            });
            return Vec::new();
        }
    };
    let read: Vec<_> = files
        .into_par_iter()
        .map(|path| {
            let text = here.read_text(&path, &settings.limits);
            (
                path,
                text.map(|(text, remarks)| (MarkedText::source(text), remarks)),
            )
        })
        .collect();
    let mut sources = Vec::new();
    for (path, text) in read {
        let what = here.shown(&path);
        let mut report = |why: Why| {
            left_out.push(LeftOut {
                what: what.clone(),
                why,
            })
        };
        match text {
            Ok((text, remarks)) => {
                remarks.into_iter().map(Why::Remark).for_each(&mut report);
                let (key, remark) = key_of(&path, references);
                remark.into_iter().map(Why::Remark).for_each(&mut report);
                let reference = references.get(&key);
                let (text, own_pages) = without_own_pages(text, reference, page_range);
                own_pages.into_iter().map(Why::Remark).for_each(&mut report);
                let text = with_pages_of_range(text, reference);
                sources.push(Source {
                    key,
                    path,
                    text: Arc::new(text),
                    is_abstract: false,
                });
            }
            Err(why) => report(Why::Unread(why)),
        }
    }
    let stored: BTreeSet<Key> = sources.iter().map(|source| source.key.clone()).collect();
    let with_abstract = annotations
        .iter()
        .filter(|one| !one.own_abstract.is_empty() && !stored.contains(&one.key));
    sources.extend(with_abstract.map(|annotation| Source {
        key: annotation.key.clone(),
        path: annotation.file.clone(),
        text: Arc::new(MarkedText::source(text_of_abstract(annotation))),
        is_abstract: true,
    }));
    sources.sort_by(|one, other| (&one.key, &one.path).cmp(&(&other.key, &other.path)));
    tell_of_keys(here, settings, references, &sources, left_out);
    sources
}

/// The key that a file name gives: its stem if that is a known key, else the stem up to the first dot
/// that makes one (`harrow2019a.part2.txt`). Upper and lower case make no difference where just one key is meant. Else
/// the reference that names the file, or whose author, year and title stand in its name, with a remark that says so;
/// else the whole stem.
fn key_of(path: &Path, references: &References) -> (Key, Option<String>) {
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    let beginnings = stem
        .match_indices('.')
        .filter_map(|(dot, _)| stem.get(..dot));
    std::iter::once(stem.as_ref())
        .chain(beginnings)
        .find_map(|name| references.of_key(name))
        .map(|key| (key, None))
        .or_else(|| described(path, references))
        .unwrap_or_else(|| (Key::new(&stem), None))
}

fn described(path: &Path, references: &References) -> Option<(Key, Option<String>)> {
    match references.of_file(&path.file_name()?.to_string_lossy())? {
        FileMatch::Named(key) => Some((key, None)),
        FileMatch::Described(key) => {
            let name = references.get(&key)?.name();
            let remark = format!(
                "taken for {name}, key {key}, by the author, year and title in its name; if that is wrong, name the file after the key of its reference"
            );
            Some((key, Some(remark)))
        }
    }
}

/// A text whose file has sheets but no page numbers, with the pages of its reference's range: the first sheet is
/// the range's first page. Where the file has more sheets than the range has pages (a cover sheet, a whole
/// issue), nothing is known.
fn with_pages_of_range(text: MarkedText, reference: Option<&Reference>) -> MarkedText {
    let sheets = text.text.sheets();
    let last = sheets.iter().map(|start| start.sheet).max();
    let (Some(last), Some((from, to))) = (last, reference.and_then(page_range)) else {
        return text;
    };
    if !text.text.pages().is_empty() || to.saturating_sub(from).saturating_add(1) < last {
        return text;
    }
    let starts = sheets.iter().filter_map(|start| {
        let number = from.checked_add(start.sheet.checked_sub(1)?)?;
        Some(PageStart {
            label: PageLabel::new(&number.to_string()),
            mark: ByteRange::of(start.at, start.at),
        })
    });
    let pages = Pages::new(starts.collect());
    MarkedText {
        text: text.text.clone().with_pages(pages),
        ..text
    }
}

/// The first and last page of a reference; the last may be written short (`113-27`).
fn page_range(reference: &Reference) -> Option<(u32, u32)> {
    let (first, last) = reference.pages.as_ref()?;
    let number = first.parse().ok()?;
    let kept = first
        .len()
        .checked_sub(last.len())
        .and_then(|kept| first.get(..kept));
    let last = match kept {
        Some(kept) if last.parse::<u32>().ok()? < number => format!("{kept}{last}"),
        _ => last.clone(),
    };
    Some((number, last.parse().ok()?))
}

/// Reports sources without a reference, of several files for one reference, and of references without
/// a source.
fn tell_of_keys(
    here: Here<'_>,
    settings: &Settings,
    references: &References,
    sources: &[Source],
    left_out: &mut Vec<LeftOut>,
) {
    let mut first: BTreeMap<&Key, &Path> = BTreeMap::new();
    for source in sources {
        let what = here.shown(&source.path);
        let known = references.get(&source.key).is_some();
        if !known {
            let resolved = references.resolve_key(source.key.as_str());
            let hint = match resolved {
                super::Resolved::None { near } => references.hint(&near),
                _ => None,
            };
            left_out.push(LeftOut {
                what: what.clone(),
                why: Why::NoReference {
                    key: source.key.clone(),
                    hint,
                },
            });
        }
        if let Some(other) = first.get(&source.key) {
            left_out.push(LeftOut {
                what,
                why: Why::SecondText {
                    key: source.key.clone(),
                    other: here.shown(other),
                },
            });
        } else {
            first.insert(&source.key, &source.path);
        }
    }
    let whole = sources.iter().filter(|source| !source.is_abstract);
    let whole: BTreeSet<&Key> = whole.map(|source| &source.key).collect();
    let folder = here.shown(&settings.sources);
    for reference in references
        .iter()
        .filter(|reference| !whole.contains(&reference.key))
    {
        left_out.push(LeftOut {
            what: reference.key.to_string(),
            why: Why::NoText {
                key: reference.key.clone(),
                name: reference.name(),
                folder: folder.clone(),
                has_abstract: first.contains_key(&reference.key),
            },
        });
    }
}

#[cfg(test)]
mod tests {
    use super::super::references::tests::reference;
    use super::*;
    use crate::reading::Memory;
    use crate::text::SheetStart;

    fn nowhere(files: &Memory) -> Here<'_> {
        let root = Path::new("");
        Here { files, root }
    }

    #[test]
    fn file_names_give_keys() {
        let list = References::new(
            ["harrow2019a", "lind.2016", "Quill1999", "quill1999"]
                .map(|key| reference(key, "A, B", None, "T")),
        );
        for (file, key) in [
            ("sources/harrow2019a.txt", "harrow2019a"),
            ("sources/Harrow2019a.PDF", "harrow2019a"),
            ("sources/harrow2019a.part2.txt", "harrow2019a"),
            ("sources/lind.2016.txt", "lind.2016"),
            ("sources/lind.2016.part1.txt", "lind.2016"),
            ("sources/deep/quill1999.txt", "quill1999"),
            ("sources/QUILL1999.txt", "QUILL1999"),
            ("sources/other.notes.txt", "other.notes"),
            ("sources/é.txt", "é"),
        ] {
            assert_eq!(key_of(Path::new(file), &list).0.as_str(), key, "{file}");
        }
    }

    #[test]
    fn sheets_get_the_pages_of_the_reference() {
        let sheets = |count: u32| -> MarkedText {
            let starts = (0..count).map(|sheet| SheetStart {
                at: sheet as usize,
                sheet: sheet + 1,
            });
            let text = crate::text::Text::paragraph("Lamps dim at night.");
            MarkedText::source(text.with_sheets(starts.collect()))
        };
        type Case = (
            Option<(&'static str, &'static str)>,
            u32,
            &'static [&'static str],
        );
        let cases: &[Case] = &[
            (Some(("113", "115")), 3, &["113", "114", "115"]),
            (Some(("113", "15")), 3, &["113", "114", "115"]),
            // A cover sheet, a number that is none: nothing is known.
            (Some(("113", "115")), 4, &[]),
            (Some(("113", "115")), 2, &["113", "114"]),
            (Some(("e12", "e14")), 3, &[]),
            (None, 3, &[]),
            (Some(("113", "115")), 0, &[]),
        ];
        for (pages, count, expected) in cases {
            let mut reference = reference("a", "A, B", None, "T");
            reference.pages = pages.map(|(from, to)| (from.to_owned(), to.to_owned()));
            let text = with_pages_of_range(sheets(*count), Some(&reference));
            let labels: Vec<&str> = text
                .text
                .pages()
                .starts()
                .iter()
                .map(|start| start.label.as_str())
                .collect();
            assert_eq!(labels, *expected, "{pages:?}, {count}");
        }
    }

    #[test]
    fn a_missing_folder_is_reported() {
        let mut reported = Vec::new();
        let sources = read(
            nowhere(&Memory::new()),
            &Settings::default(),
            &References::default(),
            &[],
            &mut reported,
        );
        assert!(sources.is_empty());
        assert_eq!(reported.len(), 1);
        assert_eq!(reported[0].what, "sources");
    }

    #[test]
    fn keys_that_do_not_pair_up_are_reported() {
        let list = References::new([
            reference("harrow2019", "Harrow, A.", Some(2019), "Moths"),
            reference("lind2016", "Lind, E.", Some(2016), "Nectar"),
        ]);
        let source = |key: &str, path: &str| Source {
            key: Key::new(key),
            path: PathBuf::from(path),
            text: Arc::new(MarkedText::source(crate::text::Text::paragraph("Moths."))),
            is_abstract: false,
        };
        let sources = [
            source("harow2019", "sources/harow2019.txt"),
            source("lind2016", "sources/lind2016.md"),
            source("lind2016", "sources/lind2016.txt"),
        ];
        let mut reported = Vec::new();
        tell_of_keys(
            nowhere(&Memory::new()),
            &Settings::default(),
            &list,
            &sources,
            &mut reported,
        );
        let wanted = [
            (
                "sources/harow2019.txt",
                "did you mean Harrow (2019), key harrow2019",
            ),
            ("sources/lind2016.txt", "like sources/lind2016.md"),
            ("harrow2019", "no stored source"),
        ];
        assert_eq!(reported.len(), wanted.len(), "{reported:?}");
        for (left, (what, why)) in reported.iter().zip(wanted) {
            assert!(
                left.what == what && left.why.to_string().contains(why),
                "{left:?}"
            );
        }
    }
}
