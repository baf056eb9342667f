//! The demo review, which a desk opens from a button.

/// Its files, each with its path in the review.
pub(super) const FILES: &[(&str, &[u8])] = &demo();

macro_rules! files {
    ($($path:literal),* $(,)?) => {
        [$(($path, include_bytes!(concat!(env!("CARGO_MANIFEST_DIR"), "/corpus-demo/", $path)))),*]
    };
}

const fn demo() -> [(&'static str, &'static [u8]); 29] {
    files![
        "ownwords.toml",
        "decisions.toml",
        "references.bib",
        "drafts/preface.md",
        "drafts/chapter-1.md",
        "drafts/chapter-2.md",
        "drafts/chapter-3.md",
        "earlier/chapter-3.md",
        "notes/achterwold2022.md",
        "notes/corrow2018.md",
        "notes/dunmallow2016.md",
        "notes/harrow2014.md",
        "notes/hedgerow-papers.md",
        "notes/kettlewick2017.md",
        "notes/lindgarth2021.md",
        "notes/reading-diary.md",
        "notes/tarnley2022.md",
        "sources/achterwold2022.txt",
        "sources/corrow2018.txt",
        "sources/dunmallow2016.txt",
        "sources/eveninggarden2022.md",
        "sources/harrow2014.txt",
        "sources/harrow2019a.txt",
        "sources/harrow2019b.txt",
        "sources/ilvane2015.md",
        "sources/kettlewick2017.txt",
        "sources/lindgarth2021.txt",
        "sources/mbeleni2023.txt",
        "sources/tarnley2022.md",
    ]
}
