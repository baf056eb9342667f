//! The JSON is a contract: every output is valid under the schema that the program prints, every
//! position is what it says it is, and what is computed can be computed again from what is shown.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use crate::common::{Checked, HARROW, OWN, QUILL, Review, demo, run, text};
use jsonschema::Validator;
use serde_json::{Value, json};

fn schema(topic: &str) -> Validator {
    let output = run(Path::new("."), &["explain", topic]);
    let schema: Value = serde_json::from_slice(&output.stdout).unwrap();
    jsonschema::validator_for(&schema).unwrap()
}

#[track_caller]
fn assert_valid(schema: &Validator, value: &Value) {
    let errors: Vec<String> = schema
        .iter_errors(value)
        .map(|error| format!("{}: {error}", error.instance_path()))
        .collect();
    assert!(errors.is_empty(), "{errors:#?}");
}

/// The Texts of a review's files as `text --plain` prints them.
struct Texts<'a> {
    folder: &'a Path,
    read: BTreeMap<String, String>,
}

impl<'a> Texts<'a> {
    fn of(folder: &'a Path) -> Self {
        Self {
            folder,
            read: BTreeMap::new(),
        }
    }

    fn get(&mut self, path: &str) -> &str {
        self.read.entry(path.to_owned()).or_insert_with(|| {
            let output = run(self.folder, &["text", "--plain", path]);
            let plain = String::from_utf8(output.stdout).unwrap();
            let file = fs::read(self.folder.join(path)).unwrap();
            if path.ends_with(".txt") && std::str::from_utf8(&file).is_ok() {
                let file = file.strip_prefix("\u{feff}".as_bytes()).unwrap_or(&file);
                assert_eq!(plain.as_bytes(), file, "{path} is not shown byte for byte");
            }
            plain
        })
    }

    /// The characters of a range; fails where it is out of range or cuts a character.
    #[track_caller]
    fn slice(&mut self, path: &str, range: &Value) -> &str {
        let at = |name: &str| usize::try_from(range[name].as_u64().unwrap()).unwrap();
        let (start, end) = (at("start"), at("end"));
        assert!(start < end, "{path}: {start}..{end} is empty");
        self.get(path)
            .get(start..end)
            .unwrap_or_else(|| panic!("{path}: {start}..{end} cuts or is out of range"))
    }
}

fn within(inner: &Value, outer: &Value) -> bool {
    inner["start"].as_u64() >= outer["start"].as_u64()
        && inner["end"].as_u64() <= outer["end"].as_u64()
}

/// Holds all that is promised of the positions in a report. How many places were looked at is given back.
fn assert_positions(report: &Value, folder: &Path) -> usize {
    let mut texts = Texts::of(folder);
    let mut places = 0;
    for draft in report["drafts"].as_array().unwrap() {
        let path = text(&draft["path"]);
        for place in draft["findings"]
            .as_array()
            .unwrap()
            .iter()
            .chain(draft["explained"].as_array().unwrap())
        {
            let at = &place["draft"];
            assert_eq!(texts.slice(path, at), text(&at["text"]));
            let first = text(&at["text"]).split(|c: char| !c.is_alphanumeric());
            let first = first.into_iter().find(|word| !word.is_empty()).unwrap();
            let number = usize::try_from(at["line"].as_u64().unwrap()).unwrap();
            let file = String::from_utf8(fs::read(folder.join(path)).unwrap())
                .unwrap_or_else(|_| texts.get(path).to_owned());
            let line = file.lines().nth(number - 1).unwrap();
            assert!(
                line.contains(first),
                "line {number} of {path} is no place of {first}: {line}"
            );
            places += 1;
        }
        for finding in draft["findings"].as_array().unwrap() {
            for name in ["source", "note"] {
                let stored = &finding[name];
                if stored.is_object() {
                    assert_eq!(
                        texts.slice(text(&stored["path"]), stored),
                        text(&stored["text"])
                    );
                    places += 1;
                }
            }
            let mut end = 0;
            for shared in finding["shared"].as_array().unwrap() {
                assert!(
                    within(&shared["draft"], &finding["draft"]),
                    "{shared}: {}",
                    finding["draft"]
                );
                assert!(
                    within(&shared["source"], &finding["source"]),
                    "{shared}: {}",
                    finding["source"]
                );
                assert!(
                    shared["draft"]["start"].as_u64().unwrap() >= end,
                    "{shared} is out of order"
                );
                end = shared["draft"]["end"].as_u64().unwrap();
                let ours = words(texts.slice(path, &shared["draft"]));
                let theirs =
                    words(texts.slice(text(&finding["source"]["path"]), &shared["source"]));
                let by = text(&shared["by"]);
                assert_eq!(ours == theirs, ["string", "form"].contains(&by), "{shared}");
                assert_eq!(ours.len() > 1, by == "string", "{ours:?}");
                places += 1;
            }
        }
    }
    places
}

