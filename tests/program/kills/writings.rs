//! Every kind of writing that the program does, and a place to do it in.

use std::fs;
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};

use crate::common::signals::heeding;
use crate::common::word::{document, p, t};
use crate::common::{COPIED, HARROW, OWN, Review};

const PAIRS: &str = "place --pairs";
const TEXT: &str = "text";

/// A kind of writing: a name, what is written, and the run.
pub(super) struct Kind {
    pub(super) name: &'static str,
    /// The file that is replaced, in the review or in `OUT` outside it; a folder where one is laid out.
    pub(super) target: &'static str,
    arguments: Vec<&'static str>,
}

impl Kind {
    /// Whether so much is written that a run can be seen at it, however busy the machine is.
    pub(super) fn is_long(&self) -> bool {
        [PAIRS, TEXT].contains(&self.name)
    }
}

/// All kinds.
pub(super) fn kinds() -> Vec<Kind> {
    let check = |name, target, format| Kind {
        name,
        target,
        arguments: vec![
            "check",
            "drafts/draft.md",
            "--format",
            format,
            "--out",
            target,
        ],
    };
    let kind = |name, target, arguments: &[&'static str]| Kind {
        name,
        target,
        arguments: arguments.to_vec(),
    };
    vec![
        check("check, terminal", "OUT/check.txt", "terminal"),
        check("check, page", "OUT/check.html", "page"),
        check("check, markdown", "OUT/check.md", "markdown"),
        check("check, csv", "OUT/check.csv", "csv"),
        check("check, lines", "OUT/check.lines", "lines"),
        check("check, sarif", "OUT/check.sarif", "sarif"),
        check("check, json", "OUT/check.json", "json"),
        kind(
            "check, margin",
            "OUT/check.docx",
            &[
                "check",
                "drafts/word.docx",
                "--format",
                "margin",
                "--out",
                "OUT/check.docx",
            ],
        ),
        kind(
            "notes",
            "OUT/notes.json",
            &["notes", "--format", "json", "--out", "OUT/notes.json"],
        ),
        kind(
            "quotations",
            "OUT/quotations.json",
            &[
                "quotations",
                "--format",
                "json",
                "--out",
                "OUT/quotations.json",
            ],
        ),
        kind(
            "bibliography, Markdown",
            "OUT/bibliography.md",
            &["bibliography", "--out", "OUT/bibliography.md"],
        ),
        kind(
            "bibliography, Word",
            "OUT/bibliography.docx",
            &["bibliography", "--out", "OUT/bibliography.docx"],
        ),
        kind(
            "place",
            "OUT/place.html",
            &[
                "place",
                "--source",
                "OUT/../source.txt",
                "OUT/../rewrite.txt",
                "--format",
                "page",
                "--out",
                "OUT/place.html",
            ],
        ),
        kind(
            PAIRS,
            "OUT/pairs.jsonl",
            &[
                "place",
                "--pairs",
                "OUT/../pairs.jsonl",
                "--out",
                "OUT/pairs.jsonl",
            ],
        ),
        kind(
            TEXT,
            "OUT/text.txt",
            &[
                "text",
                "--plain",
                "OUT/../long.txt",
                "--out",
                "OUT/text.txt",
            ],
        ),
        kind(
            "settle",
            "decisions.toml",
            &[
                "settle",
                "ID",
                "--because",
                "as agreed",
                "--on",
                "2026-03-02",
                "--in",
                "drafts/draft.md",
            ],
        ),
        kind(
            "settle --term",
            "terms.txt",
            &["settle", "--term", "what a lamp does to a hedge"],
        ),
        kind("start", "OUT/new", &["start", "OUT/new"]),
    ]
}

/// A review, and a folder beside it with all else that the runs need.
pub(super) struct Place {
    folder: tempfile::TempDir,
    review: Review,
    id: String,
}

