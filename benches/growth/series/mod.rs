//! The series: what grows, and the command that reads it.

mod copies;
mod lists;
mod markup;
mod stored;

use std::fmt::Write as _;
use std::fs;
use std::io;
use std::path::Path;

use crate::prose::{Prose, Random};

/// One thing that grows.
pub struct Series {
    /// Its name on the command line.
    pub name: &'static str,
    /// The smallest size, in what its maker counts. The part that grows must outweigh the fixed cost here.
    pub smallest: usize,
    /// Writes an input of a size into an empty folder; of size nothing, what the fixed cost is measured on.
    pub make: fn(&Path, usize) -> io::Result<()>,
    /// The command, run in that folder.
    pub command: &'static [&'static str],
}

/// All of them.
pub fn all() -> Vec<Series> {
    [
        stored::SERIES,
        lists::SERIES,
        copies::SERIES,
        markup::SERIES,
    ]
    .into_iter()
    .flat_map(|make| make())
    .collect()
}

/// Lays out a review with as little in it as every command asks for.
fn review(folder: &Path) -> io::Result<()> {
    for name in ["sources", "notes", "drafts"] {
        fs::create_dir_all(folder.join(name))?;
    }
    fs::write(folder.join("sources/basis.txt"), "Hardly anything.\n")?;
    fs::write(
        folder.join("notes/basis.md"),
        "# basis\n\n## Summary\n\nLittle.\n",
    )?;
    fs::write(folder.join("drafts/0.md"), "Nothing.\n")?;
    fs::write(folder.join("ownwords.toml"), "")
}

/// The author's name of a number. Names consist of letters alone, so that they can be cited, and those of neighbouring
/// numbers are unlike.
fn name(number: usize) -> String {
    const LETTERS: usize = 5;
    let mut name = String::from("I");
    // The factor has no divisor in common with 26.
    let mut rest = number * 7_368_787 % 26_usize.pow(LETTERS as u32);
    for _ in 0..LETTERS {
        name.push(char::from(b'a' + (rest % 26) as u8));
        rest /= 26;
    }
    name
}

/// The key of the source, reference or entry of a number.
fn key(number: usize) -> String {
    format!("{}2001", name(number).to_lowercase())
}

/// References in BibTeX, a book each.
fn bibliography(numbers: std::ops::Range<usize>) -> String {
    let mut references = String::new();
    for number in numbers {
        let _ = writeln!(
            references,
            "@book{{{}, author = {{{}, A.}}, title = {{{} of the {} hill}}, publisher = {{Quillet}}, year = {{2001}}}}",
            key(number),
            name(number),
            name(number * 7 + 3),
            name(number * 5 + 1),
        );
    }
    references
}

/// Sentences of so many words together.
fn sentences(prose: &Prose, random: &mut Random, least_words: usize) -> Vec<String> {
    let mut sentences = Vec::new();
    let mut count = 0;
    while count < least_words {
        let sentence = prose.sentence(random);
        count += sentence.split(' ').count();
        sentences.push(sentence);
    }
    sentences
}

fn paragraphs(sentences: &[String]) -> String {
    let paragraphs: Vec<String> = sentences.chunks(6).map(|chunk| chunk.join(" ")).collect();
    paragraphs.join("\n\n")
}

/// A near copy: one word in so many is another.
fn reworded(prose: &Prose, random: &mut Random, sentence: &str, one_in: usize) -> String {
    let other = prose.sentence(random);
    let mut others = other.trim_end_matches('.').split(' ').rev().cycle();
    let words: Vec<&str> = sentence.split(' ').collect();
    let last = words.len() - 1;
    let change = |(at, word)| match others.next() {
        Some(other) if at > 0 && at < last && random.below(one_in) == 0 => {
            other.trim_end_matches(',')
        }
        _ => word,
    };
    let words: Vec<&str> = words.iter().copied().enumerate().map(change).collect();
    words.join(" ")
}
