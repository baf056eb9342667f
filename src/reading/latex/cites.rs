//! Citations of LaTeX, natbib and biblatex. Each is written into the Text in the form of Pandoc's keys
//! (`[see @harrow2014, p. 12]`, `@harrow2014 [p. 12]`), which says the same and is read as such by all later
//! stages.

/// The form of a citation in its sentence.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Style {
    /// In brackets of its own.
    Bracket,
    /// The author is part of the sentence.
    Narrative,
    /// Only the year or the title is printed.
    WithoutAuthor,
    /// In a footnote of its own.
    Footnote,
}

/// A command that cites: its style and whether it takes several lists of keys.
pub(super) fn style(name: &str) -> Option<(Style, bool)> {
    let lower = name.to_ascii_lowercase();
    let (name, several) = match lower.strip_suffix("cites") {
        Some(before) => (format!("{before}cite"), true),
        None => (lower, false),
    };
    let style = match name.as_str() {
        "cite" | "citep" | "citealp" | "parencite" | "autocite" | "smartcite" | "supercite"
        | "fullcite" | "citenum" | "citen" | "onlinecite" | "citeyearpar" | "volcite"
        | "shortcite" => Style::Bracket,
        "citet" | "citealt" | "textcite" | "citeauthor" | "citefullauthor" | "citea" => {
            Style::Narrative
        }
        "citeyear" | "citetitle" | "citedate" | "shortciteyear" => Style::WithoutAuthor,
        "footcite" | "footfullcite" | "footcitetext" | "ftcite" => Style::Footnote,
        _ => return None,
    };
    Some((style, several))
}

/// A locator as biblatex prints it: bare numbers become pages.
pub(super) fn with_unit(locator: &str) -> String {
    let locator = locator.trim();
    let page = |c: char| c.is_ascii_digit() || matches!(c, '-' | '–' | ',' | ' ' | '~');
    let bare = locator.starts_with(|c: char| c.is_ascii_digit()) && locator.chars().all(page);
    let roman = !locator.is_empty()
        && locator.len() <= 6
        && locator.chars().all(|c| matches!(c, 'i' | 'v' | 'x' | 'l'));
    if !bare && !roman {
        return locator.to_owned();
    }
    let several = locator.contains(['-', '–', ',']);
    let unit = if several { "pp." } else { "p." };
    format!("{unit} {}", locator.replace("--", "–"))
}

/// The key in Pandoc's form, with braces where it holds signs that are not allowed without them.
pub(super) fn key(key: &str) -> String {
    let plain = |c: char| c.is_alphanumeric() || c == '_';
    let inner = |c: char| plain(c) || ":.#$%&-+?<>~/".contains(c);
    let bare = key.starts_with(plain) && key.chars().all(inner) && key.ends_with(plain);
    if bare {
        format!("@{key}")
    } else {
        format!("@{{{}}}", key.replace(['{', '}'], ""))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn locators_and_keys_by_case() {
        for (locator, expected) in [
            ("12", "p. 12"),
            ("12--14", "pp. 12–14"),
            ("12, 15", "pp. 12, 15"),
            ("xii", "p. xii"),
            ("ch. 3", "ch. 3"),
            ("p.\u{a0}3", "p.\u{a0}3"),
            ("", ""),
        ] {
            assert_eq!(with_unit(locator), expected);
        }
        assert_eq!(key("harrow2014"), "@harrow2014");
        assert_eq!(key("harrow:2014a"), "@harrow:2014a");
        assert_eq!(key("harrow 2014"), "@{harrow 2014}");
        assert_eq!(style("Textcite"), Some((Style::Narrative, false)));
        assert_eq!(style("parencites"), Some((Style::Bracket, true)));
        assert_eq!(style("cites"), Some((Style::Bracket, true)));
        assert_eq!(style("excite"), None);
    }
}
