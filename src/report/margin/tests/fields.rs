//! Where the marks of a comment stand beside fields of Word documents.

use super::marks::{assert_call, assert_marked};
use super::*;

fn sign(kind: &str) -> String {
    format!("<w:r><w:fldChar w:fldCharType=\"{kind}\"/></w:r>")
}

/// A field in runs, its instruction in two of them as word processors cut it.
fn field(instruction: &str, result: &str) -> String {
    let (one, other) = instruction.split_at(3);
    let instructed = |text: &str| format!("<w:r><w:instrText>{text}</w:instrText></w:r>");
    [
        sign("begin"),
        instructed(one),
        instructed(other),
        sign("separate"),
        result.to_owned(),
        sign("end"),
    ]
    .concat()
}

/// A field that is one element.
fn simple(instruction: &str, result: &str) -> String {
    format!("<w:fldSimple w:instr=\"{instruction}\">{result}</w:fldSimple>")
}

#[track_caller]
fn assert_around_field(field: &str) {
    let behind = t(" at night.");
    let body = |inside: &str| format!("<w:p>{inside}{behind}</w:p>");
    let plain = body(&format!("{}{field}", t("Lamps glow ")));
    let cut = [t("Lamps "), START.to_owned(), t("glow ")].concat();
    let ends = format!("{field}{END}{SIGN}");
    for (words, expected) in [
        // Into the field, inside it, and out of it.
        ("glow in the", body(&format!("{cut}{ends}"))),
        (
            "the dark",
            body(&format!("{}{START}{ends}", t("Lamps glow "))),
        ),
        (
            "dark at",
            format!(
                "<w:p>{}{START}{field}{}{END}{SIGN}{}</w:p>",
                t("Lamps glow "),
                t(" at"),
                t(" night.")
            ),
        ),
    ] {
        assert_call(&plain, words, &expected);
        let (_, copy) = commented(&docx(&plain, None), Format::Docx, &[words]);
        assert_marks_in_order(&part(&copy, "word/document.xml"));
    }
}

#[test]
fn marks_stand_around_fields() {
    let result = t("in the dark");
    assert_around_field(&field(" REF x ", &result));
    assert_around_field(&field(" CITATION Har ", &result));
    assert_around_field(&simple(" REF x ", &result));
    // The outermost one counts.
    let inner = field(" HYPERLINK \\l \"x\" ", &t("in the"));
    assert_around_field(&field(" QUOTE \"x\" ", &format!("{inner}{}", t(" dark"))));
    assert_around_field(&simple("QUOTE x", &simple("REF x", &result)));
}

#[test]
fn marks_stand_in_links_and_lists() {
    let result = [t("in "), t("the"), t(" dark")].concat();
    let marked = [&t("in "), START, &t("the"), END, SIGN, &t(" dark")].concat();
    for instruction in [" HYPERLINK \"x\" ", "TOC \\o", " BIBLIOGRAPHY "] {
        let body = |result: &str| format!("<w:p>{}</w:p>", field(instruction, result));
        assert_marked(&body(&result), &["the"], &body(&marked));
    }
    // In one that is an element the sign stands behind it.
    let marked = marked.replace(SIGN, "");
    assert_marked(
        &format!("<w:p>{}</w:p>", simple("HYPERLINK x", &result)),
        &["the"],
        &format!("<w:p>{}{SIGN}</w:p>", simple("HYPERLINK x", &marked)),
    );
}

#[test]
fn a_field_may_begin_and_end_within_runs_and_span_paragraphs() {
    let begin = "<w:r><w:t>one</w:t><w:fldChar w:fldCharType=\"begin\"/><w:instrText>REF x</w:instrText><w:fldChar w:fldCharType=\"separate\"/><w:t>two</w:t></w:r>";
    let end = "<w:r><w:t>three</w:t><w:fldChar w:fldCharType=\"end\"/><w:t>four</w:t></w:r>";
    assert_call(
        &format!("<w:p>{begin}</w:p><w:p>{end}</w:p>"),
        "hree",
        &[
            "<w:p><w:r><w:t>one</w:t></w:r>",
            START,
            &begin.replace("<w:t>one</w:t>", ""),
            "</w:p><w:p>",
            &end.replace("<w:t>four</w:t>", ""),
            END,
            SIGN,
            "<w:r><w:t>four</w:t></w:r></w:p>",
        ]
        .concat(),
    );
}

#[test]
fn a_sign_that_leaves_an_insertion_does_not_enter_a_field() {
    let inserted = |inside: &str| format!("<w:p><w:ins w:id=\"1\">{inside}</w:ins>");
    let rest = [t("result"), sign("end"), SIGN.to_owned(), t("behind")].concat();
    let begin = [sign("begin"), sign("separate")].concat();
    let body = format!(
        "{}{}</w:p>",
        inserted(&[t("lamps"), begin.clone()].concat()),
        rest.replace(SIGN, "")
    );
    let marked = [START, &t("lamps"), END, &begin].concat();
    assert_marked(
        &body,
        &["lamps"],
        &format!("{}{rest}</w:p>", inserted(&marked)),
    );
}
