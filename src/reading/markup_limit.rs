//! How many line ends and signs of markup a text file has. Readers keep something for each of them, so these,
//! and not the bytes, decide how much memory a file takes: a hundred megabytes of prose need a quarter of a
//! gigabyte, a hundred megabytes of asterisks twenty times that.

use super::{Format, Limits, Unreadable};

/// The signs, besides line ends, at which the reader of a format stops. In HTML the tree is counted instead.
fn signs(format: Format) -> &'static [u8] {
    match format {
        Format::Markdown => b"*_~&\\[]<`|",
        Format::Latex => b"\\%$~&-`'{}",
        Format::Rst => b"*`[|\\:_",
        Format::Org => b"[*/_+=~\\@",
        _ => b"",
    }
}

/// The line ends and signs of a text.
pub(super) fn count(content: &str, format: Format) -> usize {
    let mut counts = [false; 256];
    for byte in signs(format).iter().chain(b"\n\r") {
        if let Some(slot) = counts.get_mut(usize::from(*byte)) {
            *slot = true;
        }
    }
    let is_counted = |byte: &u8| counts.get(usize::from(*byte)).copied().unwrap_or_default();
    content.bytes().filter(is_counted).count()
}

/// Checks a text before it is read.
///
/// # Errors
/// [`Unreadable::OverLimit`] where there are more than the limits allow.
pub(super) fn check(content: &str, format: Format, limits: &Limits) -> Result<(), Unreadable> {
    // Each is at least a byte.
    if content.len() <= limits.text_marks || count(content, format) <= limits.text_marks {
        return Ok(());
    }
    Err(too_many(limits))
}

/// The error for a file with more than the limits allow.
pub(super) fn too_many(limits: &Limits) -> Unreadable {
    Unreadable::OverLimit {
        what: format!(
            "it has more than {} line ends and signs of markup",
            limits.text_marks
        ),
        setting: "max_text_marks",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn line_ends_and_signs_count() {
        let text = "*a* \\b{c}\r\n- d\n";
        for (format, expected) in [
            (Format::Plain, 3),
            (Format::Html, 3),
            (Format::Markdown, 6),
            (Format::Latex, 7),
            (Format::Org, 6),
            (Format::Rst, 6),
        ] {
            assert_eq!(count(text, format), expected, "{format:?}");
        }
        let limits = |text_marks| Limits {
            text_marks,
            ..Limits::default()
        };
        assert!(check(text, Format::Plain, &limits(3)).is_ok());
        assert!(check(text, Format::Plain, &limits(2)).is_err());
    }
}