/// Words in small letters, one kind of apostrophe, hyphens at line ends mended; for the demo and the
/// tests' own texts, which need no more.
fn words(text: &str) -> Vec<String> {
    let text = text.replace('’', "'").replace("-\n", "");
    let is_part = |c: char| c.is_alphanumeric() || "'.,".contains(c);
    let words = text.split(|c: char| !is_part(c)).map(|word| {
        word.trim_matches(|c: char| !c.is_alphanumeric())
            .to_lowercase()
    });
    words.filter(|word| !word.is_empty()).collect()
}

/// Holds that the position follows from the measures by the formula of `ownwords explain scale`, and the degree from
/// the position by its boundaries.
fn assert_recountable(placed: &Value) {
    let measures = &placed["measures"];
    let measure = |name: &str| measures[name].as_f64().unwrap();
    let content = (measure("sequence") + 0.2).max(0.5);
    let content = content.min(measure("kept_content"));
    let closest = [
        measure("sequence"),
        measure("string_share") * 0.9,
        (measure("sequence") + content) / 2.0 * 0.9,
    ];
    let expected = 1.0 - closest.into_iter().fold(0.0, f64::max);
    // Words kept come in halves, so that twice of them over both is a whole number.
    let kept_twice = measure("sequence") * (measure("words") + measure("stretch"));
    let slack = 0.0001 * (measure("words") + measure("stretch"));
    assert!(
        (kept_twice - kept_twice.round()).abs() < slack,
        "{measures}"
    );
    let position = placed["position"].as_f64().unwrap();
    assert!(
        (position - expected).abs() < 0.0003,
        "{position} is not {expected}: {measures}"
    );
    let boundaries = [
        (0.01, "verbatim"),
        (0.19, "near copy"),
        (0.52, "light revision"),
        (0.73, "heavy revision"),
    ];
    let degree = boundaries
        .iter()
        .find(|(last, _)| position <= *last)
        .map_or("restructured", |(_, degree)| degree);
    let degree = match placed["shares_telling"].as_bool() {
        Some(false) if measure("words") > 0.0 => "restructured",
        _ => degree,
    };
    assert_eq!(placed["degree"], degree, "{position}");
}

fn assert_contract(report: &Value, folder: &Path) -> usize {
    assert_valid(&schema("schema"), report);
    for draft in report["drafts"].as_array().unwrap() {
        for finding in draft["findings"].as_array().unwrap() {
            if !finding["measures"].is_null() {
                assert_recountable(finding);
            }
        }
    }
    assert_positions(report, folder)
}

fn check_demo(drafts: &[&str]) -> Value {
    let output = run(&demo(), &[&["check", "--format", "json"], drafts].concat());
    serde_json::from_slice(&output.stdout).unwrap()
}

#[test]
fn the_demo_chapters() {
    let report = check_demo(&["drafts/chapter-1.md", "drafts/chapter-2.md"]);
    assert!(assert_contract(&report, &demo()) > 200);
    assert_eq!(report["drafts"].as_array().unwrap().len(), 2);
    // Checked together they are told the same as checked alone.
    for (at, draft) in ["drafts/chapter-1.md", "drafts/chapter-2.md"]
        .into_iter()
        .enumerate()
    {
        assert_eq!(
            check_demo(&[draft])["drafts"][0],
            report["drafts"][at],
            "{draft}"
        );
    }
}

#[test]
fn identifiers_are_each_for_one_finding() {
    let report = check_demo(&["drafts/chapter-1.md", "drafts/chapter-2.md"]);
    for draft in report["drafts"].as_array().unwrap() {
        let mut ids: Vec<&str> = draft["findings"]
            .as_array()
            .unwrap()
            .iter()
            .map(|finding| text(&finding["id"]))
            .collect();
        let count = ids.len();
        ids.sort_unstable();
        ids.dedup();
        assert_eq!(ids.len(), count);
    }
}

