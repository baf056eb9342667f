//! Stories joined to a [`Text`](crate::text::Text).

use std::collections::{BTreeMap, BTreeSet};

use super::{Manuscript, NoteName, Paragraph, Story, roles};
use crate::reading::builder::{Breaks, Draft};
use crate::reading::{CarriedReference, ReadFile};
use crate::text::{
    Block, BlockKind, ByteRange, CiteTarget, NoteCall, Origin, PageLabel, PageStart, PartPiece,
    RecordedCitation,
};

/// The Text of a document, with the references that its citations store.
pub(in crate::reading) fn assemble(manuscript: Manuscript, remarks: Vec<String>) -> ReadFile {
    let Manuscript {
        parts,
        body,
        notes,
        numbering,
    } = manuscript;
    let mut sheet = Sheet::default();
    sheet.lay(&body, None);
    let labels = numbering.pages(&body.text, &body.breaks);
    let mut starts: Vec<PageStart> = labels
        .iter()
        .map(|(at, label)| page_start(label.clone(), sheet.place(*at)))
        .collect();
    let (calls, call_places) = sheet.lay_notes(&body, &notes, &labels, &mut starts);

    // Without its reference a recorded citation says less than its visible characters do.
    let known = &sheet.known;
    sheet.recorded.retain(|citation| {
        let mut targets = citation.cites.iter().map(|cite| &cite.target);
        targets.all(|target| matches!(target, CiteTarget::Key(key) if known.contains(key)))
    });

    let draft = Draft {
        content: sheet.out,
        blocks: sheet.blocks,
        breaks: Breaks::UnlessMarks(starts),
        calls,
        numbered: sheet.numbered,
    };
    let origin = Origin::Package {
        parts,
        pieces: sheet.pieces,
        calls: call_places,
    };
    ReadFile {
        text: draft.text(origin).with_recorded(sheet.recorded),
        remarks,
        carried: sheet.carried,
        page_edges: Vec::new(),
    }
}

fn page_start(label: PageLabel, at: usize) -> PageStart {
    PageStart {
        label,
        mark: ByteRange::of(at, at),
    }
}

/// The Text written so far.
#[derive(Default)]
struct Sheet {
    out: String,
    pieces: Vec<PartPiece>,
    blocks: Vec<Block>,
    /// Where paragraphs start that their list numbers.
    numbered: Vec<usize>,
    recorded: Vec<RecordedCitation>,
    carried: Vec<CarriedReference>,
    /// Their keys.
    known: BTreeSet<String>,
    /// The characters taken from the story that was added last, with their positions in the Text.
    laid: Vec<(ByteRange, usize)>,
}

impl Sheet {
    /// Appends a story. Its blocks are of the given kind, or else of their own.
    fn lay(&mut self, story: &Story, kind: Option<BlockKind>) {
        self.laid.clear();
        let kinds = roles::kinds(story);
        let mut last: Option<(&Paragraph, BlockKind)> = None;
        let mut pieces = story.pieces.as_slice();
        for (paragraph, own) in story.paragraphs.iter().zip(kinds) {
            let text = story.slice(paragraph);
            let solid = text.trim();
            if solid.is_empty() {
                continue;
            }
            let from = paragraph.start + (text.len() - text.trim_start().len());
            let range = ByteRange::of(from, from + solid.len());
            let kind = kind.unwrap_or(own);
            let joined = last.and_then(|last| separator(last, (paragraph, kind)));
            if !self.out.is_empty() {
                self.out.push_str(joined.unwrap_or("\n\n"));
            }
            let start = self.out.len();
            self.out.push_str(solid);
            self.laid.push((range, start));
            if paragraph.counted {
                self.numbered.push(start);
            }
            pieces = self.take_pieces(pieces, range, start);
            let range = ByteRange::of(start, self.out.len());
            match self.blocks.last_mut() {
                Some(block) if joined.is_some() => block.range = block.range.hull(range),
                _ => self.blocks.push(Block { kind, range }),
            }
            last = Some((paragraph, kind));
        }
        for (range, cluster) in &story.citations {
            let (start, end) = (self.place(range.start()), self.place(range.end()));
            let visible = self.out.get(start..end).unwrap_or_default();
            if visible.trim().is_empty() {
                continue;
            }
            let lead = visible.len() - visible.trim_start().len();
            let range = ByteRange::of(start + lead, start + lead + visible.trim().len());
            self.recorded.push(RecordedCitation {
                range,
                suppressed_author: cluster.suppressed_author,
                cites: cluster.cites(range),
            });
            for reference in cluster.carried() {
                if self.known.insert(reference.key.clone()) {
                    self.carried.push(reference);
                }
            }
        }
    }

