//! The generated review: sources, references, and a draft with planted passages.

use std::fmt::Write as _;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use crate::prose::{Prose, Random};

pub const SOURCES: usize = 300;
pub const SOURCE_WORDS: usize = 10_000;
pub const DRAFT_WORDS: usize = 100_000;

/// One sentence in so many of the draft is planted, word for word.
const PLANTED_ONE_IN: usize = 25;

/// A passage of a source in the draft.
pub struct Planted {
    pub source: String,
    pub start: usize,
    pub end: usize,
}

pub fn source_paths(root: &Path) -> impl Iterator<Item = PathBuf> + '_ {
    (0..SOURCES).map(move |number| root.join("sources").join(format!("{}.txt", key(number))))
}

fn key(number: usize) -> String {
    format!("invented{number:03}")
}

/// Writes the review; returns what is planted in the draft.
pub fn write(root: &Path) -> io::Result<Vec<Planted>> {
    fs::create_dir_all(root.join("sources"))?;
    fs::create_dir_all(root.join("drafts"))?;
    fs::write(root.join("ownwords.toml"), "")?;
    let prose = Prose::new();
    let mut references = String::new();
    let mut lendable = Vec::new();
    for (number, path) in source_paths(root).enumerate() {
        let mut random = Random::new(number as u64 + 1);
        let sentences = sentences(&prose, &mut random, SOURCE_WORDS);
        // A sentence from the middle, long enough to be a copy by any setting.
        lendable.extend(
            sentences
                .iter()
                .skip(100)
                .find(|sentence| words(sentence) >= 20)
                .cloned(),
        );
        fs::write(path, paragraphs(&sentences))?;
        let _ = writeln!(
            references,
            "@book{{{key}, author = {{Invented{number}, A.}}, title = {{Volume {number}}}, year = {{2001}}}}",
            key = key(number)
        );
    }
    fs::write(root.join("references.bib"), references)?;
    let (draft, planted) = draft(&prose, &lendable);
    fs::write(root.join("drafts/draft.txt"), draft)?;
    Ok(planted)
}

fn draft(prose: &Prose, lendable: &[String]) -> (String, Vec<Planted>) {
    let mut random = Random::new(0);
    let mut draft = String::new();
    let mut planted = Vec::new();
    for (number, sentence) in sentences(prose, &mut random, DRAFT_WORDS)
        .into_iter()
        .enumerate()
    {
        if number > 0 {
            draft.push_str(if number % 6 == 0 { "\n\n" } else { " " });
        }
        let source = planted.len();
        if number % PLANTED_ONE_IN == PLANTED_ONE_IN - 1 && source < lendable.len() {
            let start = draft.len();
            draft.push_str(&lendable[source]);
            planted.push(Planted {
                source: key(source),
                start,
                end: draft.len(),
            });
        } else {
            draft.push_str(&sentence);
        }
    }
    (draft, planted)
}

fn sentences(prose: &Prose, random: &mut Random, least_words: usize) -> Vec<String> {
    let mut sentences = Vec::new();
    let mut count = 0;
    while count < least_words {
        let sentence = prose.sentence(random);
        count += words(&sentence);
        sentences.push(sentence);
    }
    sentences
}

fn words(sentence: &str) -> usize {
    sentence.split(' ').count()
}

fn paragraphs(sentences: &[String]) -> String {
    let paragraphs: Vec<String> = sentences.chunks(6).map(|chunk| chunk.join(" ")).collect();
    paragraphs.join("\n\n")
}
