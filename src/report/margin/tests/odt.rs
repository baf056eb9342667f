//! Comments in OpenDocument texts.

use super::*;

#[test]
fn odt_marks_stay_out_of_fields() {
    let mark =
        "<text:bibliography-mark text:identifier=\"k\">[Harrow2014]</text:bibliography-mark>";
    let body = format!("<text:p>So {mark} says.</text:p>");
    let (text, copy) = commented(&odt(&body), Format::Odt, &["Harrow2014"]);
    let content = part(&copy, "content.xml");
    assert!(
        content.contains(&format!("</office:annotation>{mark}<office:annotation-end")),
        "{content}"
    );
    assert_reads_the_same(&text, &copy, Format::Odt);
}

#[test]
fn odt_marks_stand_at_the_passage_and_stay_out_of_notes_and_boxes() {
    let note = "<text:note text:note-class=\"footnote\"><text:note-body><text:p>A note.</text:p></text:note-body></text:note>";
    let frame =
        "<draw:frame><draw:text-box><text:p>In the box.</text:p></draw:text-box></draw:frame>";
    let body = format!(
        "<text:p>The <text:span>lamps</text:span> glow &amp; fade{note}.{frame}</text:p><text:p>So it is.</text:p>"
    );
    let (text, copy) = commented(
        &odt(&body),
        Format::Odt,
        &["lamps glow & f", "note", "box", "."],
    );
    let content = part(&copy, "content.xml");
    let found: Vec<String> = anchored(&content)
        .into_iter()
        .map(|(_, text)| text)
        .collect();
    assert_eq!(found, ["lamps glow & f", "A note.", "In the box.", "."]);
    assert_reads_the_same(&text, &copy, Format::Odt);
}
