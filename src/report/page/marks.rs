//! A stretch of the draft with its findings marked: a line below the words for each finding, whose shape
//! shows the family of its kind, and at its beginning its number, which leads to what is said of it. Where
//! findings overlap, the words lie in a mark for each, the later inside the earlier, and their lines are drawn
//! below each other.

use maud::{Markup, html};

use super::plan::{DraftPlan, Family, Item};
use crate::report::escape::on_page;
use crate::text::ByteRange;

/// Lines below each other that can be distinguished; further marks of the same words share the last.
const MOST_LINES: usize = 3;

/// The marks of one draft.
pub(super) struct Marks<'p> {
    draft: &'p DraftPlan<'p>,
    /// For each finding the furthest end of those up to it, so that all that reach into a stretch can be found.
    reach: Vec<usize>,
}

impl<'p> Marks<'p> {
    /// Prepares the marks of a draft.
    pub(super) fn new(draft: &'p DraftPlan<'p>) -> Self {
        let ends = draft.items.iter().map(|item| range_of(item).end());
        let reach = ends.scan(0, |furthest, end| {
            *furthest = end.max(*furthest);
            Some(*furthest)
        });
        Self {
            draft,
            reach: reach.collect(),
        }
    }

    /// A stretch of the draft, marked.
    pub(super) fn marked(&self, range: ByteRange) -> Markup {
        let items = self.touching(range);
        let cuts = self.cuts(range, items);
        html! {
            @for two in cuts.windows(2) {
                @if let [from, to] = *two {
                    (self.beginnings(from, range, items))
                    (self.stretch(ByteRange::of(from, to), items))
                    (self.ends(to, items))
                }
            }
        }
    }

    /// The findings that may reach into a stretch, in order.
    fn touching(&self, range: ByteRange) -> &'p [Item<'p>] {
        let from = self.reach.partition_point(|reach| *reach <= range.start());
        let items = self.draft.items.get(from..).unwrap_or_default();
        let to = items.partition_point(|item| range_of(item).start() < range.end());
        items.get(..to).unwrap_or_default()
    }

    /// Where the stretch has to be cut, its ends among them. A place inside a character is none.
    fn cuts(&self, range: ByteRange, items: &[Item<'_>]) -> Vec<usize> {
        let text = &self.draft.report.text.text;
        let calls = text.note_calls().iter().map(|call| call.at);
        let places = items
            .iter()
            .flat_map(|item| [range_of(item).start(), range_of(item).end()])
            .chain(calls);
        let within = places.filter(|place| range.contains(*place));
        let mut cuts: Vec<usize> = within
            .filter(|place| text.content().is_char_boundary(*place))
            .chain([range.start(), range.end()])
            .collect();
        cuts.sort_unstable();
        cuts.dedup();
        cuts
    }

    /// The numbers of the findings that begin at a place, and the calls of footnotes there.
    fn beginnings(&self, at: usize, range: ByteRange, items: &[Item<'_>]) -> Markup {
        let is_first = at == range.start();
        let begin = items.iter().filter(|item| range_of(item).start() == at);
        html! {
            @if !is_first { (self.calls(at)) }
            @for item in begin { (number(item)) }
        }
    }

    fn ends(&self, at: usize, items: &[Item<'_>]) -> Markup {
        html! {
            @for item in items.iter().filter(|item| range_of(item).end() == at && !range_of(item).is_empty()) {
                span.v { " end of " (item.label) " " }
            }
        }
    }

    /// The calls of footnotes at a place.
    fn calls(&self, at: usize) -> Markup {
        let calls = self.draft.report.text.text.note_calls();
        let from = calls.partition_point(|call| call.at < at);
        let here = calls.iter().enumerate().skip(from);
        html! {
            @for (number, call) in here.take_while(|(_, call)| call.at == at) {
                @let address = note_address(self.draft.number, call.note);
                sup { a.call href={ "#" (address) } { span.v { "footnote " } (number + 1) } }
            }
        }
    }

    fn stretch(&self, range: ByteRange, items: &[Item<'_>]) -> Markup {
        let text = self.draft.report.text.text.slice(range);
        let over = items.iter().filter(|item| range_of(item).overlaps(range));
        let over: Vec<&Item<'_>> = over.collect();
        nested(text, &over, 1)
    }
}

fn nested(text: &str, over: &[&Item<'_>], depth: usize) -> Markup {
    let Some((first, rest)) = over.split_first() else {
        return html! { (on_page(text)) };
    };
    let line = depth.min(MOST_LINES);
    let family = Family::of(first.finding.kind).class();
    html! {
        span class={ "m " (family) " d" (line) } data-f=(first.index) { (nested(text, rest, depth + 1)) }
    }
}

/// The number of a finding in the text.
fn number(item: &Item<'_>) -> Markup {
    let family = Family::of(item.finding.kind).class();
    html! {
        a class={ "r " (family) } href={ "#" (item.anchor) } data-f=(item.index)
            aria-label={ "Finding " (item.label) ", " (spaced(item)) } { (item.label) }
    }
}

/// The kind in words: `unmarked copy`.
pub(super) fn spaced(item: &Item<'_>) -> String {
    item.finding.kind.name().replace('-', " ")
}

/// The address of a footnote on the page.
pub(super) fn note_address(draft: usize, note: ByteRange) -> String {
    format!("note-{draft}-{}", note.start())
}

fn range_of(item: &Item<'_>) -> ByteRange {
    item.finding.draft.range
}