    /// Takes the pieces of a stretch of a story, which now begins at `start`, and returns the remaining ones.
    fn take_pieces<'p>(
        &mut self,
        pieces: &'p [PartPiece],
        range: ByteRange,
        start: usize,
    ) -> &'p [PartPiece] {
        let from = pieces.partition_point(|piece| piece.text.end() <= range.start());
        let to = pieces.partition_point(|piece| piece.text.start() < range.end());
        for piece in pieces.get(from..to).unwrap_or_default() {
            let first = piece.text.start().max(range.start());
            let behind = piece.text.end().min(range.end());
            let source = if piece.text.len() == piece.source.len() {
                let shift = first - piece.text.start();
                let begin = piece.source.start() + shift;
                ByteRange::of(begin, begin + (behind - first))
            } else {
                piece.source
            };
            let text = ByteRange::of(
                start + first - range.start(),
                start + behind - range.start(),
            );
            self.pieces.push(PartPiece {
                text,
                source,
                ..*piece
            });
        }
        // A piece may extend into the next paragraph.
        pieces.get(to.saturating_sub(1)..).unwrap_or_default()
    }

    /// The position in the Text of a position in the story that was added last; for a position between
    /// paragraphs, the end of the one before.
    fn place(&self, position: usize) -> usize {
        let behind = self
            .laid
            .partition_point(|(range, _)| range.start() <= position);
        let Some((range, start)) = behind.checked_sub(1).and_then(|at| self.laid.get(at)) else {
            return self.laid.first().map_or(0, |(_, start)| *start);
        };
        start + (position.min(range.end()) - range.start())
    }

    /// Appends the notes in order of their calls and returns the calls with their positions. A footnote is on
    /// the page of its call; endnotes are on the last.
    fn lay_notes(
        &mut self,
        body: &Story,
        notes: &BTreeMap<NoteName, Story>,
        labels: &[(usize, PageLabel)],
        starts: &mut Vec<PageStart>,
    ) -> (Vec<NoteCall>, Vec<(u16, ByteRange)>) {
        let places: Vec<usize> = body.calls.iter().map(|call| self.place(call.at)).collect();
        let mut laid: BTreeMap<&NoteName, ByteRange> = BTreeMap::new();
        let (mut calls, mut sources) = (Vec::new(), Vec::new());
        for (call, place) in body.calls.iter().zip(places) {
            let name = &call.note;
            if let Some(note) = laid.get(name) {
                sources.push(call.source);
                calls.push(NoteCall {
                    at: place,
                    note: *note,
                });
                continue;
            }
            let Some(story) = notes.get(name) else {
                continue;
            };
            let blocks = self.blocks.len();
            self.lay(story, Some(BlockKind::Footnote));
            let own = self.blocks.get(blocks..).unwrap_or_default();
            let (Some(first), Some(last)) = (own.first(), own.last()) else {
                continue;
            };
            let note = first.range.hull(last.range);
            laid.insert(name, note);
            sources.push(call.source);
            calls.push(NoteCall { at: place, note });
            let page = if name.endnote {
                labels.last()
            } else {
                let behind = labels.partition_point(|(start, _)| *start <= call.at);
                behind.checked_sub(1).and_then(|page| labels.get(page))
            };
            starts.extend(page.map(|(_, label)| page_start(label.clone(), note.start())));
        }
        (calls, sources)
    }
}

/// What separates two paragraphs that are one block; `None` where they are two blocks.
fn separator(
    (before, kind): (&Paragraph, BlockKind),
    (paragraph, next): (&Paragraph, BlockKind),
) -> Option<&'static str> {
    if kind != next {
        return None;
    }
    match (kind, before.cell, paragraph.cell) {
        (BlockKind::Table, Some(one), Some(other)) if one.table == other.table => {
            let next_cell = one.row == other.row && one.column != other.column;
            Some(if next_cell { "\t" } else { "\n" })
        }
        (BlockKind::Table, None, None) | (BlockKind::Code, _, _) => Some("\n"),
        // A table of numbers and entries, as Word sets numbered lists of references.
        (BlockKind::ReferenceListItem, Some(one), Some(other))
            if one.table == other.table && one.row == other.row && one.column != other.column =>
        {
            Some("\t")
        }
        (BlockKind::BlockQuotation, one, other) if one == other => Some("\n\n"),
        _ => None,
    }
}
