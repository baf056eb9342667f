//! Cuts a BibTeX file into its entries by counting braces, so that one bad entry loses only itself.

/// One `@kind{...}` of a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Piece<'s> {
    /// Byte of its `@`.
    pub(super) start: usize,
    /// Its kind as written, such as `article`.
    pub(super) kind: &'s str,
    /// What stands between its outer braces or parentheses; `None` where they never close.
    pub(super) body: Option<&'s str>,
}

/// The pieces of a file in order. Everything between them is comment, as in BibTeX, and so is the rest
/// of a line behind `%` between entries. Where an entry never closes, reading goes on with the next line
/// that begins like an entry.
pub(super) fn split(source: &str) -> Vec<Piece<'_>> {
    let mut pieces = Vec::new();
    let mut at = 0;
    while let Some(start) = next_entry(source, at) {
        // `start` is the byte of an ASCII '@', so cutting behind it is safe
        let rest = source.get(start + 1..).unwrap_or_default();
        let kind_end = rest
            .find(|letter: char| !letter.is_ascii_alphanumeric())
            .unwrap_or(rest.len());
        let (kind, behind) = rest.split_at(kind_end);
        let opening = behind.trim_start();
        let skipped = behind.len() - opening.len();
        let open = opening.chars().next();
        let inner_start = start + 1 + kind_end + skipped + 1;
        if kind.is_empty() || !matches!(open, Some('{' | '(')) {
            at = start + 1;
            continue;
        }
        let inner = source.get(inner_start..).unwrap_or_default();
        match closing(inner, open == Some('(')) {
            Some(end) => {
                let body = inner.get(..end);
                pieces.push(Piece { start, kind, body });
                at = inner_start + end + 1;
            }
            None => {
                pieces.push(Piece {
                    start,
                    kind,
                    body: None,
                });
                at = next_line_entry(source, inner_start);
            }
        }
    }
    pieces
}

/// The next `@` that no `%` stands before on its line.
fn next_entry(source: &str, from: usize) -> Option<usize> {
    let mut at = from;
    loop {
        let rest = source.get(at..)?;
        let found = at + rest.find(['@', '%'])?;
        if source.get(found..)?.starts_with('@') {
            return Some(found);
        }
        at = found + source.get(found..)?.find('\n')?;
    }
}

/// The first line from a place on that begins with `@`; the end of the file where there is none.
fn next_line_entry(source: &str, from: usize) -> usize {
    let mut at = from;
    while let Some(feed) = source.get(at..).and_then(|rest| rest.find('\n')) {
        at += feed + 1;
        let line = source.get(at..).unwrap_or_default();
        let trimmed = line.trim_start_matches([' ', '\t']);
        if trimmed.starts_with('@') {
            return at + line.len() - trimmed.len();
        }
    }
    source.len()
}

/// Where the brace or parenthesis that was opened before closes. A backslash takes the meaning from the
/// character behind it.
fn closing(inner: &str, parenthesis: bool) -> Option<usize> {
    let mut depth = 0_usize;
    let mut escaped = false;
    for (at, byte) in inner.bytes().enumerate() {
        if std::mem::take(&mut escaped) {
            continue;
        }
        match byte {
            b'\\' => escaped = true,
            b'{' => depth += 1,
            b'}' if depth == 0 => return (!parenthesis).then_some(at),
            b'}' => depth -= 1,
            b')' if parenthesis && depth == 0 => return Some(at),
            _ => {}
        }
    }
    None
}

/// How deep braces nest in a body.
pub(super) fn depth(body: &str) -> usize {
    let mut depth = 0_usize;
    let mut deepest = 0;
    for byte in body.bytes() {
        match byte {
            b'{' => depth += 1,
            b'}' => depth = depth.saturating_sub(1),
            _ => {}
        }
        deepest = deepest.max(depth);
    }
    deepest
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_are_cut_into_entries() {
        type Cut<'s> = (&'s str, Option<&'s str>);
        let cases: &[(&str, &[Cut<'_>])] = &[
            (
                "@article{a, title={b}}",
                &[("article", Some("a, title={b}"))],
            ),
            (
                "notes @book (a, t={x)y}) end",
                &[("book", Some("a, t={x)y}"))],
            ),
            ("% @book{a}\n@misc{b}", &[("misc", Some("b"))]),
            ("mail a@b.example @misc{b}", &[("misc", Some("b"))]),
            (
                "@misc{a, t={\\}}}\n@misc{b}",
                &[("misc", Some("a, t={\\}}")), ("misc", Some("b"))],
            ),
            (
                "@misc{a, t={open\n}\n  @misc{b}",
                &[("misc", None), ("misc", Some("b"))],
            ),
            ("@misc{a, é={\n@@{", &[("misc", None)]),
            ("@", &[]),
            ("@misc", &[]),
        ];
        for (source, wanted) in cases {
            let found: Vec<_> = split(source)
                .iter()
                .map(|piece| (piece.kind, piece.body))
                .collect();
            assert_eq!(&found, wanted, "{source}");
        }
    }
}
