//! Places in drafts, sources and notes, and what two of them share, as the contract names their fields.

use serde::Serialize;

use super::forms::shown;
use super::trail::ClosenessForm;
use crate::findings::{DraftPlace, NotePlace, SourcePlace};
use crate::overlap::{Counterpart, SharedPlace};
use crate::text::{ByteRange, PageLabel};

#[derive(Serialize)]
pub(super) struct DraftPlaceForm<'a> {
    start: usize,
    end: usize,
    line: usize,
    page: Option<&'a str>,
    text: &'a str,
}

impl<'a> DraftPlaceForm<'a> {
    pub(super) fn of(place: &'a DraftPlace) -> Self {
        Self {
            start: place.range.start(),
            end: place.range.end(),
            line: place.line,
            page: place.page.as_ref().map(PageLabel::as_str),
            text: &place.text,
        }
    }
}

/// A stretch of a source as JSON.
#[derive(Serialize)]
pub(in crate::report) struct SourceForm<'a> {
    key: &'a str,
    name: &'a str,
    path: String,
    start: usize,
    end: usize,
    page: Option<&'a str>,
    last_page: Option<&'a str>,
    text: &'a str,
    page_marks: Vec<RangeForm>,
}

impl<'a> SourceForm<'a> {
    pub(in crate::report) fn of(place: &'a SourcePlace) -> Self {
        let pages = place.pages.as_ref();
        Self {
            key: place.key.as_str(),
            name: &place.name,
            path: shown(&place.path),
            start: place.range.start(),
            end: place.range.end(),
            page: pages.map(|(first, _)| first.as_str()),
            last_page: pages.map(|(_, last)| last.as_str()),
            text: &place.text,
            page_marks: place
                .page_marks
                .iter()
                .copied()
                .map(RangeForm::of)
                .collect(),
        }
    }
}

#[derive(Serialize)]
pub(super) struct NoteForm<'a> {
    entry: &'a str,
    path: String,
    part: &'static str,
    marked: bool,
    start: usize,
    end: usize,
    text: &'a str,
    from_source: Option<ClosenessForm>,
    to_draft: Option<ClosenessForm>,
}

impl<'a> NoteForm<'a> {
    pub(super) fn of(place: &'a NotePlace) -> Self {
        Self {
            entry: &place.entry,
            path: shown(&place.path),
            part: place.part.name(),
            marked: place.marked,
            start: place.range.start(),
            end: place.range.end(),
            text: &place.text,
            from_source: place.from_source.map(ClosenessForm::of),
            to_draft: place.to_draft.map(ClosenessForm::of),
        }
    }
}

/// A shared stretch as JSON.
#[derive(Serialize)]
pub(in crate::report) struct SharedForm {
    draft: RangeForm,
    source: RangeForm,
    by: &'static str,
}

impl SharedForm {
    pub(in crate::report) fn of(place: &SharedPlace) -> Self {
        Self {
            draft: RangeForm::of(place.draft),
            source: RangeForm::of(place.source),
            by: match place.by {
                Counterpart::String => "string",
                Counterpart::Form => "form",
                Counterpart::Stem => "stem",
                Counterpart::Synonym => "synonym",
                Counterpart::Misspelling => "misspelling",
            },
        }
    }
}

/// A stretch of a Text as JSON.
#[derive(Serialize)]
pub(in crate::report) struct RangeForm {
    start: usize,
    end: usize,
}

impl RangeForm {
    fn of(range: ByteRange) -> Self {
        Self {
            start: range.start(),
            end: range.end(),
        }
    }
}
