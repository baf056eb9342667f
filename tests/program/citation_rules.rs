//! Citations by rule of the published style guides: `citation_rules/cases.txt` holds the rules and the
//! cases, each read as Markdown through the public interface.

use ownwords::reading::{Format, from_bytes};
use ownwords::text::citations;
use ownwords::text::{Citation, Cite, CiteTarget};

const CASES: &str = include_str!("../citation_rules/cases.txt");

struct Case<'a> {
    rule: &'a str,
    text: String,
    wanted: &'a str,
}

/// The cases of the table. A line that fits nowhere is an error.
fn cases() -> Vec<Case<'static>> {
    let mut cases = Vec::new();
    let (mut rule, mut text) = (None, None);
    for line in CASES.lines() {
        if let Some(heading) = line.strip_prefix("== ") {
            assert!(text.is_none(), "no answer before {line}");
            rule = Some(heading);
        } else if let Some(wanted) = line.strip_prefix("    ") {
            cases.push(Case {
                rule: rule.expect("a rule stands before the first case"),
                text: text
                    .take()
                    .unwrap_or_else(|| panic!("no text before {line}")),
                wanted,
            });
        } else if !line.is_empty() && !line.starts_with('#') {
            let before = text.replace(line.replace("\\n", "\n"));
            assert!(before.is_none(), "no answer before {line}");
        }
    }
    assert!(text.is_none(), "no answer at the end");
    cases
}

fn read(text: &str) -> String {
    let file = from_bytes(text.as_bytes().to_vec(), Format::Markdown).expect("text");
    let cites: Vec<String> = citations(&file.text)
        .iter()
        .flat_map(|citation| citation.cites.iter().map(|cite| shown(citation, cite)))
        .collect();
    if cites.is_empty() {
        return "none".to_owned();
    }
    cites.join(" / ")
}

/// A cite in the form of the table. Only the first of a narrative citation is marked.
fn shown(citation: &Citation, cite: &Cite) -> String {
    let first = citation.cites.first() == Some(cite);
    let narrative = if citation.narrative && first {
        "narrative "
    } else {
        ""
    };
    let prefix = cite.prefix.as_ref().map(|prefix| format!("{prefix}>"));
    let (target, year) = match &cite.target {
        CiteTarget::Number(number) => (format!("number {number}"), None),
        CiteTarget::Key(key) => (format!("key {key}"), None),
        CiteTarget::Author {
            names,
            initials,
            et_al,
            year,
        } => (authors(names, initials, *et_al), year.as_ref()),
        CiteTarget::Work {
            names,
            initials,
            et_al,
            title,
            year,
        } => {
            let authors = authors(names, initials, *et_al);
            (
                format!("{authors} “{title}”").trim().to_owned(),
                year.as_ref(),
            )
        }
    };
    let year = year.map(|year| year.written.as_str()).unwrap_or_default();
    let locator = cite
        .locator
        .as_ref()
        .map(|locator| locator.written.as_str());
    let parts = format!("{target}; {year}; {}", locator.unwrap_or_default());
    let parts = parts.trim_end_matches([';', ' ']);
    format!("{narrative}{}{parts}", prefix.unwrap_or_default())
}

fn authors(names: &[String], initials: &[String], et_al: bool) -> String {
    let named: Vec<String> = names
        .iter()
        .zip(initials)
        .map(|(name, initials)| format!("{initials} {name}").trim().to_owned())
        .collect();
    let others = if et_al { " et al." } else { "" };
    format!("{}{others}", named.join(" & "))
}

#[test]
fn citations_are_read_by_the_rules() {
    let wrong: Vec<String> = cases()
        .iter()
        .filter_map(|case| {
            let found = read(&case.text);
            (found != case.wanted).then(|| {
                let (rule, text, wanted) = (case.rule, &case.text, case.wanted);
                format!("{rule}\n  {text:?}\n    found {found}\n    not   {wanted}")
            })
        })
        .collect();
    assert!(
        wrong.is_empty(),
        "{} wrong\n{}\n",
        wrong.len(),
        wrong.join("\n")
    );
}

/// The table names its rules, and holds look-alikes beside citations.
#[test]
fn the_table_is_large_enough_to_mean_something() {
    let cases = cases();
    let none = cases.iter().filter(|case| case.wanted == "none").count();
    assert!(cases.len() >= 150, "{} cases", cases.len());
    assert!(
        none >= 40 && cases.len() - none >= 110,
        "{none} look-alikes"
    );
    for case in &cases {
        let guide = [
            "APA",
            "Chicago",
            "MLA",
            "MHRA",
            "IEEE",
            "Vancouver",
            "Harvard",
            "OSCOLA",
            "Pandoc",
            "ommon practice",
        ];
        assert!(
            guide.iter().any(|guide| case.rule.contains(guide)),
            "{}",
            case.rule
        );
    }
    let mut texts: Vec<&str> = cases.iter().map(|case| case.text.as_str()).collect();
    texts.sort_unstable();
    texts.dedup();
    assert_eq!(texts.len(), cases.len(), "the same sentence twice");
}
