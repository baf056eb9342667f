//! The words that say what a locator counts.

use super::LocatorUnit;

/// Unit words in small letters without their full stop; sorted, so that they can be searched.
/// `s.` alone is a section (of a law), a capital `S.` the German page.
const UNITS: &[(&str, LocatorUnit)] = &[
    ("abs", LocatorUnit::Paragraph),
    ("app", LocatorUnit::Other),
    ("appendix", LocatorUnit::Other),
    ("art", LocatorUnit::Other),
    ("article", LocatorUnit::Other),
    ("bk", LocatorUnit::Other),
    ("book", LocatorUnit::Other),
    ("ch", LocatorUnit::Chapter),
    ("chap", LocatorUnit::Chapter),
    ("chaps", LocatorUnit::Chapter),
    ("chapter", LocatorUnit::Chapter),
    ("chapters", LocatorUnit::Chapter),
    ("chs", LocatorUnit::Chapter),
    ("col", LocatorUnit::Other),
    ("cols", LocatorUnit::Other),
    ("column", LocatorUnit::Other),
    ("eq", LocatorUnit::Other),
    ("equation", LocatorUnit::Other),
    ("fig", LocatorUnit::Other),
    ("figs", LocatorUnit::Other),
    ("figure", LocatorUnit::Other),
    ("figures", LocatorUnit::Other),
    ("fn", LocatorUnit::Other),
    ("fol", LocatorUnit::Other),
    ("footnote", LocatorUnit::Other),
    ("kap", LocatorUnit::Chapter),
    ("l", LocatorUnit::Other),
    ("line", LocatorUnit::Other),
    ("lines", LocatorUnit::Other),
    ("ll", LocatorUnit::Other),
    ("loc", LocatorUnit::Other),
    ("n", LocatorUnit::Other),
    ("nn", LocatorUnit::Other),
    ("no", LocatorUnit::Other),
    ("note", LocatorUnit::Other),
    ("notes", LocatorUnit::Other),
    ("p", LocatorUnit::Page),
    ("page", LocatorUnit::Page),
    ("pages", LocatorUnit::Page),
    ("par", LocatorUnit::Paragraph),
    ("para", LocatorUnit::Paragraph),
    ("paragraph", LocatorUnit::Paragraph),
    ("paragraphs", LocatorUnit::Paragraph),
    ("paras", LocatorUnit::Paragraph),
    ("part", LocatorUnit::Other),
    ("pg", LocatorUnit::Page),
    ("pgs", LocatorUnit::Page),
    ("pp", LocatorUnit::Page),
    ("pt", LocatorUnit::Other),
    ("pág", LocatorUnit::Page),
    ("págs", LocatorUnit::Page),
    ("s", LocatorUnit::Section),
    ("sec", LocatorUnit::Section),
    ("secs", LocatorUnit::Section),
    ("sect", LocatorUnit::Section),
    ("section", LocatorUnit::Section),
    ("sections", LocatorUnit::Section),
    ("seite", LocatorUnit::Page),
    ("seiten", LocatorUnit::Page),
    ("slide", LocatorUnit::Other),
    ("slides", LocatorUnit::Other),
    ("ss", LocatorUnit::Section),
    ("tab", LocatorUnit::Other),
    ("table", LocatorUnit::Other),
    ("tables", LocatorUnit::Other),
    ("v", LocatorUnit::Other),
    ("verse", LocatorUnit::Other),
    ("verses", LocatorUnit::Other),
    ("vol", LocatorUnit::Other),
    ("vv", LocatorUnit::Other),
];

/// What a unit word counts; its full stop is not part of it.
pub(super) fn unit_named(word: &str) -> Option<LocatorUnit> {
    if word.is_empty() || word.len() > 12 {
        return None;
    }
    if word == "S" {
        return Some(LocatorUnit::Page);
    }
    let word = word.to_lowercase();
    UNITS
        .binary_search_by(|(name, _)| (*name).cmp(word.as_str()))
        .ok()
        .and_then(|index| UNITS.get(index))
        .map(|(_, unit)| *unit)
}

#[cfg(test)]
mod tests {
    #[test]
    fn unit_words_are_sorted() {
        assert!(super::UNITS.is_sorted_by(|a, b| a.0 < b.0));
    }
}
