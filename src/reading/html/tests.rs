//! What a reader of the page sees.

use super::*;
use proptest::prelude::*;

fn read(html: &str) -> Text {
    super::read(html, &Limits::default()).expect("can be read")
}

#[track_caller]
fn assert_blocks(html: &str, expected: &[(&str, &str)]) {
    let text = read(html);
    let blocks: Vec<_> = text
        .blocks()
        .iter()
        .map(|block| (block.kind.name(), text.slice(block.range)))
        .collect();
    assert_eq!(blocks, expected, "in {html:?}");
}

#[test]
fn blocks_by_case() {
    assert_blocks(
        "<p>Lamps   are\n <em>lit</em>.<p>Moths &amp; more caf&eacute;",
        &[
            ("paragraph", "Lamps are\nlit."),
            ("paragraph", "Moths & more café"),
        ],
    );
    assert_blocks(
        "<head><title>x</title></head><h2>First</h2>text<blockquote><p>One.</p><p>Two.</p></blockquote>after",
        &[
            ("heading", "First"),
            ("paragraph", "text"),
            ("block quotation", "One.\n\nTwo."),
            ("paragraph", "after"),
        ],
    );
    assert_blocks(
        "<ul><li>One</li><li><p>Two</p></li></ul><pre>  a\n b</pre>\
         <table><tr><th>a</th><td><p>b</p></td></tr><tr><td>c<td>d</table>",
        &[
            ("list item", "One"),
            ("list item", "Two"),
            ("code", "a\n b"),
            ("table", "a\tb\nc\td"),
        ],
    );
    assert_blocks(
        "<p>She wrote <q>lamps <q>and</q> moths</q>.<br>Next<script>x</script><nav>y</nav><del>z</del>",
        &[("paragraph", "She wrote “lamps ‘and’ moths”.\nNext")],
    );
    assert_blocks(
        "<p>of moon&shy;light<div hidden>x</div><div style='display: none'>y</div>",
        &[("paragraph", "of moonlight")],
    );
    assert_blocks(
        "<p>lamp<noscript><p><b>Turn scripts on.</b></p></noscript>",
        &[("paragraph", "lamp")],
    );
    assert_blocks(
        "<h1>References</h1><p>Harrow, A. (2014). Lamps.</p>",
        &[
            ("heading", "References"),
            ("reference", "Harrow, A. (2014). Lamps."),
        ],
    );
}

#[test]
fn notes_and_pages_by_case() {
    let cases = [
        "<p>Lamps<a href='#fn1' role='doc-noteref'><sup>1</sup></a> are.</p>\
         <section role='doc-endnotes'><ol><li id='fn1'><p>A note.<a href='#fnref1' role='doc-backlink'>↩︎</a></p></li></ol></section>",
        "<p>Lamps<sup><a href='#n1' name='r1'>1</a></sup> are.</p><p><a id='n1' href='#r1'>1</a> A note.</p>",
        "<p>Lamps<a epub:type='noteref' href='#x'>*</a> are.</p><aside epub:type='footnote' id='x'>A note.</aside>",
    ];
    for html in cases {
        let text = read(html);
        assert_eq!(text.content(), "Lamps are.\n\nA note.", "in {html}");
        let call = text.note_calls()[0];
        assert_eq!(&text.content()[..call.at], "Lamps");
        assert_eq!(text.slice(call.note), "A note.");
    }
    let text = read(
        "<p>One <span role='doc-pagebreak' aria-label=' 12. '></span>two.<a href='#top'>up</a>",
    );
    assert_eq!(text.content(), "One two.up");
    assert_eq!(text.pages().at(4).map(|label| label.as_str()), Some("12"));
    assert_eq!(text.pages().at(0), None);
}

