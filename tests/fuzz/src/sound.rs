//! What holds of every Text that was read, whatever it was read from.

use ownwords::reading::ReadFile;
use ownwords::text::{ByteRange, MarkedText, Origin, Text};

use crate::packages::Made;

/// A range inside a content, on the edges of characters.
#[track_caller]
pub(crate) fn inside(content: &str, range: ByteRange) {
    assert!(
        content.get(range.as_range()).is_some(),
        "{range:?} of {}",
        content.len()
    );
}

/// Everything that a file says of its text.
pub(crate) fn file(read: &ReadFile, bytes: &[u8], made: Option<&Made>) {
    text(&read.text);
    origin(&read.text, bytes, made);
    for carried in &read.carried {
        let json: Result<tinyjson::JsonValue, _> = carried.csl_json.parse();
        assert!(json.is_ok(), "a carried reference: {json:?}");
    }
}

fn text(text: &Text) {
    let content = text.content();
    let mut last = 0;
    for block in text.blocks() {
        inside(content, block.range);
        assert!(
            block.range.start() >= last,
            "blocks overlap at {:?}",
            block.range
        );
        last = block.range.end();
    }
    let mut last = 0;
    for page in text.pages().starts() {
        inside(content, page.mark);
        assert!(
            page.mark.start() >= last,
            "page marks overlap at {:?}",
            page.mark
        );
        last = page.mark.end();
    }
    for sheet in text.sheets() {
        assert!(content.is_char_boundary(sheet.at), "sheet at {}", sheet.at);
    }
    assert!(text.sheets().is_sorted_by_key(|sheet| sheet.at));
    for call in text.note_calls() {
        inside(content, call.note);
        assert!(content.is_char_boundary(call.at), "call at {}", call.at);
    }
    for recorded in text.recorded() {
        inside(content, recorded.range);
    }
    let lines = text.file_lines();
    for at in [0, content.len() / 2, content.len()] {
        // Notes stand behind the text that calls them, so lines need not grow.
        let located = matches!(
            text.origin(),
            Origin::Same { .. } | Origin::Pieces { .. } | Origin::Decoded { .. }
        );
        let last = lines
            .last_start()
            .filter(|_| located)
            .map(|start| lines.line(start));
        assert!(text.line(at) >= 1 && last.is_none_or(|last| text.line(at) <= last));
    }
}

/// The way back: what a piece came from is in the file, and is the same where it was copied.
fn origin(text: &Text, bytes: &[u8], made: Option<&Made>) {
    let content = text.content();
    match text.origin() {
        Origin::Same { skipped } => {
            assert_eq!(Some(content.as_bytes()), bytes.get(*skipped as usize..))
        }
        Origin::Pieces { pieces, included } => {
            assert!(pieces.is_sorted_by_key(|piece| piece.text.start()));
            assert!(included.is_empty(), "nothing can be included here");
            for piece in pieces {
                inside(content, piece.text);
                let from = piece.file_start as usize;
                let source = bytes.get(from..from + piece.text.len());
                let source = source.unwrap_or_else(|| panic!("{piece:?} of {}", bytes.len()));
                copied(text.slice(piece.text).as_bytes(), source);
            }
        }
        Origin::Package {
            parts,
            pieces,
            calls,
        } => {
            assert!(pieces.is_sorted_by_key(|piece| piece.text.start()));
            let part = |number: u16| {
                let name = &parts[usize::from(number)];
                let member = made?.members.iter().find(|(known, _)| known == name)?;
                // What is in another encoding has other places.
                std::str::from_utf8(&member.1)
                    .ok()
                    .filter(|content| !content.starts_with('\u{FEFF}'))
            };
            for piece in pieces {
                inside(content, piece.text);
                let Some(source) = part(piece.part) else {
                    continue;
                };
                inside(source, piece.source);
                let written = text.slice(piece.text);
                let from = &source[piece.source.as_range()];
                if from.len() == written.len() && !from.starts_with(['<', '&']) {
                    copied(written.as_bytes(), from.as_bytes());
                }
            }
            for (number, tag) in calls {
                if let Some(source) = part(*number) {
                    inside(source, *tag);
                }
            }
        }
        Origin::Decoded { pieces, included } => {
            assert!(pieces.is_sorted_by_key(|piece| piece.text.start()));
            assert!(included.is_empty(), "nothing can be included here");
            for piece in pieces {
                inside(content, piece.text);
            }
        }
        Origin::Recoded => {}
    }
}

/// The same bytes, but for blank space that stands for another byte.
#[track_caller]
fn copied(written: &[u8], source: &[u8]) {
    let mut pairs = written.iter().zip(source);
    let same = pairs.all(|(written, source)| written == source || *written == b' ');
    let shown = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    assert!(same, "{:?} is {:?}", shown(source), shown(written));
}

/// Words, sentences, quotations and citations.
pub(crate) fn marks(marked: &MarkedText) {
    let text = &marked.text;
    let content = text.content();
    let mut last = 0;
    for word in &marked.words {
        inside(content, *word);
        assert!(
            !word.is_empty() && word.start() >= last,
            "words overlap at {word:?}"
        );
        last = word.end();
    }
    let (mut last, mut words) = (0, 0);
    for sentence in &marked.sentences {
        inside(content, sentence.range);
        assert!(
            sentence.range.start() >= last,
            "sentences overlap at {:?}",
            sentence.range
        );
        last = sentence.range.end();
        assert_eq!(
            sentence.words.start(),
            words,
            "every word lies in one sentence"
        );
        words = sentence.words.end();
        let block = text.blocks()[sentence.block as usize].range;
        assert!(
            block.covers(sentence.range),
            "{:?} in {block:?}",
            sentence.range
        );
    }
    assert_eq!(words, marked.words.len(), "every word lies in one sentence");
    let mut open: Vec<ByteRange> = Vec::new();
    for quotation in &marked.quotations {
        inside(content, quotation.outer);
        inside(content, quotation.inner);
        assert!(quotation.outer.covers(quotation.inner), "{quotation:?}");
        open.retain(|outer| outer.end() > quotation.outer.start());
        let nested = open
            .last()
            .is_none_or(|outer| outer.covers(quotation.outer));
        assert!(nested, "{quotation:?} crosses {open:?}");
        open.push(quotation.outer);
    }
    let mut last = 0;
    for citation in &marked.citations {
        inside(content, citation.range);
        inside(content, citation.aside);
        assert!(
            citation.range.start() >= last,
            "citations overlap at {:?}",
            citation.range
        );
        last = citation.range.end();
        assert!(!citation.cites.is_empty(), "{citation:?}");
        for cite in &citation.cites {
            inside(content, cite.range);
        }
    }
}
