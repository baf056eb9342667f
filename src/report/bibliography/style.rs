//! References in a published style, through the `hayagriva` crate and the styles it carries (CSL; CC BY-SA).
//! A style is unpacked only when it is asked for, so other commands don't pay for it.

use std::collections::BTreeMap;

use hayagriva::archive::{ArchivedStyle, locales};
use hayagriva::citationberg::json::Item;
use hayagriva::citationberg::{FontStyle, FontWeight, IndependentStyle, Style, VerticalAlign};
use hayagriva::{
    BibliographyDriver, BibliographyRequest, CitationItem, CitationRequest, ElemChild, ElemChildren,
};
use serde_json::Value;

use super::Styled;
use crate::review::Key;

/// The style used unless another is named: author and date, widely taught.
pub const USUAL_STYLE: &str = "apa";

/// The styles that can be named.
#[derive(Debug)]
pub struct Styles {
    style: IndependentStyle,
    name: &'static str,
}

/// There is no such style, or it sets no bibliography.
#[derive(Debug, thiserror::Error)]
#[error("--style {name}: {why}{}", hint(.near))]
pub struct UnknownStyle {
    name: String,
    why: &'static str,
    near: Vec<String>,
}

fn hint(near: &[String]) -> String {
    if near.is_empty() {
        String::new()
    } else {
        format!("; did you mean {}?", near.join(" or "))
    }
}

impl Styles {
    /// A style by its name, such as `apa` or `chicago-author-date`.
    ///
    /// # Errors
    /// [`UnknownStyle`] with the nearest names.
    pub fn named(name: &str) -> Result<Self, UnknownStyle> {
        let unknown = |why, near| UnknownStyle {
            name: name.to_owned(),
            why,
            near,
        };
        let wanted = name.trim().to_lowercase().replace([' ', '_'], "-");
        let Some(archived) = ArchivedStyle::by_name(&wanted) else {
            let why =
                "there is no style of this name (`ownwords bibliography --styles` lists them)";
            return Err(unknown(why, near(&wanted)));
        };
        match archived.get() {
            Style::Independent(style) if style.bibliography.is_some() => Ok(Self {
                style,
                name: archived.display_name(),
            }),
            _ => Err(unknown(
                "this style sets no list of references; name another",
                Vec::new(),
            )),
        }
    }

    /// The style's name for readers.
    #[must_use]
    pub fn name(&self) -> &'static str {
        self.name
    }

    /// The names of all styles with a bibliography of its own, sorted.
    #[must_use]
    pub fn all() -> Vec<&'static str> {
        let names = ArchivedStyle::all().iter().flat_map(|style| style.names());
        let mut names: Vec<&str> = names.copied().collect();
        names.sort_unstable();
        names.dedup();
        names
    }

    /// Formats references given as items of CSL JSON, in the order the style sorts them, or where it
    /// numbers them, in the alphabetical order of what comes out. An item that can't be formatted is left out.
    #[must_use]
    pub fn format(&self, items: &BTreeMap<Key, Value>) -> Vec<(Key, Vec<Styled>)> {
        let items: Vec<Item> = items
            .values()
            .filter_map(|item| serde_json::from_value(item.clone()).ok())
            .collect();
        let locales = locales();
        let mut driver = BibliographyDriver::new();
        for item in &items {
            let cited = vec![CitationItem::with_entry(item)];
            driver.citation(CitationRequest::from_items(cited, &self.style, &locales));
        }
        let rendered = driver.finish(BibliographyRequest::new(&self.style, None, &locales));
        let Some(bibliography) = rendered.bibliography else {
            return Vec::new();
        };
        let mut formatted: Vec<(Key, Vec<Styled>)> = bibliography
            .items
            .iter()
            .map(|item| (Key::new(&item.key), flat(&item.content)))
            .collect();
        let sorts = self
            .style
            .bibliography
            .as_ref()
            .is_some_and(|b| b.sort.is_some());
        if !sorts {
            formatted
                .sort_by_cached_key(|(key, styled)| (plain(styled).to_lowercase(), key.clone()));
        }
        formatted
    }
}

/// The names most like a wrong one, at most three.
fn near(wanted: &str) -> Vec<String> {
    let mut near: Vec<(usize, &str)> = Styles::all()
        .into_iter()
        .map(|name| {
            let begins = wanted.len() >= 3 && name.starts_with(wanted);
            let slips = if begins {
                0
            } else {
                strsim::damerau_levenshtein(wanted, name)
            };
            (slips, name)
        })
        .filter(|(slips, name)| *slips * 3 <= name.len())
        .collect();
    near.sort_unstable();
    near.into_iter()
        .take(3)
        .map(|(_, name)| name.to_owned())
        .collect()
}

/// The characters of a formatted reference.
#[must_use]
pub fn plain(styled: &[Styled]) -> String {
    styled.iter().map(|run| run.text.as_str()).collect()
}

/// The tree that the formatter makes as a row of stretches; neighbours of one look are joined.
fn flat(children: &ElemChildren) -> Vec<Styled> {
    let mut out = Vec::new();
    collect(children, &mut out);
    tidy(&mut out);
    out
}

