//! Reading LaTeX: what is left of markup, and where it came from.

use super::*;
use crate::text::{ByteRange, FileLines};
use proptest::prelude::*;

fn read_alone(content: &str) -> Text {
    read(content, &Origin::Same { skipped: 0 }, &|_| None).0
}

#[track_caller]
fn assert_plain(latex: &str, expected: &str) {
    assert_eq!(read_alone(latex).content(), expected, "in {latex:?}");
}

#[test]
fn prose_by_case() {
    for (latex, expected) in [
        ("Lamps   are\n  lit.", "Lamps are\nlit."),
        ("One.\n\n\nTwo.", "One.\n\nTwo."),
        ("\\emph{Lamps} are \\textbf{lit}.", "Lamps are lit."),
        ("{\\bfseries Lamps} are lit.", "Lamps are lit."),
        (
            "the \\variant{lamp}{lantern} and lamp{}{s}",
            "the lamp lantern and lamps",
        ),
        ("a \\IndexPlace{Sill}\\index{lamp}b\\indexname{} c", "a b c"),
        ("Lamps% and moths\n are lit.", "Lampsare lit."),
        ("Lamps % a comment\nare lit.", "Lamps are lit."),
        ("One.% end\n\nTwo.", "One.\n\nTwo."),
        ("``Lamps'' and `moths'", "“Lamps” and ‘moths’"),
        ("pp. 3--4 --- so", "pp. 3–4 — so"),
        ("Fig.~3", "Fig.\u{a0}3"),
        ("5\\,km and 50\\,\\%", "5\u{202f}km and 50\u{202f}%"),
        (
            "caf\\'e na\\\"{\\i}ve \\c{c}a \\v{S} \\ss{} \\o re",
            "café naïve ça Š ß øre",
        ),
        ("\\ldots{} and \\dots so", "… and …so"),
        ("a well\\-known lamp\\/s", "a wellknown lamps"),
        ("one\\\\two", "one\ntwo"),
        ("one\\\\[2pt]two", "one\ntwo"),
        ("$n = 24$ nights, $p < 0.05$", "n = 24 nights, p < 0.05"),
        ("so $\\sum_i x_i^2$ is", "so is"),
        ("it costs \\$5 and 7\\% more", "it costs $5 and 7% more"),
        ("it costs $5 once", "it costs $5 once"),
        ("a \\[ x^2 \\] b", "a b"),
        ("see Section~\\ref{sec:a}.\\label{x}", "see Section\u{a0}."),
        ("\\href{http://a.example}{the lamp}", "the lamp"),
        ("\\textcolor{red}{the lamp}", "the lamp"),
        ("\\verb|a_b| lamp", "a_b lamp"),
        ("\\unknown[x]{the lamp}", "the lamp"),
        (
            "\\newcommand{\\lamp}[1]{the #1 lamp}\\lamp{old} is",
            "the old lamp is",
        ),
        (
            "\\newcommand{\\x}[2][big]{#1 #2}\\x{lamp}, \\x[old]{moth}",
            "big lamp, old moth",
        ),
        ("\\def\\lamp{the lamp}\\lamp{} is", "the lamp is"),
        ("\\newcommand{\\a}{\\a\\a}x\\a", "x"),
        ("\\begin{equation}x\\end{equation}after", "after"),
        ("\\iffalse hidden\\fi shown", "shown"),
        (
            "\\begin{document} % and \\end{document} ends it\nThe lamp\n\\end{document}",
            "The lamp",
        ),
        (
            "\\section{Lamps} So \\verb|\\begin{document}| begins one.",
            "Lamps\n\nSo \\begin{document} begins one.",
        ),
        ("\\begin{comment}hidden\\end{comment}shown", "shown"),
    ] {
        assert_plain(latex, expected);
    }
}

#[test]
fn quotations_by_case() {
    for (latex, expected) in [
        (
            "\\enquote{lamps \\enquote{and} moths}",
            "“lamps ‘and’ moths”",
        ),
        (
            "\\textquote[\\cite[12]{lind14}]{lamps}",
            "“lamps” [@lind14, p. 12]",
        ),
        (
            "\\textcquote[12]{lind14}{lamps}",
            "“lamps” [@lind14, p. 12]",
        ),
        (
            "\\blockcquote[12]{lind14}{short words}",
            "“short words” [@lind14, p. 12]",
        ),
        ("\\foreigntextquote{german}{Lampen}", "“Lampen”"),
    ] {
        assert_plain(latex, expected);
    }
}

#[test]
fn citations_by_case() {
    for (latex, expected) in [
        ("\\cite{lind14}", "[@lind14]"),
        ("\\citep{lind14,pell20}", "[@lind14; @pell20]"),
        ("\\citep[see][p.~12]{lind14}", "[see @lind14, p.\u{a0}12]"),
        ("\\parencite[12--14]{lind14}", "[@lind14, pp. 12–14]"),
        ("\\citet[12]{lind14} holds", "@lind14 [p. 12] holds"),
        ("\\Textcite{lind14} holds", "@lind14 holds"),
        ("\\citep*{lind14}", "[@lind14]"),
        ("\\citeyear{lind14}", "[-@lind14]"),
        (
            "\\parencites[3]{lind14}[see][4]{pell20}",
            "[@lind14, p. 3; see @pell20, p. 4]",
        ),
        ("\\nocite{lind14}lamps", "lamps"),
        ("lamps.\\footcite[3]{lind14}", "lamps.\n\n[@lind14, p. 3]."),
        ("\\citeauthor{lind14}", "@lind14"),
        ("\\cite lamps", "lamps"),
    ] {
        assert_plain(latex, expected);
    }
}

