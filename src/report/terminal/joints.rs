//! Where a line may not end: between `p.` and its number.

/// What is followed by the number of a place. Whole words, since those of the reports are short.
const BEFORE_NUMBERS: [&str; 24] = [
    "p.",
    "pp.",
    "page",
    "pages",
    "line",
    "lines",
    "para.",
    "paras.",
    "paragraph",
    "paragraphs",
    "sheet",
    "sheets",
    "ch.",
    "chap.",
    "chapter",
    "sec.",
    "section",
    "vol.",
    "no.",
    "nos.",
    "fig.",
    "§",
    "§§",
    "¶",
];

/// Signs that may stand before a word.
const OPENING: [char; 7] = ['(', '[', '"', '\'', '“', '‘', '*'];

/// Whether two words that stand beside each other stay on one line: `p. 12`, `pp. 3–5`, `line 12`.
pub(super) fn holds(before: &str, behind: &str) -> bool {
    let before = before.trim_start_matches(OPENING);
    BEFORE_NUMBERS
        .iter()
        .any(|word| before.eq_ignore_ascii_case(word))
        && is_number(behind)
}

/// Whether a word begins with a figure, or is a roman number. *I* alone is the writer.
fn is_number(word: &str) -> bool {
    let letters: &str = word
        .split(|c: char| !c.is_alphabetic())
        .next()
        .unwrap_or_default();
    word.starts_with(|c: char| c.is_ascii_digit())
        || (!letters.is_empty() && letters.chars().all(|c| "ivxlcdm".contains(c)))
}

#[cfg(test)]
mod tests {
    use super::holds;

    #[test]
    fn joints_by_case() {
        for (before, behind, held) in [
            ("p.", "12", true),
            ("(pp.", "3–5).", true),
            ("P.", "113", true),
            ("p.", "xiv;", true),
            ("para.", "4", true),
            ("line", "12:", true),
            ("§", "7", true),
            ("page", "of", false),
            ("line", "In", false),
            ("lamp.", "12", false),
            ("of", "12", false),
            ("p.", "", false),
        ] {
            assert_eq!(holds(before, behind), held, "{before} {behind}");
        }
    }
}