impl Place {
    pub(super) fn new(id: &str) -> Self {
        let sentences = HARROW
            .split_inclusive(". ")
            .filter(|sentence| sentence.len() > 90);
        let draft: String = sentences
            .map(|sentence| format!("{OWN} {sentence}\n\n{OWN}\n\n"))
            .collect();
        let paragraphs: String = draft
            .split("\n\n")
            .map(|words| p(&t(words.trim())))
            .collect();
        let mut decisions = "scheme = \"ownwords-finding-1\"\n".to_owned();
        for number in 0..200 {
            decisions.push_str(&format!(
                "\n[zz-{number:08x}.00000000]\nkind = \"close-paraphrase\"\ndraft = \"drafts/old.md\"\non = \"2026-03-02\"\n\
                 because = \"looked at with care\"\ntext = \"moths that came near ...\"\n"
            ));
        }
        let summary = format!("{OWN} It counts {COPIED}.");
        let quoted: String = (0..4)
            .map(|number| format!("> \"{COPIED}\" (p. {number})\n\n"))
            .collect();
        let review = Review::of_two()
            .entry("harrow2019", &summary, &quoted, &OWN.repeat(12))
            .file("drafts/draft.md", &draft)
            .file("drafts/word.docx", document(&paragraphs, &[]))
            .file("decisions.toml", decisions);
        let folder = tempfile::tempdir().unwrap();
        let root = folder.path();
        fs::create_dir(root.join("out")).unwrap();
        fs::write(root.join("long.txt"), HARROW.repeat(6_000)).unwrap();
        // Names so long that more is written than is held in memory.
        let pair = format!(
            "{{\"id\": \"{}\", \"source\": \"Lamps hold moths.\", \"rewrite\": \"Moths stay at lamps.\"}}\n",
            "x".repeat(100_000)
        );
        fs::write(root.join("pairs.jsonl"), pair.repeat(150)).unwrap();
        fs::write(root.join("source.txt"), HARROW).unwrap();
        fs::write(root.join("rewrite.txt"), HARROW.replace("lamp", "lantern")).unwrap();
        let terms: String = (0..400)
            .map(|number| format!("fixed expression {number}\n"))
            .collect();
        let review = review.file("terms.txt", terms);
        Self {
            folder,
            review,
            id: id.to_owned(),
        }
    }

    /// The ID of an open finding.
    pub(super) fn open_finding(&self) -> String {
        let checked = self
            .command(&[], &["check", "drafts/draft.md", "--format", "json"])
            .output()
            .unwrap();
        let report: serde_json::Value = serde_json::from_slice(&checked.stdout).unwrap();
        let findings = report["drafts"][0]["findings"].as_array().unwrap();
        let open = findings
            .iter()
            .find(|finding| finding["settled"].is_null())
            .unwrap();
        open["id"].as_str().unwrap().to_owned()
    }

    /// The file or folder that a kind writes.
    pub(super) fn target(&self, kind: &Kind) -> PathBuf {
        let [target] = self.meant(&[kind.target]).try_into().unwrap();
        self.review.root().join(target)
    }

    fn command(&self, before: &[&str], arguments: &[&str]) -> Command {
        let words = [before, &heeding()].concat();
        let mut command = Command::new(words[0]);
        command
            .args(&words[1..])
            .args(self.meant(arguments))
            .current_dir(self.review.root());
        command
    }

    fn meant(&self, arguments: &[&str]) -> Vec<String> {
        let out = self.folder.path().join("out");
        let out = out.to_str().unwrap();
        let meant = |argument: &&str| match *argument {
            "ID" => self.id.clone(),
            other => other.replace("OUT", out),
        };
        arguments.iter().map(meant).collect()
    }

    /// A run that may write so many blocks of 512 or 1,024 bytes into a file, if any number is given.
    pub(super) fn start(&self, kind: &Kind, blocks: Option<u64>) -> Child {
        let script =
            blocks.map(|blocks| format!("ulimit -c 0; ulimit -f {blocks}; exec \"$0\" \"$@\""));
        let before: Vec<&str> = match &script {
            Some(script) => vec!["sh", "-c", script],
            None => Vec::new(),
        };
        self.command(&before, &kind.arguments)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap()
    }
}
