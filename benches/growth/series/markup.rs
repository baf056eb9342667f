//! What a file consists of grows: signs that open something, nested or never closed.

use std::fs;
use std::io;
use std::path::Path;

use super::Series;

pub const SERIES: fn() -> Vec<Series> = || {
    let text = |name, smallest, make, command| Series {
        name,
        smallest,
        make,
        command,
    };
    const ORG: &[&str] = &["text", "file.org"];
    vec![
        text(
            "org-links",
            150_000,
            |folder, size| org(folder, "[[", size),
            ORG,
        ),
        text(
            "org-notes",
            300_000,
            |folder, size| org(folder, "[fn:", size),
            ORG,
        ),
        text(
            "org-cites",
            300_000,
            |folder, size| org(folder, "[cite:", size),
            ORG,
        ),
        text(
            "org-notes-spaced",
            300_000,
            |folder, size| org(folder, "[fn:a ", size),
            ORG,
        ),
        text(
            "latex-nested-def",
            80_000,
            nested_def,
            &["text", "file.tex"],
        ),
        text(
            "latex-chained-def",
            40_000,
            chained_def,
            &["text", "file.tex"],
        ),
        text("rst-nested", 4_000_000, directives, &["text", "file.rst"]),
        text("html-attributes", 1_000, attributes, &["text", "file.html"]),
    ]
};

fn org(folder: &Path, sign: &str, size: usize) -> io::Result<()> {
    fs::write(
        folder.join("file.org"),
        format!("Words {}\n", sign.repeat(size)),
    )
}

/// Definitions inside one another.
fn nested_def(folder: &Path, size: usize) -> io::Result<()> {
    let (open, close) = (r"\def\a{b ".repeat(size), "}".repeat(size));
    fs::write(
        folder.join("file.tex"),
        format!("Words {open}{close} \\a\n"),
    )
}

/// Definitions that each use the one before.
fn chained_def(folder: &Path, size: usize) -> io::Result<()> {
    let mut file = format!("\\def\\{}{{word}}\n", super::name(0));
    for number in 1..=size {
        let (this, before) = (super::name(number), super::name(number - 1));
        file += &format!("\\def\\{this}{{\\{before} more}}\n");
    }
    file += &format!("Words \\{} follow.\n", super::name(size));
    fs::write(folder.join("file.tex"), file)
}

/// Directives inside one another; the size counts bytes, since the indents grow.
fn directives(folder: &Path, size: usize) -> io::Result<()> {
    let mut file = String::from("Words\n\n");
    let mut indent = String::new();
    while file.len() < size {
        file += &format!("{indent}.. note::\n\n");
        indent.push_str("   ");
    }
    fs::write(folder.join("file.rst"), file + &indent + "Words\n")
}

/// One element with many attributes.
fn attributes(folder: &Path, size: usize) -> io::Result<()> {
    let attributes: String = (0..size)
        .map(|number| format!(" a{number}=\"b\""))
        .collect();
    fs::write(
        folder.join("file.html"),
        format!("<html><body><p{attributes}>Words</p></body></html>\n"),
    )
}
