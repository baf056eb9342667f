//! What is said of a finding in words, whatever the form of the report: its source, its credit, its
//! differences, the note it came by. Said once here, so that two reports never say it differently.
//! Everything of the user's in it is made harmless.

use super::english::{counted, grouped};
use super::harmless;
use crate::findings::since::{Past, Progress};
use crate::findings::{
    CheckReport, Compared, Credit, CreditState, DraftReport, Finding, NotePlace, SourcePlace,
};
use crate::overlap::Degree;
use crate::paths::portable;
use crate::review::PartKind;
use crate::text::PageLabel;

/// `p. 14`, `pp. 14-15`.
pub(super) fn pages(first: &PageLabel, last: &PageLabel) -> String {
    if first == last {
        format!("p. {first}")
    } else {
        format!("pp. {first}-{last}")
    }
}

/// `Harrow (2019), p. 14`.
pub(super) fn source_name(source: &SourcePlace) -> String {
    let pages = match &source.pages {
        None => String::new(),
        Some((first, last)) => format!(", {}", pages(first, last)),
    };
    harmless(&format!("{}{pages}", source.name)).into_owned()
}

/// `Harrow (2019), p. 14 [harrow2019]`; without the key where the name holds it.
pub(super) fn source_and_key(source: &SourcePlace) -> String {
    let mut name = source_name(source);
    if !source.name.contains(source.key.as_str()) {
        name.push_str(&format!(" [{}]", harmless(source.key.as_str())));
    }
    name
}

/// Whether the passage is credited, and by which citations.
pub(super) fn credit(credit: &Credit) -> String {
    let citations: Vec<String> = credit
        .citations
        .iter()
        .map(|citation| harmless(citation).into_owned())
        .collect();
    let citations = citations.join(", ");
    match credit.state {
        CreditState::Credited => format!("the source is named nearby: {citations}"),
        // In an entry, which is itself on another work.
        CreditState::Elsewhere if credit.citations.is_empty() => {
            "this entry is on another source, and no citation nearby names this one".to_owned()
        }
        CreditState::Elsewhere => format!("the nearest citation names another source: {citations}"),
        CreditState::None if !credit.citations.is_empty() => {
            format!("the citation nearby matches no reference of the review: {citations}")
        }
        CreditState::None => "no citation nearby".to_owned(),
    }
}

/// One difference between a quotation and its source; `checked` is what was checked: `draft` or `note`.
pub(super) fn difference(checked: &str, (draft, source): &(String, String)) -> String {
    let (draft, source) = (harmless(draft), harmless(source));
    match (draft.is_empty(), source.is_empty()) {
        (true, _) => format!("the {checked} leaves out \"{source}\""),
        (_, true) => format!("the {checked} puts in \"{draft}\""),
        _ => format!("\"{draft}\" in the {checked}, \"{source}\" in the source"),
    }
}

/// `notes/lamps.md, summary of harrow2019, in quotation marks`.
pub(super) fn note_place(note: &NotePlace) -> String {
    let part = match note.part {
        PartKind::Comments => "comments on",
        PartKind::Reference => "reference of",
        PartKind::Summary => "summary of",
        PartKind::Quotations => "quotations from",
    };
    let path = portable(&note.path);
    let marked = if note.marked {
        ", in quotation marks"
    } else {
        ""
    };
    format!(
        "{}, {part} {}{marked}",
        harmless(&path),
        harmless(&note.entry)
    )
}

/// `near copy (0.12)`.
pub(super) fn closeness((degree, position): (Degree, f64)) -> String {
    format!("{} ({position:.2})", degree.name())
}

/// The findings that are not settled, in order of the draft: reports number them from 1.
pub(super) fn open(draft: &DraftReport) -> impl Iterator<Item = &Finding> {
    draft
        .findings
        .iter()
        .filter(|finding| finding.settled.is_none())
}

/// The findings that are not settled, each with what it is against the earlier draft, where there is one.
pub(super) fn open_and_progress(
    draft: &DraftReport,
) -> impl Iterator<Item = (&Finding, Option<&Progress>)> {
    let progress = draft.since.as_ref().map(|since| since.progress.as_slice());
    let progress = progress.unwrap_or_default();
    let all = draft.findings.iter().enumerate();
    all.filter(|(_, finding)| finding.settled.is_none())
        .map(move |(index, finding)| (finding, progress.get(index)))
}

