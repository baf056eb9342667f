//! What is stored grows: sources, references, entries of notes.

use std::fmt::Write as _;
use std::fs;
use std::io;
use std::path::Path;

use super::{Series, bibliography, key, name, review, sentences};
use crate::prose::{Prose, Random};

pub const SERIES: fn() -> Vec<Series> = || {
    vec![
        Series {
            name: "stored-notes",
            smallest: 1000,
            make: library,
            command: &["notes", "--jobs", "1"],
        },
        Series {
            name: "stored-check",
            smallest: 1000,
            make: library,
            command: &["check", "--jobs", "1", "drafts"],
        },
        Series {
            name: "stored-quotations",
            smallest: 1000,
            make: library,
            command: &["quotations", "--jobs", "1", "drafts/draft.md"],
        },
        Series {
            name: "stored-bibliography",
            smallest: 500,
            make: library,
            command: &["bibliography"],
        },
        Series {
            name: "notes-flawed",
            smallest: 1000,
            make: flawed,
            command: &["notes", "--jobs", "1"],
        },
        Series {
            name: "notes-one-file",
            smallest: 1000,
            make: one_file,
            command: &["notes", "--jobs", "1"],
        },
    ]
};

/// Short sources, each with a reference and an entry that quotes it, and a draft that cites some of them.
fn library(folder: &Path, size: usize) -> io::Result<()> {
    entries(folder, size, false, 50)
}

/// The same with an entry that has something to mend in it.
fn flawed(folder: &Path, size: usize) -> io::Result<()> {
    entries(folder, size, true, 50)
}

/// The same with all entries in one file.
fn one_file(folder: &Path, size: usize) -> io::Result<()> {
    entries(folder, size, true, usize::MAX)
}

fn entries(folder: &Path, size: usize, flawed: bool, in_a_file: usize) -> io::Result<()> {
    review(folder)?;
    let prose = Prose::new();
    let mut random = Random::new(1);
    let mut notes = String::new();
    let mut draft = String::from("# A chapter\n\n");
    for number in 0..size {
        let source = sentences(&prose, &mut random, 80);
        fs::write(
            folder.join(format!("sources/{}.txt", key(number))),
            format!("[p. 1]\n\n{}\n", source.join(" ")),
        )?;
        let summary = prose.sentence(&mut random);
        let comment = if flawed {
            &source[1]
        } else {
            &prose.sentence(&mut random)
        };
        let quoted = source[0].trim_end_matches('.');
        let changed = if flawed { " indeed" } else { "" };
        let _ = write!(
            notes,
            "# {author} (2001) {{#{key}}}\n\n{author}, A. (2001). *{title}*. Quillet.\n\n## Summary\n\n{summary}\n\n\
             ## Quotations\n\n- \"{quoted}{changed}\" (p. 1)\n\n## Comments\n\n{comment}\n\n",
            author = name(number),
            key = key(number),
            title = name(number * 7 + 3),
        );
        if number % in_a_file == in_a_file - 1 {
            fs::write(folder.join(format!("notes/{number}.md")), &notes)?;
            notes.clear();
        }
        if number % 10 == 0 {
            let _ = write!(
                draft,
                "{} It says \"{quoted}\" ({}, 2001, p. 1). {}\n\n",
                prose.sentence(&mut random),
                name(number),
                source[1],
            );
        }
    }
    fs::write(folder.join("notes/rest.md"), notes)?;
    fs::write(folder.join("references.bib"), bibliography(0..size))?;
    fs::write(folder.join("drafts/draft.md"), draft)
}
