//! PDF files from the outside: what is read from them, and what is said of those that can't be.

use std::io::Read;
use std::time::{Duration, Instant};

use crate::common::pdf::{FONT, Pdf, deflated};
use crate::common::{HARROW_REFERENCE, Review};
use ownwords::reading::{Format, Limits, ReadFile, Unreadable, from_bytes, from_bytes_within};

/// Longest that any file here may take, in a build without optimisation on a busy machine.
const SOON: Duration = Duration::from_secs(20);

fn read(bytes: Vec<u8>) -> Result<ReadFile, Unreadable> {
    let start = Instant::now();
    let read = from_bytes(bytes, Format::Pdf);
    assert!(start.elapsed() < SOON, "took {:?}", start.elapsed());
    read
}

#[track_caller]
fn content_of(pdf: &Pdf) -> String {
    read(pdf.bytes()).unwrap().text.content().to_owned()
}

const FIRST: [&str; 4] = [
    "Lamps that go dark after midnight return the moths of a village to",
    "the flowers they visit, and the flowers set more seed than under a",
    "lamp that burns until dawn. The first counts were made in a wet sum-",
    "mer by two observers, who changed places every hour.",
];
const SECOND: [&str; 3] = [
    "The second summer was dry. Nearly twice as many moths came to the",
    "campion, and the difference between the dark and the lit nights was",
    "as large as before, though fewer nights were counted.",
];

fn two_pages() -> Pdf {
    let mut pdf = Pdf::new();
    pdf.text_page(&FIRST);
    pdf.text_page(&SECOND);
    pdf
}

#[test]
fn text_is_read_and_broken_words_are_mended() {
    let expected = format!("{}\n\n{}", FIRST.join("\n"), SECOND.join("\n"));
    // The rest of the broken word goes up to its beginning.
    assert_eq!(
        content_of(&two_pages()),
        expected.replace("sum-\nmer", "summer")
    );
}

#[test]
fn page_labels_are_honoured_and_sheets_are_no_pages() {
    let labels = |pdf: &Pdf| -> Vec<String> {
        let read = read(pdf.bytes()).unwrap();
        let starts = read.text.pages().starts().iter();
        starts.map(|start| start.label.to_string()).collect()
    };
    let mut pdf = two_pages();
    assert!(labels(&pdf).is_empty());
    pdf.catalog = "/PageLabels << /Nums [0 << /S /D /St 113 >>] >>".to_owned();
    assert_eq!(labels(&pdf), ["113", "114"]);
    pdf.catalog = "/PageLabels << /Nums [0 << /S /r /St 4 >> 1 << /S /D /P (A-) >>] >>".to_owned();
    assert_eq!(labels(&pdf), ["iv", "A-1"]);
}

#[test]
fn a_scan_is_told_from_a_text() {
    let mut pdf = Pdf::new();
    let picture = "/Type /XObject /Subtype /Image /Width 1 /Height 1 /ColorSpace /DeviceGray /BitsPerComponent 8";
    let picture = pdf.stream(picture, &[0]);
    let content = pdf.stream("", b"q 420 0 0 595 0 0 cm /I Do Q");
    pdf.page(&format!("/XObject << /I {picture} 0 R >>"), content);
    assert_eq!(read(pdf.bytes()).unwrap_err(), Unreadable::Pictures);
    assert!(Unreadable::Pictures.to_string().contains("recognised"));
    // The same with the text behind the picture that recognition leaves.
    let behind = format!(
        "3 Tr {} q 420 0 0 595 0 0 cm /I Do Q",
        crate::common::pdf::text(&FIRST)
    );
    let content = pdf.stream("", behind.as_bytes());
    pdf.page(&format!("{FONT} /XObject << /I {picture} 0 R >>"), content);
    let read = read(pdf.bytes()).unwrap();
    assert!(read.text.content().starts_with("Lamps that go dark"));
}

#[test]
fn fonts_that_name_no_characters_are_told() {
    let mut pdf = Pdf::new();
    let descriptor = pdf.object("<< /Type /FontDescriptor /FontName /Cut /Flags 4 >>");
    let inner = pdf.object(format!(
        "<< /Type /Font /Subtype /CIDFontType2 /BaseFont /Cut /CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> /FontDescriptor {descriptor} 0 R /DW 500 >>"
    ));
    let font = format!(
        "/Font << /F << /Type /Font /Subtype /Type0 /BaseFont /Cut /Encoding /Identity-H /DescendantFonts [{inner} 0 R] >> >>"
    );
    let mut drawn = String::from("BT /F 11 Tf 14 TL 40 540 Td\n");
    for line in FIRST {
        let codes: String = line
            .bytes()
            .map(|byte| format!("{:04X}", u32::from(byte) + 0x300))
            .collect();
        drawn.push_str(&format!("<{codes}> Tj T*\n"));
    }
    drawn.push_str("ET");
    let content = pdf.stream("", drawn.as_bytes());
    pdf.page(&font, content);
    assert_eq!(read(pdf.bytes()).unwrap_err(), Unreadable::Gibberish);
}

