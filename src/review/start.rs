//! Lays out a new review folder with one worked example, so that a first check has something to show.

use std::fs;
use std::io::Write as _;
use std::path::{Path, PathBuf};

use super::{SETTINGS_FILE, Settings};
use crate::unfinished::Unfinished;

/// Why a review folder could not be laid out.
#[derive(Debug, thiserror::Error)]
pub enum StartError {
    /// Something is in the folder already.
    #[error("{}: this folder is not empty; nothing was written. Name a new folder, or an empty one", path.display())]
    NotEmpty {
        /// The folder as named.
        path: PathBuf,
    },
    /// A file stands where the folder should be.
    #[error("{}: this is a file; nothing was written. Name a new folder, or an empty one", path.display())]
    NoFolder {
        /// The file as named.
        path: PathBuf,
    },
    /// The file system refused.
    #[error("{}: could not be written ({cause}); check that you may write there and that there is room", path.display())]
    Io {
        /// The file or folder.
        path: PathBuf,
        /// What the system said.
        cause: std::io::Error,
    },
}

/// The files of the worked example: invented texts on part-night street lighting. The draft copies one
/// sentence, has lost the quotation marks of another, and gives one quotation without its page.
const EXAMPLE: [(&str, &str); 4] = [
    ("references.bib", include_str!("example/references.bib")),
    ("sources/harrow2019.txt", include_str!("example/source.txt")),
    ("notes/entries.md", include_str!("example/notes.md")),
    ("drafts/example.md", include_str!("example/draft.md")),
];

/// Lays out a review folder: settings, references, sources, notes and a draft. The result names the files
/// in the order in which they were written. Each file is written beside its place and then moved there,
/// so that none is ever half written; nothing that exists is replaced.
///
/// # Errors
/// [`StartError`] where the folder exists and is not empty, or where writing fails.
pub fn start(folder: &Path) -> Result<Vec<PathBuf>, StartError> {
    refuse_what_exists(folder)?;
    let template = Settings::template();
    let settings = std::iter::once((SETTINGS_FILE, template.as_str()));
    settings
        .chain(EXAMPLE)
        .map(|(name, content)| {
            let path = folder.join(name);
            match write(&path, content) {
                Ok(()) => Ok(path),
                Err(cause) => Err(StartError::Io { path, cause }),
            }
        })
        .collect()
}

fn refuse_what_exists(folder: &Path) -> Result<(), StartError> {
    let path = || folder.to_owned();
    match fs::read_dir(folder) {
        Ok(mut inside) => match inside.next() {
            None => Ok(()),
            Some(_) => Err(StartError::NotEmpty { path: path() }),
        },
        Err(cause) if cause.kind() == std::io::ErrorKind::NotFound => Ok(()),
        Err(_) if folder.is_file() => Err(StartError::NoFolder { path: path() }),
        Err(cause) => Err(StartError::Io {
            path: path(),
            cause,
        }),
    }
}

fn write(path: &Path, content: &str) -> std::io::Result<()> {
    let folder = path.parent().unwrap_or(Path::new("."));
    fs::create_dir_all(folder)?;
    let mut builder = tempfile::Builder::new();
    // temporary files are private to their owner; these are to be as open as any file the user makes
    #[cfg(unix)]
    let builder = {
        use std::os::unix::fs::PermissionsExt as _;
        builder.permissions(fs::Permissions::from_mode(0o666))
    };
    let mut file = Unfinished::new(builder.prefix(".ownwords-"), folder)?;
    file.write_all(content.as_bytes())?;
    file.into_place(path, false)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_new_folder_is_laid_out() {
        let root = tempfile::tempdir().unwrap();
        let folder = root.path().join("review");
        let written = start(&folder).unwrap();
        assert_eq!(written.len(), 1 + EXAMPLE.len());
        for path in &written {
            assert!(
                fs::read_to_string(path).is_ok_and(|content| !content.is_empty()),
                "{}",
                path.display()
            );
        }
        let settings = Settings::open(
            &crate::reading::Disk::new(),
            &folder,
            &crate::review::Options::default(),
        )
        .unwrap();
        assert_eq!(settings, Settings::default());
    }

    #[test]
    fn what_exists_is_left_alone() {
        let root = tempfile::tempdir().unwrap();
        fs::write(root.path().join("thesis.md"), "mine").unwrap();
        let refused = start(root.path()).unwrap_err();
        assert!(matches!(refused, StartError::NotEmpty { .. }), "{refused}");
        assert_eq!(fs::read_dir(root.path()).unwrap().count(), 1);
        let refused = start(&root.path().join("thesis.md")).unwrap_err();
        assert!(matches!(refused, StartError::NoFolder { .. }), "{refused}");
        let refused = start(&root.path().join("thesis.md/below")).unwrap_err();
        assert!(matches!(refused, StartError::Io { .. }), "{refused}");
        assert!(start(&root.path().join("empty/new")).is_ok());
    }

    /// The draft has to hold what its description promises.
    #[test]
    fn the_example_shows_what_it_promises() {
        let [_, (_, source), (_, notes), (_, draft)] = EXAMPLE;
        let copied = "witching off at midnight therefore helps the late fliers and does little for the early ones";
        let quoted = "A lamp that stays dark until ten o'clock would protect more visits to flowers than a lamp that goes dark at midnight.";
        let term = "the forgotten half of part-night lighting";
        for words in [copied, quoted, term] {
            assert!(source.contains(words) && draft.contains(words), "{words}");
        }
        assert!(notes.contains(&format!("\"{quoted}\" (p. 114)")));
        assert!(draft.contains(&format!("\"{term}\" (Harrow & Okoro, 2019)")));
        assert!(!draft.contains(&format!("\"{quoted}")));
    }
}
