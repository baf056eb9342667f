//! The folder as a whole.

use super::*;

#[test]
fn the_nearest_folder_upward_is_found() {
    let root = tempfile::tempdir().unwrap();
    let deep = root.path().join("drafts/chapter");
    std::fs::create_dir_all(&deep).unwrap();
    assert!(matches!(
        Review::find(&deep),
        Err(ReviewError::NotFound { .. })
    ));
    std::fs::write(root.path().join(SETTINGS_FILE), "").unwrap();
    for from in [deep.join("one.md"), deep, root.path().to_owned()] {
        assert_eq!(Review::find(&from).unwrap(), root.path());
    }
}

#[test]
fn what_cannot_be_opened_says_why() {
    let root = tempfile::tempdir().unwrap();
    let gone = root.path().join("gone");
    assert!(matches!(Review::open(&gone), Err(ReviewError::Missing { path }) if path == gone));
    assert!(matches!(
        Review::open(root.path()),
        Err(ReviewError::Empty { .. })
    ));
    std::fs::write(root.path().join(SETTINGS_FILE), "run_words = 1").unwrap();
    let refused = Review::open(root.path()).unwrap_err().to_string();
    assert!(refused.contains("ownwords.toml, line 1"), "{refused}");
}

#[test]
fn named_bibliographies_come_before_the_usual_ones() {
    let files: reading::Memory = ["references.ris", "references.bib", "references.txt"]
        .into_iter()
        .map(|name| (name, ""))
        .collect();
    let here = Here {
        files: &files,
        root: Path::new(""),
    };
    let mut settings = Settings::default();
    let usual: Vec<_> = ["references.bib", "references.ris"]
        .map(PathBuf::from)
        .to_vec();
    assert_eq!(bibliography(here, &settings), usual);
    settings.references = vec![PathBuf::from("mine.bib")];
    assert_eq!(bibliography(here, &settings), [PathBuf::from("mine.bib")]);
}

/// A review folder with the given files.
fn folder(files: &[(&str, &str)]) -> tempfile::TempDir {
    let root = tempfile::tempdir().unwrap();
    for (name, content) in files {
        let path = root.path().join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, content).unwrap();
    }
    root
}

#[test]
fn the_first_review_opens_without_remarks() {
    let root = tempfile::tempdir().unwrap();
    start(root.path()).unwrap();
    let review = Review::open(root.path()).unwrap();
    assert_eq!(review.left_out, []);
    let keys: Vec<_> = review
        .sources
        .iter()
        .map(|source| source.key.as_str())
        .collect();
    assert_eq!(keys, ["harrow2019"]);
    let [entry] = review.entries.as_slice() else {
        panic!("{:?}", review.entries)
    };
    assert_eq!(entry.key, Some(Key::new("harrow2019")));
    let kinds: Vec<_> = entry.parts.iter().map(|part| part.kind).collect();
    use PartKind::{Comments, Quotations, Reference, Summary};
    assert_eq!(kinds, [Reference, Summary, Quotations, Comments]);
    let text = &review.note_files[entry.file].text.text;
    assert!(
        text.slice(entry.parts[3].range)
            .starts_with("Only lanes with hedges")
    );
    assert_eq!(
        review.relative(&root.path().join("drafts/example.md")),
        Path::new("drafts/example.md")
    );
    let around = root.path().join("sources/../drafts/example.md");
    assert_eq!(review.relative(&around), Path::new("drafts/example.md"));
    assert_eq!(
        review.relative(Path::new("elsewhere.md")),
        Path::new("elsewhere.md")
    );
}

#[test]
fn what_is_left_out_is_reported_once_and_in_order() {
    let root = folder(&[
        (
            "references.bib",
            "@misc{lind2016, title = {A}}\n@misc{tarn2001, title = {B}}\n@misc{tarn2001, title = {C}}\n@misc{open",
        ),
        ("sources/Lind2016.txt", "Nectar after dark."),
        ("sources/deep/lind2016.part2.txt", "More nectar."),
        ("sources/stranger.txt", "Unknown."),
        ("sources/blank.txt", " \n"),
        ("sources/picture.png", "\u{0}"),
        ("notes/thoughts.txt", "Just thoughts."),
        ("notes/Lind2016.md", "Nectar, she says."),
    ]);
    let review = Review::open(root.path()).unwrap();
    let sources: Vec<_> = review
        .sources
        .iter()
        .map(|source| (source.key.as_str(), source.path.as_path()))
        .collect();
    let wanted = [
        ("lind2016", Path::new("sources/Lind2016.txt")),
        ("lind2016", Path::new("sources/deep/lind2016.part2.txt")),
        ("stranger", Path::new("sources/stranger.txt")),
    ];
    assert_eq!(sources, wanted);
    assert_eq!(review.entries.len(), 1);
    assert_eq!(review.entries[0].key, Some(Key::new("lind2016")));
    let reported: Vec<_> = review
        .left_out
        .iter()
        .map(|left| left.what.as_str())
        .collect();
    let wanted = [
        "notes/thoughts.txt",
        "references.bib",
        "references.bib",
        "sources/blank.txt",
        "sources/deep/lind2016.part2.txt",
        "sources/picture.png",
        "sources/stranger.txt",
        "tarn2001",
    ];
    assert_eq!(reported, wanted);
    let here = root.path().display().to_string();
    assert!(
        review
            .left_out
            .iter()
            .all(|left| !left.why.to_string().contains(&here)),
        "the file is named once: {:?}",
        review.left_out
    );
}

#[test]
fn wishes_of_the_command_line_win() {
    let root = folder(&[
        ("ownwords.toml", "run_words = 9\nsources = \"texts\""),
        ("texts/a.txt", "Moths."),
    ]);
    let wishes = Options::default().with("run_words", Value::Number(5));
    let review = Review::open_from(Arc::new(reading::Disk::new()), root.path(), &wishes).unwrap();
    assert_eq!((review.settings.run_words, review.sources.len()), (5, 1));
}