#[test]
fn a_password_is_told() {
    let mut pdf = two_pages();
    let bytes = "<00112233445566778899AABBCCDDEEFF00112233445566778899AABBCCDDEEFF>";
    pdf.trailer = format!(
        "/ID [<0123> <0123>] /Encrypt << /Filter /Standard /V 1 /R 2 /O {bytes} /U {bytes} /P -44 >>"
    );
    assert_eq!(read(pdf.bytes()).unwrap_err(), Unreadable::Protected);
}

#[test]
fn damage_is_mended_or_told() {
    let whole = two_pages().bytes();
    let text = String::from_utf8(whole.clone()).unwrap();
    // A table of places that leads nowhere is made again.
    let at = text.rfind("startxref").unwrap();
    let lost = format!("{}startxref\n7\n%%EOF\n", &text[..at]);
    assert!(
        read(lost.into_bytes())
            .unwrap()
            .text
            .content()
            .contains("dry")
    );
    let shifted = text.replacen("%PDF-1.7\n", "%PDF-1.7\n% moved\n", 1);
    assert!(
        read(shifted.into_bytes())
            .unwrap()
            .text
            .content()
            .contains("dry")
    );
    for broken in [
        &b"%PDF-1.7\n"[..],
        &whole[..40],
        b"%PDF-1.4 trailer << /Root 1 0 R >>",
    ] {
        let error = read(broken.to_vec()).unwrap_err();
        assert!(matches!(error, Unreadable::Damaged(_)), "{error}");
    }
    for other in [&b""[..], b"Lamps dim.", b"PK\x03\x04"] {
        let error = read(other.to_vec()).unwrap_err();
        assert!(matches!(error, Unreadable::OtherFormat { .. }), "{error}");
    }
}

#[test]
fn limits_are_settings() {
    let mut big = two_pages();
    let content = deflated(&mut std::io::repeat(b' ').take(4_000_000));
    let content = big.stream("/Filter /FlateDecode", &content);
    big.page(FONT, content);
    let pages: fn(&mut Limits) = |limits| limits.pages = 1;
    for (pdf, lower, setting) in [
        (two_pages(), pages, "max_pdf_pages"),
        (
            two_pages(),
            |limits| limits.characters = 10,
            "max_pdf_characters",
        ),
        (big, |limits| limits.unpacked_mb = 10, "max_unpacked_mb"),
    ] {
        let mut limits = Limits::default();
        lower(&mut limits);
        let error = from_bytes_within(pdf.bytes(), Format::Pdf, &limits).unwrap_err();
        assert!(error.to_string().contains(setting), "{error}");
        assert!(read(pdf.bytes()).is_ok(), "{setting}");
    }
}

#[test]
fn what_would_cost_too_much_is_refused() {
    let refused = |pdf: &Pdf| {
        let error = read(pdf.bytes()).unwrap_err();
        let told = matches!(
            error,
            Unreadable::Excessive(_) | Unreadable::OverLimit { .. }
        );
        assert!(told, "{error}");
    };
    // A page that unpacks into 250 MB, packed once and twice.
    let once = deflated(&mut std::io::repeat(b' ').take(250_000_000));
    let twice = deflated(&mut once.as_slice());
    for (filters, data) in [
        ("/FlateDecode", &once),
        ("[/FlateDecode /FlateDecode]", &twice),
    ] {
        let mut pdf = two_pages();
        let content = pdf.stream(&format!("/Filter {filters}"), data);
        pdf.page(FONT, content);
        refused(&pdf);
    }
    // Many pages that share one content of 30 MB.
    let some = deflated(&mut std::io::repeat(b' ').take(30_000_000));
    let mut pdf = Pdf::new();
    let content = pdf.stream("/Filter /FlateDecode", &some);
    for _ in 0..20 {
        pdf.page(FONT, content);
    }
    refused(&pdf);
    // Forms of which each draws the next twice.
    let mut pdf = Pdf::new();
    let mut inner = pdf.stream(
        "/Type /XObject /Subtype /Form /BBox [0 0 420 595]",
        b"0 0 m 1 1 l S",
    );
    for _ in 0..40 {
        inner = pdf.stream(
            &format!("/Type /XObject /Subtype /Form /BBox [0 0 420 595] /Resources << /XObject << /X {inner} 0 R >> >>"),
            b"/X Do /X Do",
        );
    }
    let content = pdf.stream("", b"/X Do");
    pdf.page(&format!("/XObject << /X {inner} 0 R >>"), content);
    refused(&pdf);
}

