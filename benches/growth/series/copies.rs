//! What draft and sources share grows: copied passages, near copies, whole texts.

use std::fmt::Write as _;
use std::fs;
use std::io;
use std::path::Path;

use super::{Series, bibliography, key, paragraphs, review, reworded, sentences};
use crate::prose::{Prose, Random};

pub const SERIES: fn() -> Vec<Series> = || {
    let check = |name, smallest, make| Series {
        name,
        smallest,
        make,
        command: &["check", "--jobs", "1", "drafts"],
    };
    vec![
        check("copied-from-one", 500, from_one),
        check("copied-from-ten", 500, from_ten),
        check("near-copy-length", 8_000, near_copy),
        check("near-copy-sentence", 8_000, near_sentence),
        check("near-copies", 4, near_copies),
        check("reworded-copies", 4, reworded_copies),
        check("reworded-length", 4_000, reworded_copy),
        check("equal", 50_000, equal),
        check("one-word", 10_000, one_word),
    ]
};

fn from_one(folder: &Path, size: usize) -> io::Result<()> {
    copied(folder, size, 1)
}

fn from_ten(folder: &Path, size: usize) -> io::Result<()> {
    copied(folder, size, 10)
}

/// Sentences copied in any order, each between sentences of one's own.
fn copied(folder: &Path, size: usize, sources: usize) -> io::Result<()> {
    review(folder)?;
    let prose = Prose::new();
    let mut random = Random::new(1);
    let texts: Vec<Vec<String>> = (0..sources)
        .map(|_| sentences(&prose, &mut random, 40 + size * 40 / sources))
        .collect();
    let mut draft = String::new();
    for number in 0..size {
        let text = &texts[number % sources];
        // Steps of a prime, so that neighbours in the draft are none in the source.
        let copied = &text[number / sources * 7919 % text.len()];
        let own = prose.sentence(&mut random);
        let _ = write!(draft, "{own} {copied} {}\n\n", prose.sentence(&mut random));
    }
    for (number, text) in texts.iter().enumerate() {
        let path = folder.join(format!("sources/{}.txt", key(number)));
        fs::write(path, paragraphs(text))?;
    }
    fs::write(folder.join("references.bib"), bibliography(0..sources))?;
    fs::write(folder.join("drafts/draft.md"), draft)
}

/// Near copies of one text of so many words.
fn near(
    folder: &Path,
    words: usize,
    sources: usize,
    one_in: usize,
    form: fn(&[String]) -> String,
) -> io::Result<()> {
    review(folder)?;
    let prose = Prose::new();
    let mut random = Random::new(1);
    let text = sentences(&prose, &mut random, words);
    for number in 0..sources {
        let mut near = Vec::new();
        for sentence in &text {
            near.push(reworded(&prose, &mut random, sentence, one_in));
        }
        let path = folder.join(format!("sources/{}.txt", key(number)));
        fs::write(path, form(&near))?;
    }
    fs::write(folder.join("references.bib"), bibliography(0..sources))?;
    fs::write(folder.join("drafts/draft.md"), form(&text))
}

fn near_copy(folder: &Path, size: usize) -> io::Result<()> {
    near(folder, size, 1, 6, paragraphs)
}

/// The same without a full stop: one sentence.
fn near_sentence(folder: &Path, size: usize) -> io::Result<()> {
    near(folder, size, 1, 6, |text| {
        text.join(" ").replace('.', "").to_lowercase() + ".\n"
    })
}

/// One paragraph in ever more near copies: groups of sentences grow over all of it from many sides.
fn near_copies(folder: &Path, size: usize) -> io::Result<()> {
    near(folder, 1_600, size, 6, |text| text.join(" "))
}

/// The same in ever more rewordings, without a run that is a copy by itself.
fn reworded_copies(folder: &Path, size: usize) -> io::Result<()> {
    near(folder, 1_600, size, 3, |text| text.join(" "))
}

fn reworded_copy(folder: &Path, size: usize) -> io::Result<()> {
    near(folder, size, 1, 3, paragraphs)
}

/// A draft that is one of its sources.
fn equal(folder: &Path, size: usize) -> io::Result<()> {
    review(folder)?;
    let prose = Prose::new();
    let text = paragraphs(&sentences(&prose, &mut Random::new(1), size));
    fs::write(folder.join("references.bib"), bibliography(0..1))?;
    fs::write(folder.join(format!("sources/{}.txt", key(0))), &text)?;
    fs::write(folder.join("drafts/draft.md"), text)
}

/// One word again and again, in the draft and in eleven sources.
fn one_word(folder: &Path, size: usize) -> io::Result<()> {
    review(folder)?;
    let text = "abcdefg ".repeat(size);
    for number in 0..11 {
        fs::write(folder.join(format!("sources/{}.txt", key(number))), &text)?;
    }
    fs::write(folder.join("references.bib"), bibliography(0..11))?;
    fs::write(folder.join("drafts/draft.md"), text)
}
