//! Small files that once took all memory, or never came to an end. Each is read by the built program within a bound on
//! memory and time, and is either read or left out with a message that says why. A case is named for what it
//! guards, and is made here, so that what it consists of can be seen.

use std::fmt::Write as _;
use std::fs::{self, File};
use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Output, Stdio};
use std::time::{Duration, Instant};

use crate::common::pdf::Pdf;
use crate::common::{HARROW_REFERENCE, Review};
use ownwords::reading::Limits;
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

/// Longest that one file may take: six times what `ownwords explain limits` says, in a build without optimisation on a
/// busy machine.
const SOON: Duration = Duration::from_secs(6 * Limits::SECONDS);

/// Most memory, in kilobytes, as it says there.
const MEMORY: u64 = 1000 * Limits::MEMORY_MB;

/// What becomes of a file.
enum Outcome<'a> {
    /// It is read, and this stands in it.
    Read(&'a str),
    /// It is left out, and the message says this.
    LeftOut(&'a str),
}
use Outcome::{LeftOut, Read};

/// Runs the program within the bounds.
#[track_caller]
fn bounded(folder: &Path, arguments: &[&str]) -> Output {
    let program = env!("CARGO_BIN_EXE_ownwords");
    let mut command = if cfg!(target_os = "linux") {
        let mut shell = Command::new("sh");
        let script = format!("ulimit -v {MEMORY}; exec \"$0\" \"$@\"");
        shell.args(["-c", &script, program]);
        shell
    } else {
        Command::new(program)
    };
    let out = tempfile::tempdir().unwrap();
    let path = |name: &str| out.path().join(name);
    let file = |name: &str| Stdio::from(File::create(path(name)).unwrap());
    let mut child = command
        .args(arguments)
        .current_dir(folder)
        // Threads take virtual memory for stacks that they never use.
        .env("RAYON_NUM_THREADS", "2")
        .stdout(file("stdout"))
        .stderr(file("stderr"))
        .spawn()
        .unwrap();
    let start = Instant::now();
    let status = loop {
        if let Some(status) = child.try_wait().unwrap() {
            break status;
        }
        if start.elapsed() > SOON {
            child.kill().unwrap();
            child.wait().unwrap();
            panic!("{arguments:?}: not done after {SOON:?}");
        }
        std::thread::sleep(Duration::from_millis(10));
    };
    Output {
        status,
        stdout: fs::read(path("stdout")).unwrap(),
        stderr: fs::read(path("stderr")).unwrap(),
    }
}

/// Holds what becomes of a file.
#[track_caller]
fn assert_outcome(folder: &Path, name: &str, outcome: &Outcome<'_>) {
    let output = bounded(folder, &["text", "--plain", name]);
    let stdout = String::from_utf8_lossy(&output.stdout);
    let stderr = String::from_utf8_lossy(&output.stderr);
    let code = output.status.code();
    match outcome {
        Read(words) => {
            assert_eq!(code, Some(0), "{name}: {stderr:.2000}");
            assert!(stdout.contains(words), "{name}: {stdout:.200}");
        }
        LeftOut(words) => {
            assert_eq!(code, Some(2), "{name}: {stdout:.200}{stderr:.2000}");
            assert!(stderr.contains(words), "{name}: {stderr:.2000}");
            assert!(stderr.contains(name), "{name}: {stderr:.2000}");
        }
    }
}

/// Holds what becomes of each of some files.
#[track_caller]
fn assert_outcomes(cases: &[(&str, String, Outcome<'_>)]) {
    let folder = tempfile::tempdir().unwrap();
    for (name, content, outcome) in cases {
        fs::write(folder.path().join(name), content).unwrap();
        assert_outcome(folder.path(), name, outcome);
    }
}

fn numbered(count: usize, one: impl Fn(usize) -> String) -> String {
    (0..count).map(one).collect()
}

/// An EPUB with these chapters.
fn book(chapters: &[&str]) -> Vec<u8> {
    let mut zip = ZipWriter::new(std::io::Cursor::new(Vec::new()));
    let mut part = |name: &str, content: &str| {
        zip.start_file(name, SimpleFileOptions::default()).unwrap();
        zip.write_all(content.as_bytes()).unwrap();
    };
    let (mut items, mut order) = (String::new(), String::new());
    for (number, chapter) in chapters.iter().enumerate() {
        write!(items, "<item id='c{number}' href='c{number}.xhtml'/>").unwrap();
        write!(order, "<itemref idref='c{number}'/>").unwrap();
        let page = format!(
            "<html xmlns='http://www.w3.org/1999/xhtml' xmlns:epub='http://www.idpf.org/2007/ops'>\
             <head><title/></head><body>{chapter}</body></html>"
        );
        part(&format!("c{number}.xhtml"), &page);
    }
    part(
        "META-INF/container.xml",
        "<container><rootfiles><rootfile full-path='book.opf'/></rootfiles></container>",
    );
    let listing = format!("<package><manifest>{items}</manifest><spine>{order}</spine></package>");
    part("book.opf", &listing);
    zip.finish().unwrap().into_inner()
}

#[test]
fn a_page_break_of_no_width_between_paragraphs() {
    let folder = tempfile::tempdir().unwrap();
    for (number, mark) in [
        "<span epub:type='pagebreak' title='12'/>",
        "<span role='doc-pagebreak' aria-label='12'></span>",
        "<div role='doc-pagebreak' title='12'></div>",
    ]
    .iter()
    .enumerate()
    {
        let body = format!("<p>One.</p>{mark}<p>Two.</p>");
        let (page, epub) = (format!("{number}.html"), format!("{number}.epub"));
        fs::write(folder.path().join(&page), format!("<!DOCTYPE html>{body}")).unwrap();
        fs::write(folder.path().join(&epub), book(&[&body])).unwrap();
        for name in [&page, &epub] {
            assert_outcome(folder.path(), name, &Read("One.\n\nTwo."));
            let shown = bounded(folder.path(), &["text", name]);
            let shown = String::from_utf8(shown.stdout).unwrap();
            let two = shown.find("Two.").unwrap();
            let page = shown.find("page 12").unwrap();
            let one = shown.find("One.").unwrap();
            assert!(one < page && page < two, "{shown}");
        }
    }
}

#[test]
fn a_page_break_of_no_width_in_a_stored_source() {
    let copied =
        "moths that came near turned towards the lantern within a few wingbeats and stayed";
    let body = format!(
        "<p>Of this nothing is copied.</p><span epub:type='pagebreak' title='114'/><p>All {copied} there.</p>"
    );
    let review = Review::new()
        .reference(HARROW_REFERENCE)
        .source("harrow2019.epub", book(&[&body]))
        .file("drafts/draft.md", format!("I saw that {copied} with it.\n"));
    let output = bounded(
        review.root(),
        &["check", "drafts/draft.md", "--format", "json"],
    );
    let report: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let source = &report["drafts"][0]["findings"][0]["source"];
    assert_eq!(source["key"], "harrow2019", "{report}");
    assert_eq!(source["page"], "114", "{report}");
}

#[test]
fn formatting_elements_opened_again_in_every_paragraph() {
    let fonts = |count| numbered(count, |number| format!("<font color='{number}'>"));
    let bomb = format!("{}{}", fonts(3000), "<p>lamp".repeat(3000));
    let closed = format!("<p>{}</p>{}", fonts(1500), "<p>lamp</p>".repeat(20_000));
    assert_outcomes(&[
        ("open.html", bomb, LeftOut("thousands deep")),
        ("closed.html", closed.clone(), LeftOut("max_html_nodes")),
        ("ordinary.html", "<p>lamp <b><i>".repeat(5000), Read("lamp")),
    ]);
    let folder = tempfile::tempdir().unwrap();
    // Each chapter is within the bound, all together are not.
    let chapter = format!("<p>{}</p>{}", fonts(1000), "<p>lamp</p>".repeat(1500));
    let chapters = [chapter.as_str(); 4];
    fs::write(folder.path().join("book.epub"), book(&chapters)).unwrap();
    assert_outcome(folder.path(), "book.epub", &LeftOut("max_html_nodes"));
    fs::write(folder.path().join("one.epub"), book(&chapters[..1])).unwrap();
    assert_outcome(folder.path(), "one.epub", &Read("lamp"));
}

#[test]
fn what_a_tag_may_cost() {
    let attributes = |count| numbered(count, |number| format!(" a{number}"));
    assert_outcomes(&[
        (
            "attributes.html",
            format!("<p{}>lamp", attributes(200_000)),
            LeftOut("attributes"),
        ),
        (
            "some.html",
            format!("<p{}>lamp", attributes(2000)),
            Read("lamp"),
        ),
        (
            "long-value.html",
            format!(
                "<b class='{}'>{}",
                "a ".repeat(100_000),
                "<p>lamp".repeat(20_000)
            ),
            Read("lamp"),
        ),
        (
            "deep.html",
            "<div></x>".repeat(50_000),
            LeftOut("thousands deep"),
        ),
        (
            "breaks.html",
            format!(
                "<pre>lamp{}{}",
                "\n".repeat(300_000),
                "<span role=doc-pagebreak title=1></span>".repeat(30_000)
            ),
            Read("lamp"),
        ),
    ]);
}

/// A PDF page in a font whose widths are given so.
fn with_widths(entries: &str) -> Vec<u8> {
    let mut pdf = Pdf::new();
    let descendant = pdf.object(format!(
        "<< /Type /Font /Subtype /CIDFontType2 /BaseFont /X /CIDSystemInfo << >> {entries} /DW 1000 >>"
    ));
    let content = pdf.stream("", crate::common::pdf::text(&["Lamps dim."]).as_bytes());
    let font = format!(
        "/Font << /F << /Type /Font /Subtype /Type0 /BaseFont /X /Encoding /Identity-H /DescendantFonts [{descendant} 0 R] >> >>"
    );
    pdf.page(&font, content);
    pdf.text_page(&["Lamps dim after midnight in the village."]);
    pdf.bytes()
}

#[test]
fn widths_of_more_characters_than_fonts_have() {
    let folder = tempfile::tempdir().unwrap();
    let write = |name: &str, bytes: Vec<u8>| fs::write(folder.path().join(name), bytes).unwrap();
    let left_out = LeftOut("widths for more characters");
    for (name, entries) in [
        ("across.pdf", "/W [0 2147483647 500]".to_owned()),
        ("down.pdf", "/W2 [0 2147483647 1 2 3]".to_owned()),
        (
            "often.pdf",
            format!("/W [{}]", "0 65535 500 ".repeat(100_000)),
        ),
        (
            "down-often.pdf",
            format!("/W2 [{}]", "0 65535 1 2 3 ".repeat(100_000)),
        ),
    ] {
        write(name, with_widths(&entries));
        assert_outcome(folder.path(), name, &left_out);
    }
    // A font for all of Chinese, and as a list.
    let list = format!("/W [0 65535 500 0 [{}]]", "500 ".repeat(65_000));
    write("ordinary.pdf", with_widths(&list));
    assert_outcome(folder.path(), "ordinary.pdf", &Read("after midnight"));
    let mut pdf = Pdf::new();
    let content = pdf.stream("", crate::common::pdf::text(&["Lamps dim."]).as_bytes());
    let font = crate::common::pdf::FONT.replace(
        "/Type1",
        "/Type1 /FirstChar 4000000000 /LastChar 4000000001 /Widths [1 2]",
    );
    pdf.page(&font, content);
    write("first.pdf", pdf.bytes());
    assert_outcome(folder.path(), "first.pdf", &left_out);
}

#[test]
fn one_piece_of_content_named_thousands_of_times() {
    let folder = tempfile::tempdir().unwrap();
    let page_of = |times: usize| {
        let mut pdf = Pdf::new();
        let blank = crate::common::pdf::deflated(&mut std::io::Read::take(
            std::io::repeat(b' '),
            1_000_000,
        ));
        let blank = pdf.stream("/Filter /FlateDecode", &blank);
        let content = pdf.stream("", crate::common::pdf::text(&["Lamps dim."]).as_bytes());
        let pieces = format!("{blank} 0 R ").repeat(times);
        // The content of a page is an array where it is cut; this one stands behind the page's own.
        let array = pdf.object(format!("[{content} 0 R {pieces}]"));
        pdf.page(crate::common::pdf::FONT, array);
        pdf.bytes()
    };
    fs::write(folder.path().join("often.pdf"), page_of(4000)).unwrap();
    assert_outcome(folder.path(), "often.pdf", &LeftOut("max_unpacked_mb"));
    fs::write(folder.path().join("some.pdf"), page_of(3)).unwrap();
    assert_outcome(folder.path(), "some.pdf", &Read("Lamps dim."));
}

#[test]
fn many_drawings_that_unpack_into_much() {
    let folder = tempfile::tempdir().unwrap();
    let mut pdf = Pdf::new();
    let blank =
        crate::common::pdf::deflated(&mut std::io::Read::take(std::io::repeat(b' '), 8_000_000));
    let (mut named, mut drawn) = (String::new(), String::new());
    for number in 0..100 {
        let entries = "/Type /XObject /Subtype /Form /BBox [0 0 1 1] /Filter /FlateDecode";
        let form = pdf.stream(entries, &blank);
        write!(named, "/X{number} {form} 0 R ").unwrap();
        write!(drawn, "/X{number} Do ").unwrap();
    }
    let content = crate::common::pdf::text(&["Lamps dim."]) + &drawn;
    let content = pdf.stream("", content.as_bytes());
    pdf.page(
        &format!("{} /XObject << {named} >>", crate::common::pdf::FONT),
        content,
    );
    fs::write(folder.path().join("drawings.pdf"), pdf.bytes()).unwrap();
    assert_outcome(
        folder.path(),
        "drawings.pdf",
        &LeftOut("the drawings that its pages use unpack into"),
    );
}

#[test]
fn lines_and_signs_of_markup_beyond_count() {
    let many = 6_000_001;
    assert_outcomes(&[
        ("lines.txt", "a\n".repeat(many), LeftOut("max_text_marks")),
        ("lines.html", "a\n".repeat(many), LeftOut("max_text_marks")),
        ("signs.md", "*a".repeat(many), LeftOut("max_text_marks")),
        ("signs.tex", "\\a".repeat(many), LeftOut("max_text_marks")),
        ("signs.org", "*a".repeat(many), LeftOut("max_text_marks")),
        ("signs.rst", "*a".repeat(many), LeftOut("max_text_marks")),
        (
            "long.txt",
            "lamps and moths ".repeat(1_000_000),
            Read("lamps"),
        ),
    ]);
}

#[test]
fn signs_whose_partner_is_looked_for_in_vain() {
    let times = 300_000;
    assert_outcomes(&[
        ("links.org", "[[".repeat(times), Read("[[")),
        ("notes.org", "[fn:".repeat(times), Read("[fn:")),
        ("cites.org", "[cite:".repeat(times), Read("[cite:")),
        ("emphasis.org", " *a".repeat(times), Read("*a")),
        ("roles.rst", ":a".repeat(times), Read(":a")),
        ("notes.rst", "[".repeat(times), Read("[")),
        ("dashes.tex", "-".repeat(times), Read("-")),
        ("options.tex", "\\a[".repeat(times), Read("[")),
        ("dollars.tex", "lamp $$\\".repeat(times), Read("lamp")),
        (
            "comment.tex",
            format!("lamp%{}", "\\begin{document}".repeat(times)),
            Read("lamp"),
        ),
        (
            "styles.rtf",
            format!(
                "{{\\rtf1{{\\stylesheet {}{}}}lamp}}",
                "a".repeat(times),
                "{}".repeat(times)
            ),
            Read("lamp"),
        ),
    ]);
}

#[test]
fn definitions_and_arguments_inside_each_other() {
    let nested =
        |open: &str, times: usize| format!("lamp {}{}", open.repeat(times), "}".repeat(times));
    assert_outcomes(&[
        ("def.tex", nested("\\def\\a{", 100_000), Read("lamp")),
        ("names.tex", "lamp \\def\\a".repeat(100_000), Read("lamp")),
        ("new.tex", nested("\\newcommand{", 100_000), Read("lamp")),
        (
            "environment.tex",
            nested("\\newenvironment{", 100_000),
            Read("lamp"),
        ),
        (
            "macro.tex",
            format!("\\newcommand{{\\x}}[1]{{#1#1}}{}", nested("\\x{", 100_000)),
            Read("lamp"),
        ),
        (
            "itself.tex",
            "lamp \\newcommand{\\x}[1]{\\x{#1}\\x{#1}}\\x{a}".to_owned(),
            Read("lamp"),
        ),
    ]);
}

#[test]
fn files_that_name_the_next_one_twice() {
    let folder = tempfile::tempdir().unwrap();
    for number in 0..40 {
        let next = format!("\\input{{f{}}}", number + 1);
        let content = format!("lamp {next} {next}\n");
        fs::write(folder.path().join(format!("f{number}.tex")), content).unwrap();
    }
    fs::write(folder.path().join("f40.tex"), "moth\n").unwrap();
    assert_outcome(folder.path(), "f0.tex", &Read("lamp"));
    let shown = bounded(folder.path(), &["text", "f0.tex"]);
    let shown = String::from_utf8(shown.stdout).unwrap();
    assert!(
        shown.contains("more than 2000 included files"),
        "{:.1000}",
        shown
    );
}
