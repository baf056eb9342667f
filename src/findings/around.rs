//! What stands around a place of a draft: its sentences, the citations that may speak for it, a work named earlier that
//! still does. Paragraphs and rows of tables are its bounds.

use crate::review::Resolved;
use crate::text::{BlockKind, ByteRange, CitationForm};

use super::citing::ResolvedCitation;
use super::laid::LaidDraft;

impl LaidDraft {
    /// The citations in the sentences that a range touches, and in as many sentences around them in
    /// the same block as the settings call nearby.
    #[must_use]
    pub(super) fn nearby(&self, range: ByteRange) -> Vec<&ResolvedCitation> {
        let around = self.around(range, self.session.review.settings.credit_sentences);
        self.within(around)
    }

    /// The citations of a work that was named in the sentence earlier in the same block and holds on to a place: the last one
    /// so named, and what cites it since. Empty where another work was cited after it.
    #[must_use]
    pub(super) fn carried(&self, at: ByteRange) -> Vec<&ResolvedCitation> {
        let blocks = self.text().text.blocks();
        let own = blocks.partition_point(|block| block.range.start() <= at.start());
        let block = own.checked_sub(1).and_then(|own| blocks.get(own));
        let Some(block) = block.filter(|block| block.kind != BlockKind::Table) else {
            return Vec::new();
        };
        let before = ByteRange::of(block.range.start().min(at.start()), at.start());
        let mut cited = self.within(before);
        cited.sort_by_key(|citation| citation.place_near(before));
        let last = cited
            .iter()
            .rposition(|citation| citation.citation.narrative && citation.is_resolved());
        let Some(last) = last else {
            return Vec::new();
        };
        let since = cited.split_off(last);
        let goes_on = |citation: &&ResolvedCitation| {
            let keys = citation.resolved.iter().flat_map(Resolved::keys);
            let mut keys = keys.peekable();
            keys.peek().is_some() && keys.all(|key| since[0].points_at(key))
        };
        match since.iter().all(goes_on) {
            true => since,
            false => Vec::new(),
        }
    }

    /// The sentences that a range touches, in order; the range itself where it touches none.
    #[must_use]
    pub(super) fn sentences_of(&self, range: ByteRange) -> Vec<ByteRange> {
        let sentences = &self.text().sentences;
        let first = sentences.partition_point(|sentence| sentence.range.end() <= range.start());
        let rest = sentences.get(first..).unwrap_or_default().iter();
        let touched: Vec<ByteRange> = rest
            .map(|sentence| sentence.range)
            .take_while(|sentence| sentence.start() < range.end())
            .collect();
        match touched.is_empty() {
            true => vec![range],
            false => touched,
        }
    }

    /// The citations that touch a range, those of footnotes called there included.
    #[must_use]
    pub(super) fn within(&self, range: ByteRange) -> Vec<&ResolvedCitation> {
        let near = self.citation_places.near(range).into_iter();
        near.filter_map(|number| self.citations.get(number))
            .filter(|credited| credited.touches(range))
            .collect()
    }

    /// Whether marked words stand inside a footnote's citation: they are the title of the work, not its
    /// words.
    #[must_use]
    pub(super) fn is_cited_title(&self, range: ByteRange) -> bool {
        let from = self
            .citations
            .partition_point(|credited| credited.citation.range.end() <= range.start());
        self.citations.get(from).is_some_and(|credited| {
            let citation = &credited.citation;
            citation.form == CitationForm::Note && citation.range.covers(range)
        })
    }

    /// The rows of a table that a range touches; `None` outside of tables. What is credited in a row is credited in all its
    /// cells, and nothing is by another row.
    fn rows(&self, range: ByteRange, blocks: (u32, u32)) -> Option<ByteRange> {
        let text = &self.text().text;
        let block = text.blocks().get(blocks.0 as usize)?;
        if block.kind != BlockKind::Table || blocks.0 != blocks.1 {
            return None;
        }
        let before = text.slice(ByteRange::of(block.range.start(), range.start()));
        let behind = text.slice(ByteRange::of(range.end(), block.range.end()));
        let start = before.rfind('\n').map_or(0, |at| at + 1);
        let end = behind.find('\n').unwrap_or(behind.len());
        Some(ByteRange::of(
            block.range.start() + start,
            range.end() + end,
        ))
    }

    /// A range widened to whole sentences and by some more on each side within its block.
    #[must_use]
    pub(super) fn around(&self, range: ByteRange, more: usize) -> ByteRange {
        let sentences = &self.text().sentences;
        let first = sentences.partition_point(|sentence| sentence.range.end() <= range.start());
        let behind = sentences.partition_point(|sentence| sentence.range.start() < range.end());
        let last = behind.saturating_sub(1).max(first);
        let (Some(start), Some(end)) = (sentences.get(first), sentences.get(last)) else {
            return range;
        };
        if more > 0
            && let Some(rows) = self.rows(start.range.hull(end.range), (start.block, end.block))
        {
            return rows.hull(range);
        }
        let before = sentences[..first]
            .iter()
            .rev()
            .take(more)
            .take_while(|s| s.block == start.block);
        let after = sentences[last + 1..]
            .iter()
            .take(more)
            .take_while(|s| s.block == end.block);
        before.chain(after).fold(
            start.range.hull(end.range).hull(range),
            |around, sentence| around.hull(sentence.range),
        )
    }
}