#[test]
fn what_refers_to_itself_ends() {
    let mut pdf = two_pages();
    let itself = pdf.object(Vec::new()) + 1;
    let form = format!(
        "/Type /XObject /Subtype /Form /BBox [0 0 420 595] /Resources << /XObject << /X {itself} 0 R >> >>"
    );
    assert_eq!(pdf.stream(&form, b"q /X Do Q"), itself);
    let content = pdf.stream("", b"/X Do");
    pdf.page(&format!("/XObject << /X {itself} 0 R >>"), content);
    assert!(content_of(&pdf).contains("dry"));
    // Twice in itself, which would be two to the fiftieth if it were followed.
    let mut pdf = two_pages();
    let itself = pdf.object(Vec::new()) + 1;
    pdf.stream(&form, b"/X Do /X Do");
    let content = pdf.stream("", b"/X Do");
    pdf.page(&format!("/XObject << /X {itself} 0 R >>"), content);
    assert!(content_of(&pdf).contains("dry"));
    // Brackets in brackets, in the structure and in a page.
    let deep = "[".repeat(200_000);
    let mut pdf = two_pages();
    pdf.object(deep.as_str());
    let content = pdf.stream(
        "",
        format!("{deep} TJ {}", crate::common::pdf::text(&["Still here."])).as_bytes(),
    );
    pdf.page(FONT, content);
    assert!(content_of(&pdf).contains("dry"));
    // Color spaces, fonts and labels that name themselves.
    let mut pdf = two_pages();
    let own = pdf.object(Vec::new()) + 1;
    pdf.object(format!("[/Indexed {own} 0 R 1 <000000FFFFFF>]"));
    let labels = own + 1;
    pdf.object(format!(
        "<< /Kids [{labels} 0 R {labels} 0 R] /Nums [0 << /S /D /St 7 >>] >>"
    ));
    pdf.catalog = format!("/PageLabels {labels} 0 R");
    let content = pdf.stream(
        "",
        format!("/C cs 0 sc {}", crate::common::pdf::text(&["Still here."])).as_bytes(),
    );
    pdf.page(&format!("{FONT} /ColorSpace << /C {own} 0 R >>"), content);
    assert!(content_of(&pdf).contains("Still here."));
}

/// A plain generator of numbers, so that every run changes the same bytes.
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, end: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) as usize % end
    }
}

#[test]
fn changed_bytes_and_cut_files_never_stop_the_program() {
    let mut pdf = two_pages();
    pdf.catalog = "/PageLabels << /Nums [0 << /S /D /St 113 >>] >>".to_owned();
    let packed = deflated(&mut crate::common::pdf::text(&SECOND).as_bytes());
    let content = pdf.stream("/Filter /FlateDecode", &packed);
    pdf.page(FONT, content);
    let whole = pdf.bytes();
    let mut numbers = Numbers(20_261_125);
    let mut readable = 0;
    for round in 0..300 {
        let mut bytes = whole.clone();
        if round % 3 == 0 {
            bytes.truncate(numbers.below(whole.len()));
        } else {
            for _ in 0..=numbers.below(8) {
                let at = numbers.below(bytes.len());
                bytes[at] = numbers.below(256) as u8;
            }
        }
        readable += usize::from(read(bytes).is_ok());
    }
    // Most damage is small, and a check that reads nothing would check nothing.
    assert!(readable > 100, "{readable}");
}

#[test]
fn sources_and_drafts_may_be_pdf() {
    let review = Review::new()
        .reference(HARROW_REFERENCE)
        .source("harrow2019.pdf", two_pages().bytes());
    let copied =
        "They say that “nearly twice as many moths came to the campion” (Harrow, 2019, p. 113).";
    // The reference gives the article's pages: the words stand on its second.
    review.check(copied).assert_kinds(&["page-mismatch"]);
    review
        .check(&copied.replace("p. 113", "p. 114"))
        .assert_silent();
    let mut draft = Pdf::new();
    draft.text_page(&[
        "I walked along the river before breakfast and thought of nothing.",
        "The first counts were made in a wet summer by two observers, who",
        "changed places every hour. Then it was time for tea.",
    ]);
    let checked = review.check_as("drafts/draft.pdf", draft.bytes());
    checked.assert_kinds(&["unmarked-copy"]);
    let source = &checked.of_kind("unmarked-copy")["source"];
    assert_eq!(source["page"], "113");
    // What can't be read is told, and the rest is checked.
    let review = review.source("quill2016.pdf", b"%PDF-1.7\n");
    let checked = review.check(copied);
    checked.assert_kinds(&["page-mismatch"]);
    let left_out = checked.left_out();
    assert!(
        left_out
            .iter()
            .any(|left| left.contains("quill2016.pdf: the file is damaged")),
        "{left_out:?}"
    );
}
