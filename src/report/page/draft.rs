//! The draft as readable text: a row for each of its blocks, with the block on the one side, what is said of
//! it in the margin on the other, and below both a leaf for each finding.

use maud::{Markup, html};

use super::leaf;
use super::marks::{Marks, note_address};
use super::plan::{DraftPlan, Item};
use crate::report::escape::on_page;
use crate::text::{Block, BlockKind, ByteRange};

/// The draft's own headings begin at this level, below the page's.
const FIRST_LEVEL: u8 = 4;

/// Rows that are laid out together, once they come near: so a browser has hundreds of things to watch in a
/// very long draft, not ten thousand.
const FOLD: usize = 24;

/// Blocks of one sort that belong together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Sort {
    Single,
    List,
    References,
}

/// The whole draft.
pub(super) fn draft(draft: &DraftPlan<'_>) -> Markup {
    html! { @for fold in folds(draft, Leaves::Below) { (fold) } }
}

/// Where what is said of a finding in full stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::report) enum Leaves {
    /// Below the row that its passage begins in.
    Below,
    /// Not in the draft: it is asked for, a finding at a time.
    Elsewhere,
}

/// The draft in stretches that are laid out together.
pub(in crate::report) fn folds(draft: &DraftPlan<'_>, leaves: Leaves) -> Vec<Markup> {
    let text = &draft.report.text.text;
    let marks = Marks::new(draft);
    let mut rows = rows(draft);
    let mut levels = Levels::default();
    let mut folds: Vec<Vec<Markup>> = Vec::new();
    let mut at = 0;
    while let Some(block) = text.blocks().get(at) {
        let sort = sort(block);
        let rest = text.blocks().get(at..).unwrap_or_default();
        let count = match sort {
            Sort::Single => 1,
            _ => rest
                .iter()
                .take_while(|block| self::sort(block) == sort)
                .count(),
        };
        let of_sort = rest.get(..count).unwrap_or_default();
        let shown = list(
            draft,
            &marks,
            (at, of_sort),
            sort,
            &mut rows,
            &mut levels,
            leaves,
        );
        match folds.last_mut().filter(|fold| fold.len() < FOLD) {
            Some(fold) => fold.push(shown),
            None => folds.push(vec![shown]),
        }
        at += count.max(1);
    }
    let left: Vec<&Item<'_>> = rows.drain(..).flatten().collect();
    let mut folds: Vec<Markup> = folds
        .iter()
        .map(|rows| html! { div.fold { @for row in rows { (row) } } })
        .collect();
    if !left.is_empty() {
        folds.push(html! { div.row { div.t {} (beside(&left, leaves)) } });
    }
    folds
}

/// For each block the findings that begin in it, or behind it before the next.
fn rows<'p, 'r>(draft: &'p DraftPlan<'r>) -> Vec<Vec<&'p Item<'r>>> {
    let blocks = draft.report.text.text.blocks();
    let mut rows = vec![Vec::new(); blocks.len().max(1)];
    for item in &draft.items {
        let start = item.finding.draft.range.start();
        let behind = blocks.partition_point(|block| block.range.start() <= start);
        if let Some(row) = rows.get_mut(behind.saturating_sub(1)) {
            row.push(item);
        }
    }
    rows
}

fn sort(block: &Block) -> Sort {
    match block.kind {
        BlockKind::ListItem => Sort::List,
        BlockKind::ReferenceListItem => Sort::References,
        _ => Sort::Single,
    }
}

