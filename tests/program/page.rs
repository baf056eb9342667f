//! The page: what is in it, that it is sound as a document, and that nothing of the user's can become more
//! than text. How it behaves in a browser is checked by `tests/pages`.

use std::collections::BTreeSet;
use std::fs;
use std::sync::Arc;

use crate::common::{Review, demo, run};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use ownwords::text::{Block, BlockKind, ByteRange, MarkedText, Origin, Pages, Text};
use scraper::{ElementRef, Html, Selector};
use sha2::{Digest, Sha256};

const CHAPTERS: [&str; 2] = ["drafts/chapter-1.md", "drafts/chapter-2.md"];

fn page_of(folder: &std::path::Path, drafts: &[&str]) -> String {
    let output = run(folder, &[&["check", "--format", "page"], drafts].concat());
    let told = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(output.status.code() < Some(2), "{told}");
    String::from_utf8(output.stdout).unwrap()
}

fn all<'a>(page: &'a Html, selector: &str) -> Vec<ElementRef<'a>> {
    page.select(&Selector::parse(selector).unwrap()).collect()
}

fn text(element: ElementRef<'_>) -> String {
    let text: String = element.text().collect();
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The text of the whole page but for style, script and data.
fn shown(page: &Html) -> String {
    let mut words = String::new();
    for part in ["header", "main", "footer > section"] {
        for element in all(page, part) {
            words.push_str(&text(element));
            words.push(' ');
        }
    }
    words
}

#[test]
fn every_finding_has_its_number_its_note_and_its_leaf() {
    let page = Html::parse_document(&page_of(&demo(), &CHAPTERS));
    let json = run(
        &demo(),
        &[&["check", "--format", "json"], &CHAPTERS[..]].concat(),
    );
    let json: serde_json::Value = serde_json::from_slice(&json.stdout).unwrap();
    let mut leaves = all(&page, ".leaf").into_iter();
    let mut notes = all(&page, "a.n").into_iter();
    let mut numbers = all(&page, "a.r").into_iter();
    for draft in json["drafts"].as_array().unwrap() {
        for (finding, number) in draft["findings"].as_array().unwrap().iter().zip(1..) {
            let leaf = leaves.next().unwrap();
            let said = text(leaf);
            let id = finding["id"].as_str().unwrap();
            assert_eq!(leaf.attr("id"), Some(id));
            assert!(said.starts_with(&format!("{number} ")), "{said}");
            assert!(said.contains(finding["advice"].as_str().unwrap()), "{said}");
            if let Some(degree) = finding["degree"].as_str() {
                assert!(said.contains(degree), "{said}");
            }
            if let Some(wording) = finding["source"]["text"].as_str() {
                let wording: Vec<&str> = wording.split_whitespace().collect();
                assert!(said.contains(&wording.join(" ")), "{said}");
            }
            let address = format!("#{id}");
            assert_eq!(notes.next().unwrap().attr("href"), Some(address.as_str()));
            assert_eq!(numbers.next().unwrap().attr("href"), Some(address.as_str()));
        }
    }
    assert!(leaves.next().is_none() && notes.next().is_none() && numbers.next().is_none());
}

#[test]
fn the_draft_is_there_whole_and_in_order() {
    let page = Html::parse_document(&page_of(&demo(), &CHAPTERS[..1]));
    let mut words = String::new();
    for block in all(&page, ".text .t") {
        // Without what is only for ears and without the numbers.
        let plain = block
            .descendants()
            .filter_map(|node| node.value().as_text().map(|text| (node, text)))
            .filter(|(node, _)| {
                let parent = node.parent().and_then(ElementRef::wrap);
                parent.is_none_or(|parent| {
                    let class = parent.attr("class").unwrap_or_default();
                    class != "v" && !class.starts_with("r ")
                })
            });
        words.extend(plain.map(|(_, text)| &**text));
        words.push(' ');
    }
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    let draft = fs::read_to_string(demo().join(CHAPTERS[0])).unwrap();
    let plain: String = draft
        .lines()
        .map(|line| line.trim_start_matches(['#', '>', '-', ' ']))
        .flat_map(|line| [line, " "])
        .collect();
    let plain = plain.replace(['*'], "").replace("\\", "");
    assert_eq!(
        words,
        plain.split_whitespace().collect::<Vec<_>>().join(" ")
    );
    for (selector, count) in [
        ("blockquote:not(.src)", 1),
        ("ul.rows li", 3 + 10),
        ("h1", 1),
        ("h4[id], h5[id]", 8),
    ] {
        assert_eq!(all(&page, selector).len(), count, "{selector}");
    }
}

#[test]
fn links_lead_somewhere_and_addresses_are_their_own() {
    // The same draft twice has every finding twice.
    let drafts = [CHAPTERS[0], CHAPTERS[0], CHAPTERS[1]];
    let page = Html::parse_document(&page_of(&demo(), &drafts));
    let mut addresses = BTreeSet::new();
    for element in all(&page, "[id]") {
        let id = element.attr("id").unwrap();
        assert!(addresses.insert(id), "{id} stands twice");
    }
    let links = all(&page, "[href], [aria-labelledby], [aria-controls], [for]");
    assert!(links.len() > 100);
    for link in links {
        if let Some(href) = link.attr("href") {
            let address = href
                .strip_prefix('#')
                .unwrap_or_else(|| panic!("{href} leads out"));
            assert!(addresses.contains(address), "{href} leads nowhere");
        }
        for name in ["aria-labelledby", "aria-controls", "for"] {
            let id = link.attr(name).unwrap_or_default();
            assert!(id.is_empty() || addresses.contains(id), "{name} {id}");
        }
    }
}

#[test]
fn nothing_is_loaded_and_only_the_own_style_and_script_count() {
    let written = page_of(&demo(), &CHAPTERS);
    let page = Html::parse_document(&written);
    assert_sound(&page);
    let policy = all(&page, "meta[http-equiv='Content-Security-Policy']");
    let policy = policy[0].attr("content").unwrap();
    let hash = |element: ElementRef<'_>| {
        let text: String = element.text().collect();
        format!("'sha256-{}'", STANDARD.encode(Sha256::digest(text)))
    };
    let script = hash(all(&page, "script:not([type])")[0]);
    let style = hash(all(&page, "style")[0]);
    assert_eq!(
        policy,
        format!(
            "default-src 'none'; script-src {script}; style-src {style}; base-uri 'none'; form-action 'none'; \
             require-trusted-types-for 'script'; trusted-types 'none'"
        )
    );
    // It stands before everything that it is to hold.
    let before = written.split("Content-Security-Policy").next().unwrap();
    assert!(!before.contains("<style") && !before.contains("<script"));
    for script in [
        "innerHTML",
        "outerHTML",
        "insertAdjacentHTML",
        "document.write",
        "eval(",
        "setAttribute(\"style",
    ] {
        assert!(
            !include_str!("../../src/report/page/page.js").contains(script),
            "{script}"
        );
    }
}

