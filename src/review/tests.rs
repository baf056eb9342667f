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
    let root = tempfile::tempdir().unwrap();
    for name in ["references.ris", "references.bib", "references.txt"] {
        std::fs::write(root.path().join(name), "").unwrap();
    }
    let mut settings = Settings::default();
    let usual: Vec<_> = ["references.bib", "references.ris"]
        .map(PathBuf::from)
        .to_vec();
    assert_eq!(bibliography(root.path(), &settings), usual);
    settings.references = vec![PathBuf::from("mine.bib")];
    assert_eq!(
        bibliography(root.path(), &settings),
        [PathBuf::from("mine.bib")]
    );
}
