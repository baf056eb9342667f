//! A copy is sound or it is not written.
//!
//! 1. A part that is to be changed must be well-formed as it is ([`well_formed`]): nobody could say
//!    what becomes of one that isn't.
//! 2. What is written is UTF-8, so a part that says it is something else says so no longer ([`in_utf8`]).
//! 3. The copy is opened again and each changed part read from it: it must be well-formed too, and the part before but
//!    for what was added ([`sameness`](super::sameness)).

use std::collections::BTreeMap;

use super::sameness::{IsOurs, difference};
use super::{MarginError, well_formed};
use crate::reading::package::{Package, Room};

/// A part that differs in the copy.
pub(super) struct Changed {
    /// As it was; `None` for a new one.
    pub before: Option<String>,
    /// As it is to be.
    pub after: String,
}

impl Changed {
    /// A part that was there.
    pub(super) fn of(before: String, after: String) -> Self {
        let before = Some(before);
        Self { before, after }
    }
}

/// The package with the changed parts, if that is a sound copy. `is_ours` says which elements were added.
pub(super) fn copy(
    package: Package,
    changed: BTreeMap<String, Changed>,
    is_ours: IsOurs<'_>,
) -> Result<Vec<u8>, MarginError> {
    let mut before = BTreeMap::new();
    let mut after = BTreeMap::new();
    for (name, part) in changed {
        if let Some(fault) = part.before.as_deref().and_then(well_formed::fault) {
            let part = name;
            return Err(MarginError::Broken { part, fault });
        }
        let content = in_utf8(&name, part.before.as_deref(), part.after)?;
        before.insert(name.clone(), part.before);
        after.insert(name, content);
    }
    let copy = package.with(after)?;
    // What was read once has had its limits; the copy is our own.
    let room = Room {
        members: usize::MAX,
        part_bytes: u64::MAX,
        all_bytes: u64::MAX,
        ratio: u64::MAX,
        ratio_from: u64::MAX,
    };
    let mut written = Package::open(copy.clone(), "word processor's", room)?;
    for (name, before) in before {
        let fault = fault_of(&mut written, &name, before.as_deref(), is_ours)?;
        if let Some(fault) = fault {
            let part = name;
            return Err(MarginError::Unsound { part, fault });
        }
    }
    Ok(copy)
}

fn fault_of(
    written: &mut Package,
    name: &str,
    before: Option<&str>,
    is_ours: IsOurs<'_>,
) -> Result<Option<String>, MarginError> {
    let Some(after) = written.part(name)? else {
        return Ok(Some("it is not in the copy".to_owned()));
    };
    let fault = well_formed::fault(&after);
    match (fault, before) {
        (None, Some(before)) => Ok(difference(name, before, &after, is_ours)?),
        (fault, _) => Ok(fault),
    }
}

/// The changed part declared as UTF-8, which it will be written in. One that was read as UTF-8 against its own word is
/// refused: word processors show other characters than those that were checked.
fn in_utf8(name: &str, before: Option<&str>, after: String) -> Result<String, MarginError> {
    let Some((at, encoding)) = declared(&after) else {
        return Ok(after);
    };
    let lower = encoding.to_ascii_lowercase();
    if lower == "utf-8" {
        return Ok(after);
    }
    // Their bytes are read by the byte-order mark.
    let is_wide = lower.starts_with("utf-16") || lower == "iso-10646-ucs-2";
    let goes_on_from_ascii = ["us-ascii", "ascii", "utf8", "iso-8859-", "windows-125"];
    let is_ascii = before.is_none_or(str::is_ascii)
        && goes_on_from_ascii
            .iter()
            .any(|known| lower.starts_with(known));
    if !is_wide && !is_ascii {
        return Err(MarginError::Broken {
            part: name.to_owned(),
            fault: format!("it says that it is in {encoding}, and is in UTF-8"),
        });
    }
    let mut declared = after;
    declared.replace_range(at..at + encoding.len(), "UTF-8");
    Ok(declared)
}

/// The encoding that a part says it is in, and where it says so.
fn declared(part: &str) -> Option<(usize, String)> {
    let skipped = part.len() - part.trim_start_matches('\u{FEFF}').len();
    let declaration = part.get(skipped..)?.strip_prefix("<?xml")?;
    let declaration = declaration.get(..declaration.find("?>")?)?;
    let behind = declaration.split_once("encoding")?.1;
    let value = behind.trim_start().strip_prefix('=')?.trim_start();
    let quote = value.chars().next().filter(|c| matches!(c, '"' | '\''))?;
    let value = value.get(1..)?;
    let encoding = value.get(..value.find(quote)?)?;
    let before = declaration.len() - value.len();
    let at = skipped + "<?xml".len() + before;
    Some((at, encoding.to_owned()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn assert_declared(before: &str, expected: Option<&str>) {
        let after = before.replace("<a/>", "<a>é</a>");
        let done = in_utf8("part.xml", Some(before), after);
        assert_eq!(done.as_deref().ok(), expected, "{before}");
    }

    #[test]
    fn parts_say_that_they_are_in_utf8() {
        for (before, expected) in [
            ("<a/>", Some("<a>é</a>")),
            (
                "<?xml version=\"1.0\"?><a/>",
                Some("<?xml version=\"1.0\"?><a>é</a>"),
            ),
            (
                "\u{FEFF}<?xml version='1.0' encoding='utf-16' standalone='yes'?><a/>",
                Some("\u{FEFF}<?xml version='1.0' encoding='UTF-8' standalone='yes'?><a>é</a>"),
            ),
            (
                "<?xml version=\"1.0\" encoding = \"UTF-16LE\"?><b>ö</b>",
                Some("<?xml version=\"1.0\" encoding = \"UTF-8\"?><b>ö</b>"),
            ),
            (
                "<?xml version=\"1.0\" encoding=\"ISO-8859-1\"?><a/>",
                Some("<?xml version=\"1.0\" encoding=\"UTF-8\"?><a>é</a>"),
            ),
            (
                "<?xml version=\"1.0\" encoding=\"ISO-8859-1\"?><b>ö</b>",
                None,
            ),
            ("<?xml version=\"1.0\" encoding=\"UTF-7\"?><a/>", None),
        ] {
            assert_declared(before, expected);
        }
    }
}