/// Whether a page holds only what we put there: no element that loads or runs, no attribute that does.
#[track_caller]
fn assert_sound(page: &Html) {
    let known = "html head meta title style script body a header h1 h2 h3 h4 h5 h6 nav ul ol li form div button kbd label \
        input output details summary select option fieldset legend main section p span b i u strong small q sup \
        blockquote svg rect path text table caption thead tbody tr th td dl dt dd pre code footer";
    let known: BTreeSet<&str> = known.split_whitespace().collect();
    for element in all(page, "*") {
        let value = element.value();
        assert!(known.contains(value.name()), "<{}>", value.name());
        for (name, said) in value.attrs() {
            let fine = !name.starts_with("on")
                && !["style", "src", "srcset", "action", "xlink:href"].contains(&name);
            assert!(fine, "<{} {name}={said:?}>", value.name());
            assert!(name != "href" || said.starts_with('#'), "{said}");
        }
    }
    assert_eq!(all(page, "script").len(), 2);
    assert_eq!(all(page, "style").len(), 1);
    assert_eq!(all(page, "meta").len(), 6);
    assert_eq!(all(page, "script[type='application/json']").len(), 1);
}

#[test]
fn the_same_review_gives_the_same_bytes() {
    let first = page_of(&demo(), &CHAPTERS);
    assert_eq!(first, page_of(&demo(), &CHAPTERS));
    let one_thread = run(
        &demo(),
        &[&["check", "--jobs", "1", "--format", "page"], &CHAPTERS[..]].concat(),
    );
    assert_eq!(first.as_bytes(), one_thread.stdout);
}