#[test]
fn blocks_notes_and_places() {
    let latex = "\\documentclass{article}\n\\title{On \\emph{lamps}}\n\\newcommand{\\m}{moth}\n\
        \\begin{document}\n\\maketitle\n\\section{First}\\label{a}\nThe \\m{} came.\\footnote{A \\emph{note}.} Then\n\
        \\begin{quotation}\nWords of theirs.\n\nMore words.\n\\end{quotation}\nBehind it.\n\
        \\begin{itemize}\n\\item One\n\\item Two\n\\end{itemize}\n\
        \\begin{tabular}{ll}a & b \\\\ \\hline c & d\\end{tabular}\n\
        \\begin{verbatim}\n  x % y\n\\end{verbatim}\n\
        \\begin{thebibliography}{9}\\bibitem{k} Harrow (2014).\\end{thebibliography}\n\\end{document}\nnothing";
    let text = read_alone(latex);
    let blocks: Vec<_> = text
        .blocks()
        .iter()
        .map(|block| (block.kind.name(), text.slice(block.range)))
        .collect();
    assert_eq!(
        blocks,
        [
            ("heading", "On lamps"),
            ("heading", "First"),
            ("paragraph", "The moth came. Then"),
            ("block quotation", "Words of theirs.\n\nMore words."),
            ("paragraph", "Behind it."),
            ("list item", "One"),
            ("list item", "Two"),
            ("table", "a\tb\nc\td"),
            ("code", "x % y"),
            ("reference", "Harrow (2014)."),
            ("footnote", "A note."),
        ]
    );
    let call = text.note_calls()[0];
    assert!(text.content()[..call.at].ends_with("came."));
    assert_eq!(text.slice(call.note), "A note.");
    for words in ["came", "More words", "Two", "note"] {
        let at = text.content().find(words).unwrap();
        let range = ByteRange::of(at, at + words.len());
        let file = text.origin().file_range(range).unwrap();
        assert_eq!(&latex[file.as_range()], words);
    }
}

#[test]
fn other_files_are_read_in_their_place() {
    let files = [
        ("two", "Two.\\input{two} \\input{three}\\input{six}", 3),
        ("six", "Six.\\footnote{Seven.}", 0),
        ("old", "Eight.", 0),
    ];
    let load = |name: &str| {
        let (name, content, skipped) = files.iter().find(|(known, ..)| *known == name)?;
        Some(Include {
            path: format!("parts/{name}.tex").into(),
            content: (*content).to_owned(),
            lines: FileLines::of(content.as_bytes()),
            skipped: *skipped,
        })
    };
    let main = "One. \\input{two} Four. \\input{old} \\input{six}";
    let (text, remarks) = read(main, &Origin::Same { skipped: 3 }, &load);
    assert_eq!(
        text.content(),
        "One. Two. Six. Four. Eight. Six.\n\nSeven.\n\nSeven."
    );
    assert_eq!(remarks.len(), 1);
    assert!(remarks[0].starts_with("three "), "{remarks:?}");
    let part = |words: &str| {
        let at = text.content().find(words).unwrap();
        let part = text
            .origin()
            .file_part(ByteRange::of(at, at + words.len()))?;
        let file = part.file.map(|file| file.display().to_string());
        Some((file.unwrap_or_default(), part.range.start()))
    };
    let at = |file: &str, at: usize| Some((file.to_owned(), at));
    assert_eq!(part("One"), at("", 3));
    assert_eq!(part("Two"), at("parts/two.tex", 3));
    assert_eq!(part("Six"), at("parts/six.tex", 0));
    assert_eq!(part("Four"), at("", 3 + main.find("Four").unwrap()));
    assert_eq!(part("Eight"), at("parts/old.tex", 0));
    assert_eq!(part("Seven"), at("parts/six.tex", 14));
}

#[test]
fn long_empty_markup_is_read_to_its_end() {
    for part in [
        "{",
        "\\begin{x}",
        "$",
        "\\footnote{",
        "[",
        "\\verb",
        "\\cite[",
        "\\enquote{",
        "\\begin{verbatim}",
        "\\item[",
        "\\newcommand{\\a}{\\a\\a}\\a",
        "\\(",
        "\\textquote[",
        "\\begin{quote}",
        "\\iffalse",
        "%",
        "\\'",
    ] {
        let text = read_alone(&(part.repeat(20_000) + "\n\nlamp"));
        assert!(text.content().len() < 2_000_000, "{part}");
    }
}

proptest! {
    #[test]
    fn reading_never_panics(parts in prop::collection::vec(prop_oneof![
        Just("\\begin{quote}"), Just("\\end{quote}"), Just("{"), Just("}"), Just("\\"), Just("%"), Just("\n\n"), Just("é"),
        Just("\\footnote{"), Just("\\cite[a]{b}"), Just("$"), Just("\\enquote"), Just("["), Just("]"), Just("\\item"),
        Just("\\newcommand{\\x}[1]{#1#2}"), Just("\\x"), Just("\\'"), Just("``"), Just("lamp "), Just("\\verb|"),
        Just("\\begin{verbatim}"), Just("\\end{verbatim}"), Just("\\def\\y#1"), Just("&"), Just("\\\\"), Just("\\maketitle"),
        Just("\\title{t}"), Just("\\begin{tabular}{l}"), Just("\\end{tabular}"), Just("\\footnotemark[1]"),
    ], 0..40)) {
        let text = read_alone(&parts.concat());
        for block in text.blocks() {
            prop_assert!(text.content().get(block.range.as_range()).is_some());
        }
    }
}