/// What a finding is against the earlier draft: `new`, `still there`, `changed: was near copy (0.05)`.
pub(super) fn progress(progress: &Progress) -> String {
    match progress {
        Progress::Still => "still there".to_owned(),
        Progress::New => "new".to_owned(),
        Progress::Changed(past) => match past.closeness {
            Some(of) => format!("changed: was {}, {}", past.kind.name(), closeness(of)),
            None => format!("changed: was {}", past.kind.name()),
        },
    }
}

/// `Since old/chapter.md: 2 mended, 3 still there, 1 changed, 1 new.`
pub(super) fn since(draft: &DraftReport) -> Option<String> {
    let since = draft.since.as_ref()?;
    let count = |wanted: fn(&Progress) -> bool| {
        open_and_progress(draft)
            .filter(|(_, progress)| progress.is_some_and(wanted))
            .count()
    };
    Some(format!(
        "Since {}: {} mended, {} still there, {} changed, {} new.",
        harmless(&portable(&since.path)),
        since.mended.len(),
        count(|progress| *progress == Progress::Still),
        count(|progress| matches!(progress, Progress::Changed(_))),
        count(|progress| *progress == Progress::New),
    ))
}

/// A finding of the earlier draft that is no longer there: `line 12, Words of a source without quotation marks: Moths
/// that came ...`.
pub(super) fn mended(past: &Past) -> String {
    let mut words = past.text.split_whitespace();
    let first: Vec<&str> = words.by_ref().take(MENDED_WORDS).collect();
    let more = if words.next().is_some() { " ..." } else { "" };
    let first = first.join(" ");
    format!(
        "line {}, {}: {}{more}",
        past.line,
        past.kind.about().short,
        harmless(&first)
    )
}

/// Words of a mended passage, so that it is known again.
const MENDED_WORDS: usize = 12;

/// How much was read and how much there is to look at: `4,210 words (312 of them quoted), 3 places to
/// look at`.
pub(crate) fn extent(draft: &DraftReport) -> String {
    let words = counted(draft.words, "word", "words");
    let quoted = match draft.quoted_words {
        0 => String::new(),
        some => format!(" ({} of them quoted)", grouped(some)),
    };
    let findings = match open(draft).count() {
        0 if draft.words == 0 => "nothing to compare".to_owned(),
        0 => "nothing to look at".to_owned(),
        some => counted(some, "place to look at", "places to look at"),
    };
    format!("{words}{quoted}, {findings}")
}

/// A draft in which there was nothing to compare: most often not the file that was meant, or one whose
/// text was taken for something else.
pub(super) fn no_prose(draft: &DraftReport) -> String {
    let path = portable(&draft.path);
    format!(
        "This draft holds no prose to compare, so nothing can be said about it. Check that it is the file you mean, and see what is read from it with: ownwords text {}",
        harmless(&path)
    )
}

/// A draft without open findings.
pub(super) fn nothing_open(report: &CheckReport, draft: &DraftReport) -> String {
    let sources = counted(report.sources, "stored source", "stored sources");
    let news = if draft.findings.is_empty() {
        "no wording here needs another look"
    } else {
        "everything that needed another look is settled"
    };
    format!(
        "Good news: set against {sources}, {news}. That is no clearance, since works that are not \
         stored could not be compared."
    )
}

/// What was compared with what, in a sentence.
pub(super) fn compared(report: &CheckReport) -> String {
    let drafts = counted(report.drafts.len(), "draft", "drafts");
    let words = report.drafts.iter().map(|draft| draft.words).sum();
    let sources = counted(report.sources, "stored source", "stored sources");
    let entries = counted(report.entries, "entry", "entries");
    let review = portable(&report.review);
    format!(
        "{drafts} ({}) with {sources} ({}) and {entries} of the notes in {}.",
        counted(words, "word", "words"),
        counted(report.source_words, "word", "words"),
        harmless(&review),
    )
}

/// A stored source on the desk: `Harrow (2019), 3,120 words, pp. 12-40`.
pub(crate) fn stored(source: &Compared) -> String {
    let words = counted(source.words, "word", "words");
    let pages = source.pages.as_ref();
    let pages = pages.map(|(first, last)| format!(", {}", self::pages(first, last)));
    format!("{}, {words}{}", source.name, pages.unwrap_or_default())
}

/// `3 entries`.
pub(crate) fn entries(count: usize) -> String {
    counted(count, "entry", "entries")
}

/// `12 references`.
pub(crate) fn references(count: usize) -> String {
    counted(count, "reference", "references")
}