/// What `harmless` makes of a text, said once more in other words.
fn spelled(text: &str) -> String {
    let spelled = text.chars().map(|character| match character as u32 {
        0..=8
        | 0x0e..=0x1f
        | 0x200b
        | 0x200e
        | 0x200f
        | 0x2028..=0x202e
        | 0x2060..=0x206f
        | 0xfeff
        | 0xfff9..=0xfffb => {
            format!("\\u{{{:x}}}", character as u32)
        }
        _ => character.to_string(),
    });
    let spelled: String = spelled.collect();
    spelled.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn hostile_text_stays_text() {
    let table: Vec<String> = serde_json::from_str(include_str!("../pages/hostile.json")).unwrap();
    assert!(table.len() >= 25);
    for hostile in &table {
        let copied = format!(
            "The lane behind the old mill was dark from eleven until five in both summers {hostile} and the \
             bakers of the quarter had long since stopped complaining about the missing lanterns."
        );
        let name: String = hostile
            .chars()
            .filter(|c| !"/\0".contains(*c))
            .take(60)
            .collect();
        let review = Review::new()
            .source(&format!("{name}.txt"), format!("[p. 3]\n\n{copied}\n"))
            .entry(&name, &copied, "", "")
            .file(
                &format!("drafts/{name}.txt"),
                format!("{hostile}\n\n{copied}\n\nAgain {copied} {hostile}\n\n\"{hostile} and so on it went\" (Nobody, 1900, p. {hostile}).\n"),
            );
        let written = page_of(review.root(), &[&format!("drafts/{name}.txt")]);
        let page = Html::parse_document(&written);
        assert_sound(&page);
        assert!(
            !all(&page, ".leaf").is_empty(),
            "nothing was found with {hostile:?}"
        );
        assert!(
            !written
                .chars()
                .any(|c| c.is_control() && !"\n\t\r".contains(c)
                    || "\u{202e}\u{2066}\u{200f}".contains(c)),
            "{hostile:?} came through"
        );
        let expected = spelled(hostile);
        let seen = shown(&page);
        assert!(
            seen.contains(&expected),
            "{expected:?} is not to be seen in {seen}"
        );
        let data: String = all(&page, "#data")[0].text().collect();
        let rows: serde_json::Value = serde_json::from_str(&data).unwrap();
        assert_eq!(rows.as_array().unwrap().len(), all(&page, ".leaf").len());
        assert!(!data.contains('<'));
    }
}

#[test]
fn what_was_compared_and_the_cautions_stand_at_the_end() {
    let page = Html::parse_document(&page_of(&demo(), &CHAPTERS));
    let end = text(all(&page, "footer")[0]);
    for said in [
        "12 stored sources",
        "not a judgement about a person",
        "no clearance",
        "lindgarth2021.txt",
        "pp. 201-207",
    ] {
        assert!(end.contains(said), "{said:?} is missing in {end}");
    }
    assert!(!shown(&page).to_lowercase().contains("score"));
}

#[test]
fn a_draft_without_findings_says_so() {
    let review = Review::of_two();
    let review = review.file("drafts/own.md", format!("{}\n", crate::common::OWN));
    let page = Html::parse_document(&page_of(review.root(), &["drafts/own.md"]));
    assert!(text(all(&page, "main")[0]).contains("Good news"));
    let review = review.file("drafts/empty.md", "");
    let page = Html::parse_document(&page_of(review.root(), &["drafts/empty.md"]));
    assert!(text(all(&page, "main")[0]).contains("no prose to compare"));
}

#[test]
fn ten_thousand_findings_are_less_than_twenty_megabytes() {
    // The demo's findings over and over, each with a paragraph of its own.
    let session = ownwords::Session::open(&demo()).unwrap();
    let mut report = session
        .check(&CHAPTERS.map(|name| demo().join(name)))
        .unwrap();
    let mut drafts = report.drafts.drain(..);
    let mut draft = drafts.next().unwrap();
    let found: Vec<_> = std::mem::take(&mut draft.findings)
        .into_iter()
        .chain(drafts.flat_map(|other| other.findings))
        .collect();
    let mut content = String::new();
    let mut blocks = Vec::new();
    for number in 0..10_000 {
        let mut finding = found[number % found.len()].clone();
        let before = finding.draft.range.start();
        let start = content.len();
        content.push_str(&finding.draft.text);
        for shared in &mut finding.evidence.shared {
            let from = start + shared.draft.start() - before;
            shared.draft = ByteRange::of(from, from + shared.draft.len());
        }
        finding.draft.range = ByteRange::of(start, content.len());
        finding.id = format!("{}-{number}", finding.id);
        draft.findings.push(finding);
        blocks.push(Block {
            kind: BlockKind::Paragraph,
            range: ByteRange::of(start, content.len()),
        });
        content.push_str("\n\n");
    }
    let text = Text::new(
        content,
        blocks,
        Pages::default(),
        Origin::Same { skipped: 0 },
    );
    draft.text = Arc::new(MarkedText::new(text));
    draft.block_words.clear();
    report.drafts = vec![draft];
    let mut written = Vec::new();
    ownwords::report::page::write(&report, &mut written).unwrap();
    assert!(written.len() < 20_000_000, "{} bytes", written.len());
    assert!(
        written.len() > 10_000_000,
        "{} bytes: is everything there?",
        written.len()
    );
}
