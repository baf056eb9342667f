use super::*;

#[test]
fn endings_name_formats() {
    let format = |path: &str| Format::of(Path::new(path));
    assert_eq!(format("a/draft.TXT").unwrap(), Format::Plain);
    assert_eq!(format("a.b/draft").unwrap(), Format::Plain);
    assert_eq!(format("draft.markdown").unwrap(), Format::Markdown);
    let message = format("draft.xyz").unwrap_err().to_string();
    assert!(message.starts_with("draft.xyz: files ending in .xyz can't be read"));
    assert!(message.ends_with(".txt, .text, .md, .markdown"));
}

#[test]
fn what_can_not_be_read_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let path = |name: &str| folder.path().join(name);
    std::fs::write(path("large.txt"), vec![b'a'; 1_000_001]).unwrap();
    std::fs::write(path("small.txt"), vec![b'a'; 1_000_000]).unwrap();
    std::fs::write(path("picture.txt"), b"\x89PNG\0\0").unwrap();
    let message = |name: &str| match read(&path(name), 1) {
        Ok(_) => String::new(),
        Err(error) => error
            .to_string()
            .replace(&*folder.path().to_string_lossy(), ""),
    };
    assert!(message("large.txt").contains("2 MB is over the limit of 1 MB"));
    assert_eq!(message("small.txt"), "");
    assert!(message("picture.txt").contains("no text file"));
    assert!(message("none.txt").contains("could not be read"));
    assert_eq!(message(""), "/: this is a folder; name the files in it");
}