/// Takes out signs that the formatter sets where a field ended with one already, or was empty: `?.` and `.”.` have one
/// full stop too many, `(2019,)` a comma (common practice of all styles).
fn tidy(runs: &mut [Styled]) {
    let all: Vec<char> = plain(runs).chars().collect();
    let is_spare = |at: usize| {
        let before = |by: usize| at.checked_sub(by).and_then(|at| all.get(at)).copied();
        let ends = |c: Option<char>| matches!(c, Some('.' | '?' | '!'));
        let closing = matches!(before(1), Some('”' | '’' | '"'));
        match all.get(at) {
            Some('.') if matches!(before(1), Some('?' | '!')) => true,
            Some('.') => closing && ends(before(2)),
            Some(',') => all.get(at + 1) == Some(&')'),
            _ => false,
        }
    };
    let mut at = 0;
    for run in runs {
        let kept = run.text.chars().enumerate();
        let kept: String = kept
            .filter(|(offset, _)| !is_spare(at + offset))
            .map(|(_, c)| c)
            .collect();
        at += run.text.chars().count();
        run.text = kept;
    }
}

fn collect(children: &ElemChildren, out: &mut Vec<Styled>) {
    for child in &children.0 {
        let (formatted, link) = match child {
            ElemChild::Text(text) => (text, None),
            ElemChild::Link { text, url } => (text, Some(url.clone())),
            ElemChild::Elem(inner) => {
                collect(&inner.children, out);
                continue;
            }
            ElemChild::Markup(_) | ElemChild::Transparent { .. } => continue,
        };
        let look = formatted.formatting;
        let run = Styled {
            text: formatted.text.clone(),
            italic: look.font_style == FontStyle::Italic,
            bold: look.font_weight == FontWeight::Bold,
            raised: look.vertical_align == VerticalAlign::Sup,
            link,
        };
        match out.last_mut() {
            Some(last)
                if (last.italic, last.bold, last.raised, &last.link)
                    == (run.italic, run.bold, run.raised, &run.link) =>
            {
                last.text.push_str(&run.text);
            }
            _ => out.push(run),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn formatted(style: &str) -> Vec<String> {
        let item = |key: &str, family: &str, year: i32, title: &str| {
            let item = json!({
                "id": key, "type": "article-journal", "author": [{"family": family, "given": "Anna"}],
                "issued": {"date-parts": [[year]]}, "title": title, "container-title": "Night Ecology",
                "volume": "12", "issue": "2", "page": "109–116",
            });
            (Key::new(key), item)
        };
        let items = BTreeMap::from([
            item("a", "Okoro", 2014, "Nectar"),
            item("b", "Harrow", 2019, "Moths at the lamp"),
            item("c", "Harrow", 2016, "Dark hours"),
        ]);
        let styles = Styles::named(style).unwrap();
        styles
            .format(&items)
            .iter()
            .map(|(_, styled)| plain(styled))
            .collect()
    }

    #[test]
    fn references_in_the_usual_style() {
        // APA 7, section 9 and 10.1, by rule, with our own works.
        assert_eq!(
            formatted(USUAL_STYLE),
            [
                "Harrow, A. (2016). Dark hours. Night Ecology, 12(2), 109–116.",
                "Harrow, A. (2019). Moths at the lamp. Night Ecology, 12(2), 109–116.",
                "Okoro, A. (2014). Nectar. Night Ecology, 12(2), 109–116.",
            ]
        );
    }

    #[test]
    fn a_field_that_ends_with_a_sign_gets_no_second_one() {
        let tidied = |texts: &[&str]| {
            let run = |text: &&str| Styled {
                text: (*text).to_owned(),
                italic: false,
                bold: false,
                raised: false,
                link: None,
            };
            let mut runs: Vec<Styled> = texts.iter().map(run).collect();
            tidy(&mut runs);
            plain(&runs)
        };
        assert_eq!(
            tidied(&["What did the moths see?", ". ", "Lanes"]),
            "What did the moths see? Lanes"
        );
        assert_eq!(tidied(&["“What now?", ".” Lanes"]), "“What now?” Lanes");
        assert_eq!(tidied(&["“A review.", "”. Lanes."]), "“A review.” Lanes.");
        assert_eq!(
            tidied(&["(2019", ",). Lamps, lanes. A. B."]),
            "(2019). Lamps, lanes. A. B."
        );
        assert_eq!(tidied(&["And so on... ", "“X”. Y"]), "And so on... “X”. Y");
    }

    #[test]
    fn a_style_that_numbers_is_put_in_order_of_the_alphabet() {
        let lines = formatted("ieee");
        assert_eq!(lines.len(), 3);
        assert!(
            lines[0].contains("Harrow") && lines[2].contains("Okoro"),
            "{lines:?}"
        );
    }

    #[test]
    fn wrong_names_are_answered_with_the_nearest() {
        let said = |name: &str| Styles::named(name).unwrap_err().to_string();
        assert!(
            said("chicago-author").contains("did you mean chicago-author-date"),
            "{}",
            said("chicago-author")
        );
        assert!(said("apaa").contains("apa"), "{}", said("apaa"));
        assert!(said("qqqqqqqq").contains("--styles"));
    }

    #[test]
    fn every_style_that_is_listed_formats_or_says_why_not() {
        for name in Styles::all() {
            if let Ok(styles) = Styles::named(name) {
                assert!(!styles.name().is_empty());
            }
        }
    }
}
