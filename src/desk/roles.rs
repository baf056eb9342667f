//! What a file that was put on the desk is: draft, source, notes, references. The folder it comes from says it, else its name and
//! ending, else its text. Where that leaves a doubt the writer is asked, in one line.

use std::path::Path;

use crate::reading::{Format, Limits, from_bytes_within};

/// What a file is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Role {
    /// What is written.
    Draft,
    /// What was read.
    Source,
    /// Notes on what was read.
    Notes,
    /// The list of references.
    References,
    /// A version of a draft from before.
    Earlier,
    /// Part of a review: settings, decisions, terms.
    Review,
    /// Left aside.
    Unused,
}

impl Role {
    /// The folder of a review for files of this role.
    pub(super) fn folder(self) -> &'static str {
        match self {
            Self::Draft => "drafts",
            Self::Source => "sources",
            Self::Notes => "notes",
            Self::Earlier => "earlier",
            Self::Unused => "aside",
            Self::References | Self::Review => "",
        }
    }
}

/// A role, and whether there is no doubt about it.
pub(super) type Guess = (Role, bool);

/// What a file is, from its name with the folders it was put down with, and its bytes.
pub(super) fn recognise(name: &str, bytes: &[u8]) -> Guess {
    let lower = name.to_lowercase();
    let mut parts: Vec<&str> = lower.split('/').collect();
    let file = parts.pop().unwrap_or_default();
    let (stem, ending) = file.rsplit_once('.').unwrap_or((file, ""));
    match ending {
        "bib" | "ris" => return (Role::References, true),
        "json" => {
            return (
                if is_list(bytes) {
                    Role::References
                } else {
                    Role::Unused
                },
                true,
            );
        }
        _ => {}
    }
    let Ok(format) = Format::of(Path::new(file)) else {
        return (Role::Unused, true);
    };
    if let Some(role) = parts.iter().rev().find_map(|folder| named(folder)) {
        return (role, true);
    }
    if let Some(role) = named(stem) {
        return (role, true);
    }
    if is_key(stem) {
        return (Role::Source, true);
    }
    match format {
        Format::Pdf | Format::Epub | Format::Html => (Role::Source, true),
        Format::Docx | Format::Odt | Format::Latex => (Role::Draft, true),
        _ => by_text(format, bytes),
    }
}

/// References as CSL JSON are a list of objects.
fn is_list(bytes: &[u8]) -> bool {
    let text = bytes.trim_ascii_start();
    text.strip_prefix(b"\xef\xbb\xbf")
        .unwrap_or(text)
        .starts_with(b"[")
}

/// What the words in the name of a folder or a file say. Notes are on something, so their word counts before others: `reading
/// notes`, `thesis notes`.
fn named(name: &str) -> Option<Role> {
    let words = || name.split(|c: char| !c.is_alphabetic());
    let notes = ["note", "notes", "annotated", "diary", "excerpts"];
    if words().any(|word| notes.contains(&word)) {
        return Some(Role::Notes);
    }
    words().find_map(|word| match word {
        "draft" | "drafts" | "chapter" | "chapters" | "thesis" | "dissertation" | "essay"
        | "essays" | "manuscript" | "submission" => Some(Role::Draft),
        "source" | "sources" | "reading" | "readings" | "literature" | "papers" | "articles"
        | "pdfs" => Some(Role::Source),
        "earlier" | "old" | "previous" => Some(Role::Earlier),
        _ => None,
    })
}

/// Whether a name is one that references go by: `harrow2019`, `Harrow 2019a`, `harrow_lamps_2019`.
fn is_key(stem: &str) -> bool {
    let digits = |from: usize| {
        let part = stem.get(from..from + 4).unwrap_or_default();
        part.len() == 4
            && part.bytes().all(|byte| byte.is_ascii_digit())
            && matches!(part.as_bytes().first(), Some(b'1' | b'2'))
    };
    let year = stem.char_indices().map(|(at, _)| at).find(|at| digits(*at));
    let before = year.and_then(|at| stem.get(..at));
    before.is_some_and(|name| name.chars().filter(|c| c.is_alphabetic()).count() >= 3)
}

/// Page marks are a source's; headings of entries are those of notes; anything else is most often a draft.
fn by_text(format: Format, bytes: &[u8]) -> Guess {
    let Ok(read) = from_bytes_within(bytes.to_vec(), format, &Limits::default()) else {
        return (Role::Source, false);
    };
    if !read.text.pages().is_empty() {
        return (Role::Source, true);
    }
    let content = read.text.content().to_lowercase();
    let headings = ["summary", "quotations", "comments"];
    let lines = content
        .lines()
        .map(|line| line.trim_matches(|c: char| !c.is_alphabetic()));
    if lines.filter(|line| headings.contains(line)).count() >= 2 {
        return (Role::Notes, true);
    }
    (Role::Draft, false)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_are_known_by_folder_name_ending_and_text() {
        let notes = "# Harrow\n\n## Summary\n\nLamps.\n\n## Comments\n\nYes.\n";
        let table = [
            ("lamps.bib", "", (Role::References, true)),
            ("export.json", " [{}]", (Role::References, true)),
            ("package.json", "{}", (Role::Unused, true)),
            ("lamp.png", "", (Role::Unused, true)),
            ("Thesis/Sources/lamps.docx", "", (Role::Source, true)),
            ("my draft.txt", "", (Role::Draft, true)),
            ("Reading notes.md", "", (Role::Notes, true)),
            ("Harrow 2019a - Lamps.pdf", "", (Role::Source, true)),
            ("harrow2019.txt", "", (Role::Source, true)),
            ("lamps.pdf", "", (Role::Source, true)),
            ("lamps.docx", "", (Role::Draft, true)),
            ("lamps.txt", "[p. 3]\n\nLamps.", (Role::Source, true)),
            ("lamps.md", notes, (Role::Notes, true)),
            ("lamps.md", "Moths circle.", (Role::Draft, false)),
            ("old/chapter.md", "", (Role::Earlier, true)),
        ];
        for (name, text, expected) in table {
            assert_eq!(recognise(name, text.as_bytes()), expected, "{name}");
        }
    }
}
