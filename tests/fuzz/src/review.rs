//! What a review is made of: settings, decisions, references, entries; and a whole small check.

use std::path::{Path, PathBuf};
use std::sync::{Arc, OnceLock};

use ownwords::Session;
use ownwords::reading::Memory;
use ownwords::report::bibliography::Styles;
use ownwords::review::{DECISIONS_FILE, Decisions, Options, Review, SETTINGS_FILE, Settings};
use rayon::{ThreadPool, ThreadPoolBuilder};

use crate::packages::parts;
use crate::reports;
use crate::sound;

/// A note and a source, so that there is a review at all.
const NOTE: &str = "# Harrow (2019)\n\n## Summary\n\nKeepers count.\n";
const SOURCE: &str = "[p. 7]\n\nThe keepers counted every moth that came to the quarry lamp before dawn, and wrote the number into a book that nobody else was allowed to open.\n\n[p. 8]\n\nWhat the lamp did to the hedge was of no interest to them until the bats were gone.";

fn opened(files: Memory) -> Option<Review> {
    let review = Review::open_from(Arc::new(files), Path::new(""), &Options::default()).ok()?;
    for left_out in &review.left_out {
        // What is said of it is asked for in any report.
        assert!(!left_out.why.to_string().is_empty());
    }
    Some(review)
}

/// `ownwords.toml`.
pub fn settings(data: &[u8]) {
    let files = Memory::from_iter([(SETTINGS_FILE, data)]);
    match Settings::open(&files, Path::new(""), &Options::default()) {
        Ok(settings) => {
            for about in Settings::table() {
                let _ = about.value(&settings);
            }
        }
        Err(error) => assert!(!error.to_string().is_empty()),
    }
}

/// `decisions.toml`.
pub fn decisions(data: &[u8]) {
    let files = Memory::from_iter([(DECISIONS_FILE, data)]);
    match Decisions::open(&files, Path::new(""), 1) {
        Ok(decisions) => {
            for decision in decisions.all() {
                assert!(decisions.of(&decision.id).contains(decision));
            }
        }
        Err(error) => assert!(!error.to_string().is_empty() && !error.why().is_empty()),
    }
}

fn references(name: &str, data: &[u8]) {
    let files = Memory::from_iter([(name, data), ("sources/harrow2019.txt", b"Keepers count.")]);
    let Some(review) = opened(files) else { return };
    for reference in review.references.iter() {
        let found = review.references.get(&reference.key);
        assert!(found.is_some_and(|found| found.key == reference.key));
        assert!(!reference.dated().is_empty() || reference.name().is_empty());
    }
    let items = review.csl_items();
    for item in items.values() {
        let json: Result<tinyjson::JsonValue, _> = item.to_string().parse();
        assert!(json.is_ok(), "{json:?}");
    }
    // Styles are slow, so only what is short is set in one.
    if data.len() < 400 && data.first().is_some_and(|byte| byte % 4 == 0) {
        let style = Styles::all().first().map(|name| Styles::named(name));
        if let Some(Ok(styles)) = style {
            let _ = styles.format(&items);
        }
    }
}

/// BibTeX and BibLaTeX.
pub fn bibtex(data: &[u8]) {
    references("references.bib", data);
}

/// RIS.
pub fn ris(data: &[u8]) {
    references("references.ris", data);
}

/// CSL JSON.
pub fn csl_json(data: &[u8]) {
    references("references.json", data);
}

/// Entries in a file of notes.
pub fn entries(data: &[u8]) {
    let bib: &[u8] = b"@book{harrow2019, author = {Harrow, Ann}, title = {Keepers of Lamps}, date = {2019}}\n@book{mossop2014, author = {Mossop, Ida and Lind, Per}, title = {Hedges}, date = {2014}}";
    let files = Memory::from_iter([("references.bib", bib), ("notes/all.md", data)]);
    let Some(review) = opened(files) else { return };
    for entry in &review.entries {
        let content = review.note_files[entry.file].text.text.content();
        sound::inside(content, entry.range);
        for part in &entry.parts {
            sound::inside(content, part.range);
            assert!(
                entry.range.covers(part.range),
                "{:?} in {:?}",
                part.range,
                entry.range
            );
        }
    }
    let session = Session::new(review);
    if let Ok(report) = session.check_notes(None) {
        reports::notes(&report);
    }
}

/// A small review: the draft, a source, notes, references, settings.
pub fn check(data: &[u8]) {
    let [draft, source, notes, references, settings] = parts(data);
    let mut files = Memory::new();
    files.insert("drafts/draft.md", draft);
    files.insert(
        "sources/harrow2019.txt",
        if source.is_empty() {
            SOURCE.as_bytes()
        } else {
            source
        },
    );
    files.insert(
        "notes/all.md",
        if notes.is_empty() {
            NOTE.as_bytes()
        } else {
            notes
        },
    );
    let usual: &[u8] = b"@book{harrow2019, author = {Harrow, Ann}, title = {Keepers of Lamps}, date = {2019}, pages = {7-8}}";
    files.insert(
        "references.bib",
        if references.is_empty() {
            usual
        } else {
            references
        },
    );
    if !settings.is_empty() {
        files.insert(SETTINGS_FILE, settings);
    }
    let one = pool(1).install(|| written(files.clone()));
    let two = pool(2).install(|| written(files));
    assert!(one == two, "one thread and two write other bytes");
}

fn pool(threads: usize) -> &'static ThreadPool {
    static POOLS: OnceLock<[ThreadPool; 2]> = OnceLock::new();
    let made = |threads| {
        ThreadPoolBuilder::new()
            .num_threads(threads)
            .build()
            .expect("two threads can be had")
    };
    &POOLS.get_or_init(|| [made(1), made(2)])[threads - 1]
}

/// All reports of such a review, each read again.
fn written(files: Memory) -> Vec<Vec<u8>> {
    let Some(review) = opened(files) else {
        return Vec::new();
    };
    let session = Session::new(review);
    let drafts = [PathBuf::from("drafts/draft.md")];
    let mut written = Vec::new();
    if let Ok(report) = session.check(&drafts) {
        written.extend(reports::check(&session.review, &report));
    }
    if let Ok(account) = session.quotations(&drafts) {
        written.extend(reports::quotations(&account));
    }
    if let Ok(report) = session.check_notes(None) {
        written.push(reports::notes(&report));
    }
    written
}
