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

/// The parts of each entry with words, as kind and first words.
fn entries(notes: &str) -> Vec<(String, Vec<(String, usize)>)> {
    let review = Review::new()
        .reference(HARROW_REFERENCE)
        .reference(VANE)
        .source("harrow2019.txt", HARROW)
        .file("notes/n.md", notes);
    let output = review.run(&["notes", "--format", "json"]);
    let json: serde_json::Value = serde_json::from_slice(&output.stdout).unwrap();
    let all = json["entries"].as_array().unwrap();
    all.iter()
        .map(|entry| {
            let parts = entry["parts"].as_array().unwrap().iter();
            let parts = parts.map(|part| {
                let kind = part["part"].as_str().unwrap().to_owned();
                (kind, part["words"].as_u64().unwrap() as usize)
            });
            (
                entry["key"].as_str().unwrap_or("?").to_owned(),
                parts.collect(),
            )
        })
        .collect()
}

#[test]
fn a_table_is_a_layout_of_entries() {
    let parts =
        |words: [(&str, usize); 3]| words.map(|(kind, words)| (kind.to_owned(), words)).to_vec();
    let of_harrow = parts([("summary", 4), ("quotations", 4), ("comments", 3)]);
    let of_vane = parts([("summary", 3), ("quotations", 3), ("comments", 2)]);
    let rows = "# Harrow (2019) {#harrow2019}\n\n| Summary | Few moths came back. |\n| --- | --- |\n| Quotations | “The \
                lane” (p. 113) |\n| Comments | I doubt it. |\n";
    assert_eq!(
        entries(rows),
        [("harrow2019".to_owned(), of_harrow.clone())]
    );
    let columns = "# Harrow (2019) {#harrow2019}\n\n| Summary | Quotations | Comments |\n| --- | --- | --- |\n| Few moths \
                   came back. | “The lane” (p. 113) | I doubt it. |\n";
    assert_eq!(
        entries(columns),
        [("harrow2019".to_owned(), of_harrow.clone())]
    );
    let works = "| Work | Summary | Quotations | Comments |\n| --- | --- | --- | --- |\n| Harrow (2019) | Few moths came \
                 back. | “The lane” (p. 113) | I doubt it. |\n| Vane (2003) | Ferries were slow. | “Slow” (p. 4) | Who \
                 knows? |\n";
    let both = [
        ("harrow2019".to_owned(), of_harrow),
        ("vane2003".to_owned(), of_vane),
    ];
    assert_eq!(entries(works), both);
}

#[test]
fn a_work_named_in_one_row_speaks_for_no_other() {
    let draft = format!(
        "| Who | What |\n| --- | --- |\n| Harrow (2019) | Lamps matter. |\n| Buses | None run. |\n| Me | {COPIED} |\n"
    );
    assert_eq!(findings("drafts/d.md", &draft)[0].1, "none");
}