/// A draft with something of everything, among characters of one to four bytes.
fn everything() -> String {
    format!(
        "# Überschrift 🌙 – moths’ nights\n\n{OWN} ‘Ça alors’, 暗い, says 🦋 nobody. Under the burning lamp the campion \
         received one visit for every four that it received in the dark – naïve or not. \n\n\
         She says: “heavy fliers pay a toll and light ones pay with the entire night” (Harrow, 2019, p. 114).\n\n\
         A gardener looking at bryony alone would call lamps harmless. Whoever wishes to know what lamps do to a \
         hedge must ask a plant that has no other client (Quill, 2016).\n\n\
         > The people of Weir Street gave the dark hours a name of their own. (Quill, 2016)\n\n\
         Others disagree (Vane, 2003).\n\nHe said “nobody has ever seen a kinder hornet — never”.\n"
    )
}

fn of_everything() -> Review {
    Review::of_two()
        .source(
            "harrow2019.txt",
            format!("Ein Vorwort – “über” Nächte 🌙.\n\n{HARROW}"),
        )
        .source("quill2016.txt", QUILL)
        .entry(
            "harrow2019",
            "Ü. Moths that came near turned towards the lantern.",
            "“heavy fliers pay a toll”",
            "Ö.",
        )
}

#[test]
fn positions_stand_between_characters() {
    for (name, mark) in [
        ("draft.md", ""),
        ("draft.txt", ""),
        ("draft.txt", "\u{feff}"),
        ("draft.md", "\u{feff}"),
    ] {
        for ends in ["\n", "\r\n"] {
            let review = of_everything();
            let draft = format!("{mark}{}", everything()).replace('\n', ends);
            let checked = review.check_as(name, draft);
            let places = assert_contract(&checked.json, review.root());
            assert!(places > 20, "{name}: {places}");
            for kind in [
                "unmarked-copy",
                "altered-quotation",
                "page-mismatch",
                "credit-elsewhere",
                "quotation-without-page",
                "cited-not-listed",
                "quotation-without-credit",
            ] {
                if kind != "quotation-without-page" || name.ends_with(".md") {
                    checked.of_kind(kind);
                }
            }
        }
    }
}

#[test]
fn recoded_drafts_and_sources() {
    let utf_16 = |text: &str| -> Vec<u8> {
        std::iter::once(0xFEFF)
            .chain(text.encode_utf16())
            .flat_map(u16::to_le_bytes)
            .collect()
    };
    let review = Review::of_two().source("harrow2019.txt", utf_16(HARROW));
    let checked = review.check_as("draft.txt", utf_16(&everything()));
    assert!(assert_contract(&checked.json, review.root()) > 20);
    assert_eq!(
        checked.of_kind("unmarked-copy")["source"]["key"],
        "harrow2019"
    );
}

#[test]
fn small_outputs() {
    let silent = Review::of_two().check(OWN);
    let left_out = Review::new()
        .source("a.txt", "Moths.")
        .source("b.pdf", "no")
        .check("");
    let explained = Review::of_two()
        .setting("terms = [\"moths that came near turned towards the lantern within\"]")
        .setting("heavily_quoted_percent = 1")
        .check("Moths that came near turned towards the lantern within, \"heavy fliers pay a toll\" and more.");
    assert_eq!(explained.explained().len(), 1);
    assert!(!left_out.left_out().is_empty());
    explained.of_kind("heavily-quoted");
    for checked in [silent, left_out, explained] {
        let Checked { json, .. } = checked;
        assert_valid(&schema("schema"), &json);
    }
}

