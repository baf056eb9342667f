//! The readers, one by one.

use ownwords::reading::{Format, Limits, from_bytes_within};
use ownwords::report::{Colours, Look, text};
use ownwords::text::MarkedText;

use crate::packages::{Made, book, drawn, open_document, word};
use crate::sound;

/// Limits under which no input takes long: what they are there for is tried by hand-made files.
fn limits() -> Limits {
    let mut limits = Limits::USUAL;
    limits.file_mb = 1;
    limits.unpacked_mb = 12;
    limits.characters = 200_000;
    limits.html_nodes = 100_000;
    limits.text_marks = 200_000;
    limits
}

/// Reads, marks and prints; nothing comes of bytes that the reader refuses.
fn read(format: Format, bytes: &[u8], made: Option<&Made>) {
    let Ok(read) = from_bytes_within(bytes.to_vec(), format, &limits()) else {
        return;
    };
    sound::file(&read, bytes, made);
    let marked = MarkedText::new(read.text);
    sound::marks(&marked);
    let mut printed = Vec::new();
    let aside = (read.remarks.as_slice(), read.page_edges.as_slice());
    let look = Look::new(80, Colours::Off);
    text::write("draft", &marked, aside, &look, &mut printed).expect("memory takes it");
    let printed = std::str::from_utf8(&printed).expect("a report is text");
    let harmful = |c: char| c.is_control() && c != '\n';
    assert!(
        !printed.contains(harmful),
        "a control character in a report"
    );
}

macro_rules! readers {
    ($($(#[$doc:meta])* $name:ident: $format:ident,)*) => {
        $($(#[$doc])* pub fn $name(data: &[u8]) {
            read(Format::$format, data, None);
        })*
    };
}

readers! {
    /// Plain text.
    plain: Plain,
    /// Markdown.
    markdown: Markdown,
    /// LaTeX.
    latex: Latex,
    /// HTML.
    html: Html,
    /// Rich Text.
    rtf: Rtf,
    /// Org.
    org: Org,
    /// reStructuredText.
    rst: Rst,
}

/// Word.
pub fn docx(data: &[u8]) {
    let made = word(data);
    read(Format::Docx, &made.bytes, Some(&made));
}

/// OpenDocument.
pub fn odt(data: &[u8]) {
    let made = open_document(data);
    read(Format::Odt, &made.bytes, Some(&made));
}

/// EPUB.
pub fn epub(data: &[u8]) {
    let made = book(data);
    read(Format::Epub, &made.bytes, Some(&made));
}

/// PDF.
pub fn pdf(data: &[u8]) {
    read(Format::Pdf, &drawn(data), None);
}
