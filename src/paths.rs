//! How a path is written where it outlives the run or leaves the machine: in JSON, SARIF, the page, every other
//! report, and the file of decisions.
//!
//! There it has forward slashes on every system, so that a review shared between systems keeps its decisions
//! and reports of it can be compared. What only a system can answer for, a file that can't be opened, is named
//! as it was typed instead (`Path::display`).

use std::fmt::Write as _;
use std::path::{MAIN_SEPARATOR, Path};

/// A path with forward slashes. Bytes that are no Unicode become replacement characters.
#[must_use]
pub(crate) fn portable(path: &Path) -> String {
    with_slashes(&path.to_string_lossy(), MAIN_SEPARATOR)
}

/// A path as a URI reference (RFC 3986): relative ones stay relative to where the command ran.
#[must_use]
pub(crate) fn uri(path: &Path) -> String {
    uri_of(&portable(path), path.is_absolute())
}

/// A backslash is a letter like any other where it separates nothing. Where it does, a verbatim path
/// (`\\?\C:\`, as systems answer when asked for the full path) becomes a usual one.
fn with_slashes(path: &str, separator: char) -> String {
    if separator == '/' {
        return path.to_owned();
    }
    let usual = match path.strip_prefix(r"\\?\UNC\") {
        Some(share) => format!(r"\\{share}"),
        None => path.strip_prefix(r"\\?\").unwrap_or(path).to_owned(),
    };
    usual.replace(separator, "/")
}

/// The URI of a path with forward slashes: `file:///home/a`, `file:///C:/a`, `file://server/share/a`, `a/b`.
fn uri_of(path: &str, absolute: bool) -> String {
    if !absolute {
        let steps = path.split('/').filter(|step| !matches!(*step, "" | "."));
        return joined(steps);
    }
    match path.strip_prefix("//") {
        Some(share) => format!("file://{}", joined(share.split('/'))),
        None => {
            let steps = path.split('/').filter(|step| !matches!(*step, "" | "."));
            let (drive, rest) = match path.split_once('/') {
                Some((drive, _)) if drive.ends_with(':') => {
                    (format!("/{drive}"), joined(steps.skip(1)))
                }
                _ => (String::new(), joined(steps)),
            };
            format!("file://{drive}/{rest}")
        }
    }
}

fn joined<'a>(steps: impl Iterator<Item = &'a str>) -> String {
    steps.map(escaped).collect::<Vec<_>>().join("/")
}

/// A step of a path with everything escaped that is not unreserved (RFC 3986, 2.3).
fn escaped(step: &str) -> String {
    let mut written = String::new();
    for byte in step.bytes() {
        if byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'.' | b'_' | b'~') {
            written.push(char::from(byte));
        } else {
            let _ = write!(written, "%{byte:02X}");
        }
    }
    written
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_has_slashes() {
        assert_eq!(
            portable(&Path::new("drafts").join("chapter.md")),
            "drafts/chapter.md"
        );
    }

    #[test]
    fn separators_become_slashes_where_they_separate() {
        let cases = [
            (r"drafts\chapter 1.md", '\\', "drafts/chapter 1.md"),
            (r"drafts\old/chapter.md", '\\', "drafts/old/chapter.md"),
            (r"C:\review\a.md", '\\', "C:/review/a.md"),
            (r"\\?\C:\review\a.md", '\\', "C:/review/a.md"),
            (r"\\?\UNC\server\share\a.md", '\\', "//server/share/a.md"),
            (r"\\server\share\a.md", '\\', "//server/share/a.md"),
            ("drafts/chapter.md", '\\', "drafts/chapter.md"),
            ("drafts/chapter.md", '/', "drafts/chapter.md"),
            // Here it is a letter of the file's name.
            (r"drafts/a\b.md", '/', r"drafts/a\b.md"),
        ];
        for (path, separator, expected) in cases {
            assert_eq!(with_slashes(path, separator), expected, "{path}");
        }
    }

    #[test]
    fn uris_on_every_system() {
        let cases = [
            ("drafts/chapter 1.md", false, "drafts/chapter%201.md"),
            ("./a.md", false, "a.md"),
            ("../a.md", false, "../a.md"),
            ("/home/a b/c.md", true, "file:///home/a%20b/c.md"),
            ("/a.md", true, "file:///a.md"),
            ("C:/review/a b.md", true, "file:///C:/review/a%20b.md"),
            ("//server/share/ä.md", true, "file://server/share/%C3%A4.md"),
            ("C:", false, "C%3A"),
        ];
        for (path, absolute, expected) in cases {
            assert_eq!(uri_of(path, absolute), expected, "{path}");
        }
    }
}
