//! A review in a folder of its own that lasts as long as the test: built file by file, checked by the
//! built program as a user runs it, and read back as JSON.
//!
//! ```ignore
//! let checked = Review::new().reference(HARROW_REFERENCE).source("harrow2019.txt", HARROW).check("Moths ...");
//! assert_eq!(checked.kinds(), ["unmarked-copy"]);
//! ```

pub mod pdf;
#[cfg(unix)]
pub mod signals;
pub mod word;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use serde_json::Value;
use tempfile::TempDir;

/// An invented field study of two pages.
pub const HARROW: &str = "\
[p. 113]

The lane behind the mill was dark from eleven until five in both summers. In those six hours we counted \
visits to campion, honeysuckle and white bryony by heat camera, and compared them with visits under a lamp \
that burned until dawn. Under the burning lamp the campion received one visit for every four that it \
received in the dark. Moths that came near turned towards the lantern within a few wingbeats and stayed \
with it, some of them until morning.

The drop was steepest for the small carpets and pugs, which weigh less than a grain of rice and tire soon. \
Hawk moths, by contrast, left the lamp after some minutes and went back to the honeysuckle. We take this to \
mean that heavy fliers pay a toll and light ones pay with the whole night.

[p. 114]

Seed set followed the visits, though not in step. Campion under the lamp set a third fewer seeds than \
campion in the dark lane, while white bryony, which bees also serve by day, set as many as ever. A gardener \
who looks only at bryony would therefore call the lamp harmless. Whoever wants to know what a lamp does to a \
hedge has to ask the plant that has no other customer.

Councils choose the hour by counting the last buses. Nobody has asked when the moths fly. If the dark hours \
began at dusk and ended with the first bus, the same saving in current would protect nearly all of the \
visits that we recorded.
";

/// A run of its words.
pub const COPIED: &str =
    "the campion received one visit for every four that it received in the dark";

/// Its reference.
pub const HARROW_REFERENCE: &str = "\
@article{harrow2019,
  author = {Harrow, Anna},
  title = {Campion after eleven},
  journaltitle = {Annals of the Unlit Lane},
  year = {2019},
  pages = {113--114},
}
";

/// Invented interviews, one page.
pub const QUILL: &str = "\
[p. 21]

The people of Weir Street gave the dark hours a name of their own. They called them the long blink and \
spoke of them as one speaks of weather, with a shrug and a date. Older residents remembered the gas, which \
had also gone out at midnight, and could not see what the newspapers found so new. A baker who starts at \
three told us that he had bought a better lantern and had begun to notice owls.

What people feared was not theft but stumbling. Of the forty households that answered, thirty-one named the \
broken kerb by the chapel before they named any crime. The council mended the kerb in the second winter, \
and complaints about the lighting ended within a month.
";

/// Its reference.
pub const QUILL_REFERENCE: &str = "\
@book{quill2016,
  author = {Quill, Bertram},
  title = {The long blink},
  publisher = {Lantern Gate Press},
  year = {2016},
}
";

/// A sentence of the writer's own that nothing in the sources is like.
pub const OWN: &str =
    "My question here is a narrow one, and I leave the politics of budgets to others.";

/// A review under construction.
pub struct Review {
    folder: TempDir,
}

impl Review {
    /// A review with settings left at their defaults and nothing else.
    pub fn new() -> Self {
        let review = Self {
            folder: tempfile::tempdir().unwrap(),
        };
        for folder in ["sources", "notes", "drafts"] {
            fs::create_dir(review.path(folder)).unwrap();
        }
        review.file("ownwords.toml", "")
    }

    /// A review of two references with their sources, and no notes.
    pub fn of_two() -> Self {
        Self::new()
            .reference(HARROW_REFERENCE)
            .reference(QUILL_REFERENCE)
            .source("harrow2019.txt", HARROW)
            .source("quill2016.txt", QUILL)
    }

    /// Writes any file.
    pub fn file(self, name: &str, content: impl AsRef<[u8]>) -> Self {
        let path = self.path(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, content).unwrap();
        self
    }

    /// Adds a line to the settings.
    pub fn setting(self, line: &str) -> Self {
        self.append("ownwords.toml", line)
    }

    /// Adds a reference in BibTeX.
    pub fn reference(self, bibtex: &str) -> Self {
        self.append("references.bib", bibtex)
    }

    /// A source text by the name of its file.
    pub fn source(self, name: &str, content: impl AsRef<[u8]>) -> Self {
        self.file(&format!("sources/{name}"), content)
    }

    /// A file of notes.
    pub fn note(self, name: &str, content: &str) -> Self {
        self.file(&format!("notes/{name}"), content)
    }

