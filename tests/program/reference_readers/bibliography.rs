//! `ownwords bibliography` for a word processor, as LibreOffice reads it.

use std::fs;
use std::process::Command;

use crate::bibliography::{assert_whole, written};

/// A word processor opens the file and finds the references, indented, and the parts in it.
#[test]
fn a_word_processor_opens_the_file() {
    let (folder, path) = written("bibliography.docx", &[]);
    let profile = format!(
        "-env:UserInstallation=file://{}",
        folder.path().join("profile").display()
    );
    let convert = |to: &str| {
        let converted = Command::new("soffice")
            .args([&profile, "--headless", "--convert-to", to, "--outdir"])
            .arg(folder.path())
            .arg(&path)
            .output()
            .unwrap_or_else(|error| {
                panic!(
                    "soffice could not be started ({error}); install the package libreoffice-writer"
                )
            });
        assert!(
            converted.status.success(),
            "{}",
            String::from_utf8_lossy(&converted.stderr)
        );
    };
    convert("txt:Text (encoded):UTF8");
    let text = fs::read_to_string(path.with_extension("txt")).unwrap();
    assert_whole(&text);
    convert("fodt");
    let flat = fs::read_to_string(path.with_extension("fodt")).unwrap();
    assert!(
        flat.contains("fo:text-indent=\"-0.5in\"") || flat.contains("fo:text-indent=\"-1.27cm\""),
        "no hanging indent"
    );
    assert!(flat.contains("fo:font-style=\"italic\""), "no italics");
}
