//! Halves of characters in JSON. A character beyond the first 65,536 is written as two escapes (`\ud83c\udf19`), and
//! programs that cut titles by length may leave one of them. That is no JSON, and its parser would give up the whole
//! file.

use super::files::Problem;

/// The source with the replacement character (U+FFFD) for each half without its partner, and what is to be said of
/// that; `None` where there is none. Nothing moves, since all escapes have one length.
pub(super) fn mended(source: &str) -> Option<(String, Problem)> {
    let places = lone_halves(source.as_bytes());
    let first = *places.first()?;
    let mut mended = source.to_owned();
    for place in &places {
        // An escape is ASCII from end to end.
        mended.replace_range(*place..*place + ESCAPE, "\\ufffd");
    }
    let line = 1 + memchr::memchr_iter(b'\n', source.get(..first)?.as_bytes()).count();
    let more = match places.len() - 1 {
        0 => String::new(),
        1 => ", as was another one further on".to_owned(),
        more => format!(", as were {more} more further on"),
    };
    let half = source.get(first..first + ESCAPE)?;
    let why = format!(
        "half of a character ({half}) stands here and was read as U+FFFD{more}; correct the reference in your reference manager and export the references again"
    );
    Some((mended, Problem { line, why }))
}

/// The length of `\u0000`.
const ESCAPE: usize = 6;

/// Where halves without their partner begin.
fn lone_halves(source: &[u8]) -> Vec<usize> {
    let mut places = Vec::new();
    let mut at = 0;
    while let Some(found) = source
        .get(at..)
        .and_then(|rest| memchr::memchr(b'\\', rest))
    {
        at += found;
        at += match (unit(source, at), unit(source, at + ESCAPE)) {
            (Some(0xD800..=0xDBFF), Some(0xDC00..=0xDFFF)) => 2 * ESCAPE,
            (Some(0xD800..=0xDFFF), _) => {
                places.push(at);
                ESCAPE
            }
            // A backslash and what it escapes, which may be one too.
            _ => 2,
        };
    }
    places
}

/// The number that an escape at a place stands for.
fn unit(source: &[u8], at: usize) -> Option<u16> {
    let digits = source.get(at..at + ESCAPE)?.strip_prefix(b"\\u")?;
    if !digits.iter().all(u8::is_ascii_hexdigit) {
        return None;
    }
    u16::from_str_radix(std::str::from_utf8(digits).ok()?, 16).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn halves_are_replaced_and_whole_characters_stay() {
        for (source, expected) in [
            (r#"["a\ud800b"]"#, Some(r#"["a\ufffdb"]"#)),
            (r#"["\uDC00"]"#, Some(r#"["\ufffd"]"#)),
            (
                r#"["\ud83c\ud83c\udf19"]"#,
                Some(r#"["\ufffd\ud83c\udf19"]"#),
            ),
            (r#"["\udf19\ud83c"]"#, Some(r#"["\ufffd\ufffd"]"#)),
            (r#"["\ud83c\udf19"]"#, None),
            (r#"["\\ud800", "\u00e9", "é"]"#, None),
            (r#"["\\\ud800"]"#, Some(r#"["\\\ufffd"]"#)),
            (r#"["\ud8"#, None),
            ("\\", None),
        ] {
            let found = mended(source).map(|(text, _)| text);
            assert_eq!(found.as_deref(), expected, "{source}");
        }
    }

    #[test]
    fn the_first_one_is_named() {
        let reported = |source: &str| mended(source).unwrap().1;
        let one = reported("[\n\"é\\ud800\"]");
        assert_eq!(one.line, 2);
        assert!(
            one.why
                .starts_with(r"half of a character (\ud800) stands here and was read as U+FFFD; ")
        );
        assert!(
            reported(r#""\ud800\ud801\udc""#)
                .why
                .contains("as was another one")
        );
        assert!(
            reported(r#""\ud800\ud801\ud802""#)
                .why
                .contains("as were 2 more")
        );
    }
}