#[test]
fn page_breaks_between_paragraphs() {
    let breaks = [
        "<span epub:type='pagebreak' title='12'/>",
        "<span epub:type='pagebreak' title='12'></span>",
        "<span role='doc-pagebreak' aria-label='Page 12'>12</span>",
        "<span role='doc-pagebreak' id='p12'/>",
        "<span role='doc-pagebreak'>[p. 12]</span>",
        "<div role='doc-pagebreak' title='12'></div>",
        "<div epub:type='pagebreak' id='page_12'/>",
        "<hr role='doc-pagebreak' title='12'>",
        "<p><span epub:type='pagebreak' title='12'/></p>",
        "<span role='doc-pagebreak' title='11'></span><span role='doc-pagebreak' title='12'></span>",
    ];
    let frames = [
        "",
        "<?xml version='1.0'?><html xmlns='http://www.w3.org/1999/xhtml'>",
    ];
    for (mark, frame) in breaks
        .iter()
        .flat_map(|mark| frames.map(|frame| (mark, frame)))
    {
        let html = format!("{frame}<body><p>One.</p>{mark}<p>Two.</p>");
        let text = read(&html);
        assert_eq!(text.content(), "One.\n\nTwo.", "in {html}");
        assert_eq!(text.blocks().len(), 2, "in {html}");
        let page = |at: usize| text.pages().at(at).map(|label| label.as_str());
        assert_eq!(page(0), None, "in {html}");
        assert_eq!(page(6), Some("12"), "in {html}");
    }
    // A paragraph that continues across pages; breaks at the ends of the text.
    let text = read(
        "<span role='doc-pagebreak' title='11'></span><p>Lamps that</p><span role='doc-pagebreak' title='12'></span><p>burn.</p>\
         <span role='doc-pagebreak' title='13'></span>",
    );
    assert_eq!(text.blocks().len(), 1);
    let page = |at: usize| text.pages().at(at).map(|label| label.as_str());
    assert_eq!(page(0), Some("11"));
    assert_eq!(page(12), Some("12"));
}

#[test]
fn an_ordered_list_numbers_the_references() {
    let entries = "<li>Harrow, A. (2014). Lamps.<li>Okoro, B. (2016). Moths.";
    for (list, highest) in [
        (format!("<ol>{entries}</ol>"), Some(2)),
        (format!("<ol type=1>{entries}</ol>"), Some(2)),
        (format!("<ol type=a>{entries}</ol>"), None),
        (
            format!("<ol style='list-style-type: none'>{entries}</ol>"),
            None,
        ),
        (format!("<ul>{entries}</ul>"), None),
        (
            format!("<ol><li><ul>{entries}</ul></ol><p>Ash, C. (2011). Elms.</p>"),
            None,
        ),
        (
            "<div class=csl-entry><div class=csl-left-margin>[1]</div>\n<div class=csl-right-inline>Harrow</div></div>\
             <div class=csl-entry><div class=csl-left-margin>[2]</div>\n<div class=csl-right-inline>Okoro</div></div>"
                .to_owned(),
            Some(2),
        ),
    ] {
        let text = read(&format!("<p>Lamps [1].</p><h2>References</h2>{list}"));
        assert_eq!(text.highest_reference(), highest, "{list}");
    }
}

#[test]
fn deep_pages_are_refused_and_broken_ones_read() {
    let deep = |depth: usize| "<div>".repeat(depth) + "lamp";
    assert_eq!(read(&deep(500)).content(), "lamp");
    assert!(matches!(
        super::read(&deep(50_000), &Limits::default()),
        Err(Unreadable::Excessive(_))
    ));
    assert!(
        read(&"<p>lamp <b>".repeat(300))
            .content()
            .starts_with("lamp")
    );
}

#[test]
fn the_encoding_a_page_names() {
    let name = |page: &str| encoding(page.as_bytes()).map(|encoding| encoding.name());
    assert_eq!(name("<meta charset=\"ISO-8859-2\">"), Some("ISO-8859-2"));
    assert_eq!(
        name("<meta content='text/html; charset=koi8-r'>"),
        Some("KOI8-R")
    );
    assert_eq!(name("<p>charset"), None);
}

proptest! {
    #[test]
    fn reading_never_panics(parts in prop::collection::vec(prop_oneof![
        Just("<p>"), Just("</p>"), Just("<q>"), Just("</q>"), Just("<li>"), Just("<td>"), Just("<table>"), Just("</table>"),
        Just("<sup><a href='#a'>1</a></sup>"), Just("<div id=a>"), Just("</div>"), Just("<pre>"), Just("</pre>"), Just("lamp "),
        Just("é"), Just("<blockquote>"), Just("</blockquote>"), Just("&amp;"), Just("<"), Just("<!--"), Just("<h1>"),
    ], 0..40)) {
        let text = read(&parts.concat());
        for block in text.blocks() {
            prop_assert!(text.content().get(block.range.as_range()).is_some());
        }
    }
}
