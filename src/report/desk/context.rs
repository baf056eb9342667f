//! The page of a source that a passage stands on, with the passage marked in it: what is around a sentence often says
//! more than the sentence.

use maud::{Markup, html};

use crate::report::escape::on_page;
use crate::text::{Block, BlockKind, ByteRange, Text};

/// Bytes shown before and behind a passage at the most: about a printed page each.
const AROUND: usize = 2400;

/// The passage with what stands around it, on its page where the source shows pages.
pub(crate) fn context(text: &Text, passage: ByteRange) -> Markup {
    let shown = around(text, passage);
    html! {
        @for block in text.blocks_in(shown) { (part(text, block, shown, passage)) }
    }
}

/// From the start of the page to its end, within bounds; blocks stay whole.
fn around(text: &Text, passage: ByteRange) -> ByteRange {
    let length = text.content().len();
    let starts = text.pages().starts();
    let before = starts.partition_point(|page| page.mark.start() <= passage.start());
    let behind = starts.partition_point(|page| page.mark.start() < passage.end());
    let page = before.checked_sub(1).and_then(|at| starts.get(at));
    let from = page.map_or(0, |page| page.mark.end());
    let to = starts.get(behind).map_or(length, |page| page.mark.start());
    let from = from
        .max(passage.start().saturating_sub(AROUND))
        .min(passage.start());
    let to = to
        .min(passage.end().saturating_add(AROUND))
        .max(passage.end());
    let whole = |at: usize| text.block_at(at).map(|block| block.range);
    ByteRange::of(
        whole(from).map_or(from, |range| {
            if from == 0 {
                0
            } else {
                range.start().max(from)
            }
        }),
        to.min(length),
    )
}

fn part(text: &Text, block: &Block, shown: ByteRange, passage: ByteRange) -> Markup {
    let range = block.range.intersection(shown);
    let words = html! {
        @for piece in text.pages().between_marks(range) { (marked(text, piece, passage)) }
    };
    match block.kind {
        BlockKind::Heading { .. } => html! { p.heading { (words) } },
        BlockKind::BlockQuotation => html! { blockquote { p { (words) } } },
        _ => html! { p { (words) } },
    }
}

fn marked(text: &Text, piece: ByteRange, passage: ByteRange) -> Markup {
    let inside = piece.intersection(passage);
    if inside.is_empty() || !piece.overlaps(passage) {
        return html! { (on_page(slice(text, piece.start(), piece.end()))) };
    }
    html! {
        (on_page(slice(text, piece.start(), inside.start())))
        mark { (on_page(slice(text, inside.start(), inside.end()))) }
        (on_page(slice(text, inside.end(), piece.end())))
    }
}

fn slice(text: &Text, from: usize, to: usize) -> &str {
    let content = text.content();
    let from = content.floor_char_boundary(from);
    let to = content.floor_char_boundary(to.max(from));
    content.get(from..to).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::reading::{Format, from_bytes};

    fn shown(content: &str, words: &str) -> String {
        let read = from_bytes(content.as_bytes().to_vec(), Format::Plain).unwrap();
        let at = read.text.content().find(words).unwrap();
        context(&read.text, ByteRange::of(at, at + words.len())).into_string()
    }

    #[test]
    fn the_page_around_a_passage_is_shown_and_no_other() {
        let source = "[p. 3]\n\nBefore the lamps.\n\n[p. 4]\n\nMoths circle. They <never> rest.\n\n[p. 5]\n\nBehind the lamps.";
        let expected = "<p>Moths circle. <mark>They &lt;never&gt; rest</mark>.</p>";
        assert_eq!(shown(source, "They <never> rest"), expected);
    }

    #[test]
    fn without_pages_there_is_a_bound() {
        let long = "Moths circle the lamps. ".repeat(2000);
        let source = format!("{long}Here it is. {long}");
        let shown = shown(&source, "Here it is.");
        assert!(shown.contains("<mark>Here it is.</mark>"));
        assert!(shown.len() < 2 * AROUND + 200, "{}", shown.len());
    }
}
