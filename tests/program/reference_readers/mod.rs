//! Tests that need readers and writers of documents which nobody here wrote: `pandoc` and `soffice` (Debian:
//! pandoc, libreoffice-writer). They are compiled with the feature `reference-readers` only, which
//! `tests/run` turns on, so that `cargo test` alone passes on any machine. With the feature on and a
//! program missing they fail.

mod bibliography;
mod margin;
mod office;

use std::path::Path;
use std::process::Command;

/// Runs one of these programs in a folder, which is its home as well, so that runs beside one another
/// don't share a profile.
fn outside(program: &str, arguments: &[&str], folder: &Path) {
    let output = Command::new(program)
        .args(arguments)
        .current_dir(folder)
        .env("HOME", folder)
        .output()
        .unwrap_or_else(|cause| panic!("{program} is needed for this test: {cause}"));
    assert!(
        output.status.success(),
        "{program} {arguments:?}: {output:?}"
    );
}
