//! Files of the review: their names as shown, and the plain text of those that are read whole.

use std::path::{Path, PathBuf};

use crate::reading::{self, Limits};
use crate::text::Text;

/// A path relative to the review folder, with forward slashes on every system, as reports show it.
pub(super) fn shown(root: &Path, path: &Path) -> String {
    let relative = path.strip_prefix(root).unwrap_or(path);
    relative.to_string_lossy().replace('\\', "/")
}

/// The text of a small file: UTF-8, or UTF-16 with a byte-order mark, else Windows-1252, which gives every byte a character; the second
/// value is a remark about that.
pub(super) fn text_of(path: &Path, limit_mb: u64) -> Result<(String, Option<String>), String> {
    let refused = |cause: std::io::Error| {
        format!("could not be read ({cause}); check that the file exists and that you may open it")
    };
    let size_mb = std::fs::metadata(path)
        .map_err(refused)?
        .len()
        .div_ceil(1_000_000);
    if size_mb > limit_mb {
        return Err(format!(
            "{size_mb} MB is over the limit of {limit_mb} MB; raise max_file_mb in ownwords.toml or split the file"
        ));
    }
    let bytes = std::fs::read(path).map_err(refused)?;
    if let Some((encoding, _)) = encoding_rs::Encoding::for_bom(&bytes) {
        let (text, _) = encoding.decode_with_bom_removal(&bytes);
        return Ok((with_line_feeds(text.into_owned()), None));
    }
    match String::from_utf8(bytes) {
        Ok(text) => Ok((with_line_feeds(text), None)),
        Err(error) => {
            let (text, _) = encoding_rs::WINDOWS_1252.decode_without_bom_handling(error.as_bytes());
            let remark =
                "this is no UTF-8; it was read as Windows-1252, so check the accents in names"
                    .to_owned();
            Ok((with_line_feeds(text.into_owned()), Some(remark)))
        }
    }
}

/// CRLF, CR and NEL become line feeds, which are what lines are counted by.
fn with_line_feeds(text: String) -> String {
    if !text.contains(['\r', '\u{85}']) {
        return text;
    }
    text.replace("\r\n", "\n").replace(['\r', '\u{85}'], "\n")
}

/// A document of the review and the remarks of its reader; an error says why it can't be used, without
/// the file's name, which is shown beside it.
pub(super) fn read_text(
    root: &Path,
    path: &Path,
    limits: &Limits,
) -> Result<(Text, Vec<String>), String> {
    let full = root.join(path);
    let read = reading::read(&full, limits).map_err(|error| error.why(&full))?;
    if read.text.content().trim().is_empty() {
        return Err(
            "holds no text that can be read; if it is a scan, have its text recognised first, else leave the file out"
                .to_owned(),
        );
    }
    Ok((read.text, read.remarks))
}

/// The files of a folder and its sub-folders, sorted, relative to the review folder. Hidden files,
/// leftovers of editors, pipes and links to folders are passed over: a link may lead back up, and then the
/// walk would not end. `None` where the folder can't be listed.
pub(super) fn walk(root: &Path, folder: &Path) -> Option<Vec<PathBuf>> {
    let mut files = Vec::new();
    let mut folders = vec![folder.to_owned()];
    let mut first = true;
    while let Some(folder) = folders.pop() {
        let entries = match std::fs::read_dir(root.join(&folder)) {
            Ok(entries) => entries,
            Err(_) if first => return None,
            Err(_) => continue,
        };
        first = false;
        for entry in entries.flatten() {
            let name = entry.file_name();
            let text = name.to_string_lossy();
            if text.starts_with('.') || text.starts_with("~$") || text.ends_with('~') {
                continue;
            }
            let path = folder.join(&name);
            match entry.file_type() {
                Ok(kind) if kind.is_dir() => folders.push(path),
                Ok(kind) if kind.is_file() => files.push(path),
                // One that leads nowhere is kept, so that its reader reports it.
                Ok(kind) if kind.is_symlink() => {
                    let may_be_read =
                        std::fs::metadata(root.join(&path)).map_or(true, |target| target.is_file());
                    files.extend(may_be_read.then_some(path));
                }
                // A pipe or a socket: to read it could take for ever.
                Ok(_) => {}
                Err(_) => {}
            }
        }
    }
    files.sort();
    Some(files)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn folders_are_walked_in_order_without_hidden_files() {
        let root = tempfile::tempdir().unwrap();
        let sources = root.path().join("sources");
        std::fs::create_dir_all(sources.join("b/deep")).unwrap();
        for name in [
            "z.txt",
            "a.txt",
            "b/x.txt",
            "b/deep/y.md",
            ".hidden",
            "~$a.docx",
            "a.txt~",
        ] {
            std::fs::write(sources.join(name), "x").unwrap();
        }
        #[cfg(unix)]
        {
            std::os::unix::fs::symlink(&sources, sources.join("loop")).unwrap();
            std::os::unix::fs::symlink(sources.join("a.txt"), sources.join("link.txt")).unwrap();
            std::os::unix::fs::symlink("nowhere", sources.join("gone.txt")).unwrap();
        }
        let found = walk(root.path(), Path::new("sources")).unwrap();
        let shown: Vec<_> = found.iter().map(|path| shown(root.path(), path)).collect();
        let mut wanted = vec![
            "sources/a.txt",
            "sources/b/deep/y.md",
            "sources/b/x.txt",
            "sources/gone.txt",
            "sources/link.txt",
            "sources/z.txt",
        ];
        if !cfg!(unix) {
            wanted.retain(|name| !name.contains("link") && !name.contains("gone"));
        }
        assert_eq!(shown, wanted);
        assert_eq!(walk(root.path(), Path::new("none")), None);
    }
}
