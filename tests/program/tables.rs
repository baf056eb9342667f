//! Wording in the cells of tables is compared like any other, in every format that has tables.

use crate::common::{COPIED, HARROW, HARROW_REFERENCE, Review};

const VANE: &str = "@book{vane2003, author={Vane, Cora}, title={Ferries}, year={2003}}";

fn findings(name: &str, draft: &str) -> Vec<(String, String, String)> {
    let review = Review::new()
        .reference(HARROW_REFERENCE)
        .reference(VANE)
        .source("harrow2019.txt", HARROW)
        .file(name, draft);
    let checked = review.check_with(&[name]);
    let all = checked.json["drafts"][0]["findings"]
        .as_array()
        .unwrap()
        .clone();
    let string = |value: &serde_json::Value| value.as_str().unwrap_or_default().to_owned();
    all.iter()
        .filter(|one| one["source"]["key"] == "harrow2019")
        .map(|one| {
            (
                string(&one["kind"]),
                string(&one["credit"]["state"]),
                string(&one["draft"]["text"]),
            )
        })
        .collect()
}

#[test]
fn a_copy_in_a_cell_is_found_in_every_format() {
    let rows = [("Site", "Note"), ("Mill", &format!("Note that {COPIED}."))];
    let all = |row: fn(&str, &str) -> String| {
        let rows = rows.iter().map(|(one, other)| row(one, other));
        rows.collect::<Vec<_>>()
    };
    let mut markdown = all(|one, other| format!("| {one} | {other} |\n"));
    markdown.insert(1, "| --- | --- |\n".to_owned());
    let html = all(|one, other| format!("<tr><td>{one}</td>\n<td>{other}</td></tr>\n")).concat();
    let latex = all(|one, other| format!("{one} & {other} \\\\\n")).concat();
    let rtf = all(|one, other| {
        format!("\\trowd\\cellx2000\\cellx9000\\intbl {one}\\cell {other}\\cell\\row\n")
    });
    let org = all(|one, other| format!("| {one} | {other} |\n")).concat();
    let grid = grid(&rows);
    let formats = [
        ("drafts/d.md", markdown.concat()),
        ("drafts/d.html", format!("<table>{html}</table>")),
        (
            "drafts/d.tex",
            format!("\\begin{{tabular}}{{ll}}\n{latex}\\end{{tabular}}\n"),
        ),
        ("drafts/d.rtf", format!("{{\\rtf1 {}}}", rtf.concat())),
        ("drafts/d.org", org),
        ("drafts/d.rst", grid),
    ];
    for (name, draft) in formats {
        let found = findings(name, &draft);
        let [(kind, state, text)] = found.as_slice() else {
            panic!("{name}: {found:?}\n{draft}");
        };
        assert_eq!(
            (kind.as_str(), state.as_str()),
            ("unmarked-copy", "none"),
            "{name}"
        );
        let words: Vec<&str> = text.split_whitespace().collect();
        assert!(words.join(" ").contains(COPIED), "{name}: {text}");
    }
}

/// A grid table with the words of each cell broken over several lines.
fn grid(rows: &[(&str, &str)]) -> String {
    let border = format!("+{}+{}+\n", "-".repeat(12), "-".repeat(32));
    let mut grid = border.clone();
    for (one, other) in rows {
        let lines = textwrap::wrap(other, 30);
        for (at, line) in lines.iter().enumerate() {
            let first = if at == 0 { one } else { "" };
            grid += &format!("| {first:<10} | {line:<30} |\n");
        }
        grid += &border;
    }
    grid
}

#[test]
fn what_is_cited_in_a_row_credits_its_cells_and_no_others() {
    let table = |first: &str, second: &str| {
        format!(
            "| Work | Year | Place | Note |\n| --- | --- | --- | --- |\n| Others {first} | once | there | {COPIED} |\n| \
             Others {second} | once | there | Nothing of note. |\n"
        )
    };
    let state = |draft: &str| findings("drafts/d.md", draft).remove(0).1;
    let (right, wrong) = ("(Harrow, 2019, p. 113)", "(Vane, 2003)");
    assert_eq!(state(&table(right, wrong)), "credited");
    assert_eq!(state(&table(wrong, right)), "elsewhere");
    assert_eq!(state(&table("say so", right)), "none");
}

#[test]
fn a_quotation_in_a_cell_is_looked_up() {
    let draft = format!("| Work | Words |\n| --- | --- |\n| Harrow (2019) | “{COPIED}” |\n");
    let found = findings("drafts/d.md", &draft);
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(found[0].0, "quotation-without-page");
}
