//! Puts expressions on the shared list, each at its place in the alphabet; every other line stays as it is.

use std::path::Path;

use super::super::decisions::{DecisionsError, replace_file};
use super::{TERMS_FILE, parse};

const HEAD: &str = "# Fixed expressions of the field, one on each line. Lines with # are remarks.\n\
    # `ownwords settle --term EXPRESSION` adds one; to take one out, delete its line.\n";

/// Adds expressions to the list; gives back those that were not there before.
///
/// # Errors
/// [`DecisionsError`] where the file can't be read, locked or written.
pub fn add_terms(root: &Path, terms: &[String]) -> Result<Vec<String>, DecisionsError> {
    let path = root.join(TERMS_FILE);
    replace_file(root, &path, |old| {
        let mut new = if old.is_empty() {
            HEAD.to_owned()
        } else {
            old.to_owned()
        };
        let mut added = Vec::new();
        for term in terms {
            let folded = term.to_lowercase();
            if parse(&new)
                .iter()
                .any(|there| there.to_lowercase() == folded)
            {
                continue;
            }
            insert(&mut new, term, &folded);
            added.push(term.clone());
        }
        Ok((new, added))
    })
}

/// Puts a line before the first that comes after it in the alphabet.
fn insert(content: &mut String, term: &str, folded: &str) {
    if !content.ends_with('\n') {
        content.push('\n');
    }
    let mut at = 0;
    for line in content.split_inclusive('\n') {
        let there = line.trim();
        if !there.is_empty() && !there.starts_with('#') && there.to_lowercase().as_str() > folded {
            break;
        }
        at += line.len();
    }
    content.insert_str(at, &format!("{term}\n"));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn terms_are_added_once_in_order_and_remarks_stay() {
        let folder = tempfile::tempdir().unwrap();
        let add = |terms: &[&str]| {
            let terms: Vec<String> = terms.iter().map(|&term| term.to_owned()).collect();
            add_terms(folder.path(), &terms).unwrap()
        };
        assert_eq!(
            add(&["trap night", "Lamp hour"]),
            ["trap night", "Lamp hour"]
        );
        assert_eq!(add(&["lamp hour"]), Vec::<String>::new());
        let path = folder.path().join(TERMS_FILE);
        let with_remark = std::fs::read_to_string(&path).unwrap() + "# of the agency\nwatt\n";
        std::fs::write(&path, with_remark).unwrap();
        assert_eq!(add(&["moth"]), ["moth"]);
        let content = std::fs::read_to_string(&path).unwrap();
        assert_eq!(
            content,
            format!("{HEAD}Lamp hour\nmoth\ntrap night\n# of the agency\nwatt\n")
        );
        assert_eq!(parse(&content), ["Lamp hour", "moth", "trap night", "watt"]);
    }
}