/// The contract of the check of the notes: findings as in a draft's, at places of the files of notes.
#[test]
fn the_notes() {
    let schema = schema("schema-notes");
    let review = of_everything()
        .note("loose.md", "Ü – only a thought 🌙.\n")
        .note("both.md", "# Harrow (2019)\n\nBefore – 🌙.\n\n## Summary\n\nÜber. I said: moths that came near turned towards the lantern within a few wingbeats.\n\n# Themes 🦋\n\nOwls.\n\n# Nobody (2003)\n\nNothing.\n");
    for (folder, least) in [(demo(), 20), (review.root().to_owned(), 4)] {
        for arguments in [&["notes"][..], &["notes", "--entry", "harrow2019"]] {
            let output = run(&folder, &[arguments, &["--format", "json"]].concat());
            if output.stdout.is_empty() {
                assert_eq!((arguments.len(), folder == demo()), (3, true));
                continue;
            }
            let report: Value = serde_json::from_slice(&output.stdout).unwrap();
            assert_valid(&schema, &report);
            // The places are those that a draft of the same path would have.
            let entries = report["entries"].as_array().unwrap().iter();
            let drafts: Vec<Value> = entries
                .map(|entry| json!({"path": entry["path"], "findings": entry["findings"], "explained": entry["explained"]}))
                .collect();
            let places = assert_positions(&json!({ "drafts": drafts }), &folder);
            assert!(places >= least, "{places}");
            let mut wrong = report.clone();
            wrong["entries"][0]["score"] = json!(3);
            assert!(!schema.is_valid(&wrong));
        }
    }
}

#[test]
fn place_and_pairs() {
    let source =
        "A gardener who looks only at bryony would therefore call the lamp – naïvely – harmless.";
    let rewrites = [
        source,
        "A gardener looking at bryony alone would call lamps harmless.",
        "Naïve gardeners 🌱 forgive the lamp.",
        "“A gardener who looks only at bryony” is wrong.",
        "暗い",
    ];
    let review = Review::new().file("source.txt", source);
    let schema = schema("schema-place");
    let mut files = Vec::new();
    let mut lines = String::new();
    for (id, rewrite) in rewrites.iter().enumerate() {
        let name = format!("{id}.txt");
        fs::write(review.path(&name), rewrite).unwrap();
        files.push(name);
        lines += &format!(
            "{}\n",
            json!({"id": id, "source": source, "rewrite": rewrite})
        );
    }
    let names: Vec<&str> = files.iter().map(String::as_str).collect();
    let arguments = [
        &["place", "--format", "json", "--source", "source.txt"],
        names.as_slice(),
    ]
    .concat();
    let placed = json_lines(&review.run(&arguments).stdout);
    assert_eq!(placed.len(), rewrites.len());
    for (line, rewrite) in placed.iter().zip(rewrites) {
        assert_valid(&schema, line);
        assert_recountable(line);
        for shared in line["shared"].as_array().unwrap() {
            let slice = |text: &str, range: &Value| {
                let at = |name: &str| usize::try_from(range[name].as_u64().unwrap()).unwrap();
                text.get(at("start")..at("end")).map(words)
            };
            let (ours, theirs) = (
                slice(rewrite, &shared["draft"]),
                slice(source, &shared["source"]),
            );
            assert!(
                ours.is_some() && theirs.is_some(),
                "{shared} cuts a character"
            );
            assert_eq!(
                ours == theirs,
                ["string", "form"].contains(&text(&shared["by"])),
                "{shared}"
            );
        }
    }
    let review = review.file("pairs.jsonl", lines);
    let paired = json_lines(&review.run(&["place", "--pairs", "pairs.jsonl"]).stdout);
    assert_eq!(paired.len(), rewrites.len());
    for (pair, file) in paired.iter().zip(&placed) {
        assert_valid(&schema, pair);
        assert_recountable(pair);
        for name in ["degree", "position", "measures"] {
            assert_eq!(pair[name], file[name], "{}", file["id"]);
        }
    }
    assert_eq!(paired[0]["degree"], "verbatim");
}

fn json_lines(stdout: &[u8]) -> Vec<Value> {
    let lines = std::str::from_utf8(stdout).unwrap().lines();
    lines
        .map(|line| serde_json::from_str(line).unwrap())
        .collect()
}

#[test]
fn the_schemas_refuse_what_is_not_promised() {
    let mut report = check_demo(&["drafts/chapter-1.md"]);
    let check = schema("schema");
    assert!(check.is_valid(&report));
    report["drafts"][0]["findings"][0]["score"] = json!(97);
    assert!(!check.is_valid(&report));
    let place = schema("schema-place");
    assert!(
        !place.is_valid(&json!({"id": 1, "degree": "copied", "position": 0.5, "measures": {}}))
    );
}