fn list<'p>(
    draft: &DraftPlan<'_>,
    marks: &Marks<'_>,
    (first, blocks): (usize, &[Block]),
    sort: Sort,
    rows: &mut [Vec<&'p Item<'p>>],
    levels: &mut Levels,
    leaves: Leaves,
) -> Markup {
    let mut row = |number: usize, block: &Block| {
        let items = rows.get_mut(number).map(std::mem::take).unwrap_or_default();
        html! {
            div.t { (self::block(draft, marks, block, number, levels)) }
            (beside(&items, leaves))
        }
    };
    html! {
        @match sort {
            Sort::Single => {
                @for (block, number) in blocks.iter().zip(first..) { div.row { (row(number, block)) } }
            }
            _ => {
                ul.rows.refs[sort == Sort::References] {
                    @for (block, number) in blocks.iter().zip(first..) { li.row { (row(number, block)) } }
                }
            }
        }
    }
}

/// The margin beside a block, and the leaves below it.
fn beside(items: &[&Item<'_>], leaves: Leaves) -> Markup {
    html! {
        @if !items.is_empty() {
            div.margin { @for item in items { (leaf::in_margin(item)) } }
            @if leaves == Leaves::Below { div.leaves { @for item in items { (leaf::leaf(item)) } } }
        }
    }
}

fn block(
    draft: &DraftPlan<'_>,
    marks: &Marks<'_>,
    block: &Block,
    number: usize,
    levels: &mut Levels,
) -> Markup {
    let words = || marks.marked(block.range);
    match block.kind {
        BlockKind::Heading { level } => heading(draft, levels.shown(level), number, &words()),
        BlockKind::BlockQuotation => html! { blockquote { p { (words()) } } },
        BlockKind::Table => table(draft, marks, block.range),
        BlockKind::Code => html! { pre tabindex="0" { code { (words()) } } },
        BlockKind::Footnote => html! {
            p.fn id=(note_address(draft.number, block.range)) { span.v { "Footnote: " } (words()) }
        },
        BlockKind::Paragraph | BlockKind::ListItem | BlockKind::ReferenceListItem => {
            html! { p { (words()) } }
        }
    }
}

fn heading(draft: &DraftPlan<'_>, level: u8, number: usize, words: &Markup) -> Markup {
    let id = section_address(draft.number, number);
    match level {
        4 => html! { h4 id=(id) { (words) } },
        5 => html! { h5 id=(id) { (words) } },
        _ => html! { h6 id=(id) { (words) } },
    }
}

/// The address of a heading by its block's number.
pub(super) fn section_address(draft: usize, block: usize) -> String {
    format!("part-{draft}-{block}")
}

/// Levels of headings as the page shows them: never more than one deeper than the one before, so that the
/// order holds whatever levels a draft leaves out.
#[derive(Default)]
struct Levels {
    open: Vec<u8>,
}

impl Levels {
    fn shown(&mut self, level: u8) -> u8 {
        self.open.retain(|open| *open < level);
        self.open.push(level);
        let depth = u8::try_from(self.open.len()).unwrap_or(u8::MAX);
        FIRST_LEVEL.saturating_add(depth - 1).min(6)
    }
}

/// A table by its lines and tabs.
fn table(draft: &DraftPlan<'_>, marks: &Marks<'_>, range: ByteRange) -> Markup {
    let content = draft.report.text.text.slice(range);
    let mut at = range.start();
    html! {
        div.wide tabindex="0" role="region" aria-label="Table" {
            table {
                @for line in content.split('\n') {
                    tr {
                        @for cell in line.split('\t') {
                            @let from = at;
                            @let () = at += cell.len() + 1;
                            td { (marks.marked(ByteRange::of(from, from + cell.len()))) }
                        }
                    }
                }
            }
        }
    }
}

/// The title of a section as it is read in a list.
pub(super) fn title(text: &str) -> String {
    let words: Vec<&str> = text.split_whitespace().collect();
    on_page(&words.join(" ")).into_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn headings_never_skip_a_level() {
        let mut levels = Levels::default();
        let shown: Vec<u8> = [3, 5, 6, 4, 1, 2, 6]
            .map(|level| levels.shown(level))
            .into();
        assert_eq!(shown, [4, 5, 6, 5, 4, 5, 6]);
    }
}