    /// An entry on a key with the given parts, in a file of its own.
    pub fn entry(self, key: &str, summary: &str, quotations: &str, comments: &str) -> Self {
        let content = format!(
            "# {key}\n\n## Summary\n\n{summary}\n\n## Quotations\n\n{quotations}\n\n## Comments\n\n{comments}\n"
        );
        self.note(&format!("{key}.md"), &content)
    }

    fn append(self, name: &str, more: &str) -> Self {
        let before = fs::read_to_string(self.path(name)).unwrap_or_default();
        self.file(name, format!("{before}{more}\n"))
    }

    /// The full path of one of its files.
    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// The folder.
    pub fn root(&self) -> &Path {
        self.folder.path()
    }

    /// Runs the program inside the folder.
    pub fn run(&self, arguments: &[&str]) -> Output {
        run(self.root(), arguments)
    }

    /// Writes a Markdown draft and checks it.
    pub fn check(&self, draft: &str) -> Checked {
        self.check_as("drafts/draft.md", draft)
    }

    /// Writes a draft under a name of its own and checks it.
    pub fn check_as(&self, name: &str, draft: impl AsRef<[u8]>) -> Checked {
        fs::write(self.path(name), draft).unwrap();
        self.check_with(&[name])
    }

    /// Checks with any arguments of `check`; JSON has to come out.
    pub fn check_with(&self, arguments: &[&str]) -> Checked {
        let output = self.run(&[&["check", "--format", "json"], arguments].concat());
        let stderr = String::from_utf8(output.stderr).unwrap();
        let stdout = String::from_utf8(output.stdout).unwrap();
        let json = serde_json::from_str(&stdout)
            .unwrap_or_else(|error| panic!("{error}: {stdout}{stderr}"));
        let code = output.status.code().unwrap();
        Checked { json, code, stderr }
    }
}

/// Runs the program in a folder, without colours.
pub fn run(folder: &Path, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_ownwords"))
        .current_dir(folder)
        .args(arguments)
        .env_remove("NO_COLOR")
        .env_remove("TERM")
        .stdin(Stdio::null())
        .output()
        .unwrap()
}

/// The folder of the demo review.
pub fn demo() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("corpus-demo")
}

/// What `check --format json` printed.
pub struct Checked {
    /// All of it.
    pub json: Value,
    /// The exit status.
    pub code: i32,
    /// What stood on standard error.
    pub stderr: String,
}

impl Checked {
    /// The findings of the first draft.
    pub fn findings(&self) -> &[Value] {
        self.json["drafts"][0]["findings"].as_array().unwrap()
    }

    /// The kinds of the findings of the first draft, in order.
    pub fn kinds(&self) -> Vec<&str> {
        self.findings()
            .iter()
            .map(|finding| text(&finding["kind"]))
            .collect()
    }

    /// The first finding of a kind.
    #[track_caller]
    pub fn of_kind(&self, kind: &str) -> &Value {
        let found = self
            .findings()
            .iter()
            .find(|finding| finding["kind"] == kind);
        found.unwrap_or_else(|| panic!("no {kind} among {:#?}", self.brief()))
    }

    /// Each finding in a line, for messages of tests.
    pub fn brief(&self) -> Vec<String> {
        let line = |finding: &Value| {
            format!(
                "{} [{} {}] {} {}: {}",
                text(&finding["kind"]),
                text(&finding["degree"]),
                finding["position"],
                text(&finding["source"]["key"]),
                text(&finding["credit"]["state"]),
                text(&finding["draft"]["text"])
            )
        };
        self.findings().iter().map(line).collect()
    }

    /// What was left out, each as `what: why`.
    pub fn left_out(&self) -> Vec<String> {
        let list = self.json["left_out"].as_array().unwrap();
        list.iter()
            .map(|left| format!("{}: {}", text(&left["what"]), text(&left["why"])))
            .collect()
    }

    /// The reasons for which overlaps of the first draft are no findings.
    pub fn explained(&self) -> Vec<&str> {
        let list = self.json["drafts"][0]["explained"].as_array().unwrap();
        list.iter()
            .map(|explained| text(&explained["why"]))
            .collect()
    }

    /// Holds that these kinds were found, in this order, and no others.
    #[track_caller]
    pub fn assert_kinds(&self, kinds: &[&str]) -> &Self {
        assert_eq!(self.kinds(), kinds, "{:#?}", self.brief());
        // A draft that can't be read makes the status 2, whatever the others hold.
        let unread = self.stderr.contains("could not be read") || self.stderr.contains("no text");
        let expected = if unread {
            2
        } else {
            i32::from(!kinds.is_empty())
        };
        assert_eq!(self.code, expected, "{}", self.stderr);
        self
    }

    /// Holds that nothing was found.
    #[track_caller]
    pub fn assert_silent(&self) -> &Self {
        self.assert_kinds(&[])
    }
}

/// A JSON string, or nothing where it is none.
pub fn text(value: &Value) -> &str {
    value.as_str().unwrap_or_default()
}
