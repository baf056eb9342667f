//! Footnotes and endnotes, page breaks and typed marks of pages.

use super::*;

#[test]
fn notes_follow_the_text_in_order_of_their_calls() {
    let call = |kind: &str, id: u32| format!("<w:r><w:{kind}Reference w:id=\"{id}\"/></w:r>");
    let body = format!(
        "<w:p><w:r><w:t>Lamps</w:t></w:r>{}<w:r><w:t xml:space=\"preserve\"> glow.</w:t></w:r>{}</w:p>{}<w:p>{}</w:p>",
        call("footnote", 3),
        call("endnote", 2),
        p("More."),
        call("footnote", 2)
    );
    let footnotes = format!(
        "<w:footnote w:type=\"separator\" w:id=\"0\">{}</w:footnote><w:footnote w:id=\"2\">{}</w:footnote><w:footnote w:id=\"3\"><w:p><w:r><w:footnoteRef/></w:r><w:r><w:t>First &amp; foremost.</w:t></w:r></w:p>{}</w:footnote>",
        p("line"),
        p("Third."),
        p("On and on.")
    );
    let endnotes = format!("<w:endnote w:id=\"2\">{}</w:endnote>", p("Second."));
    let file = read_file(document(&body, &footnotes, &endnotes, ""));
    let text = &file.text;
    assert_eq!(
        shown(text),
        [
            "paragraph: Lamps glow.",
            "paragraph: More.",
            "footnote: First & foremost.",
            "footnote: On and on.",
            "footnote: Second.",
            "footnote: Third.",
        ]
    );
    let calls: Vec<(&str, &str)> = text
        .note_calls()
        .iter()
        .map(|call| (&text.content()[..call.at], text.slice(call.note)))
        .collect();
    assert_eq!(
        calls,
        [
            ("Lamps", "First & foremost.\n\nOn and on."),
            ("Lamps glow.", "Second."),
            ("Lamps glow.\n\nMore.", "Third."),
        ]
    );
    // Each stretch leads back to the part it stood in.
    let at = text.content().find("& foremost").unwrap();
    let found: Vec<_> = text
        .origin()
        .part_ranges(crate::text::ByteRange::of(at, at + 4))
        .collect();
    assert!(
        found.iter().all(|found| found.part == "word/footnotes.xml"),
        "{found:?}"
    );
    let Origin::Package { parts, .. } = text.origin() else {
        panic!("the origin is a package");
    };
    assert_eq!(
        parts,
        &[
            "word/document.xml",
            "word/footnotes.xml",
            "word/endnotes.xml"
        ]
    );
}

#[test]
fn pages_only_where_they_are_recorded_and_numbered() {
    let run = |inside: &str| format!("<w:p><w:r>{inside}</w:r></w:p>");
    let recorded = run("<w:lastRenderedPageBreak/><w:t>two</w:t>");
    let typed = format!(
        "{}{}",
        run("<w:br w:type=\"page\"/>"),
        run("<w:lastRenderedPageBreak/><w:t>three</w:t>")
    );
    let body = [p("one"), recorded.clone(), typed].concat();
    let footer = "<w:p><w:r><w:instrText> PAGE </w:instrText></w:r></w:p>";
    let pages = |body: &str, footer: &str| {
        let file = read_file(document(body, "", "", footer));
        let text = &file.text;
        let label = |word: &str| {
            let at = text.content().find(word)?;
            text.pages().at(at).map(|page| page.as_str().to_owned())
        };
        ["one", "two", "three"]
            .map(|word| label(word).unwrap_or_default())
            .join(",")
    };
    let start = |number: u32, kind: &str| {
        format!("<w:sectPr><w:pgNumType w:start=\"{number}\" w:fmt=\"{kind}\"/></w:sectPr>")
    };
    assert_eq!(pages(&body, footer), "1,2,3");
    assert_eq!(pages(&body, ""), ",,");
    assert_eq!(
        pages(&format!("{body}{}", start(113, "decimal")), ""),
        "113,114,115"
    );
    assert_eq!(
        pages(&format!("{body}{}", start(9, "lowerRoman")), footer),
        "ix,x,xi"
    );
    // Typed breaks alone leave the others unknown.
    assert_eq!(
        pages(
            &[p("one"), run("<w:br w:type=\"page\"/><w:t>two</w:t>")].concat(),
            footer
        ),
        ",,"
    );
    // A section of its own numbering.
    let preface = format!(
        "<w:p><w:pPr>{}</w:pPr><w:r><w:t>one</w:t></w:r></w:p>",
        start(1, "lowerRoman")
    );
    let own = [
        preface,
        recorded,
        run("<w:lastRenderedPageBreak/><w:t>three</w:t>"),
        start(1, "decimal"),
    ]
    .concat();
    assert_eq!(pages(&own, footer), "i,1,2");
}

#[test]
fn typed_page_marks_are_pages() {
    let file = read(
        &[
            p("[p. 113]"),
            p("Lamps glow."),
            p("[p. 114]"),
            p("Moths come."),
        ]
        .concat(),
    );
    let at = file.text.content().find("Moths").unwrap();
    assert_eq!(file.text.pages().at(at).unwrap().as_str(), "114");
}
