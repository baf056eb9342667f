//! The order of a list of references.

use super::{Reference, fold};

/// The place of a reference in a list; lesser comes first.
///
/// Published: APA Style (7th edition, sections 9.43 to 9.49, from memory). By the family names letter by
/// letter, *nothing* before *something*, so that a work by one author comes before those with more; then
/// by initials, year (none first) and letter, then by title without its article. A work without authors stands by its title.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct ListPlace {
    authors: Vec<(String, String)>,
    year: Option<i32>,
    suffix: Option<char>,
    title: String,
}

impl Reference {
    /// Where the reference stands in an alphabetical list.
    #[must_use]
    pub fn list_place(&self) -> ListPlace {
        let title = bare_title(&self.title);
        let mut authors: Vec<(String, String)> = self
            .authors
            .iter()
            .map(|person| (letters(&person.family), initials(&person.given)))
            .collect();
        if authors.is_empty() {
            authors.push((title.replace(' ', ""), String::new()));
        }
        ListPlace {
            authors,
            year: self.year,
            suffix: self.suffix,
            title,
        }
    }
}

/// Letters alone, without case, accents and blanks: `van der Berg` as `vanderberg`.
fn letters(name: &str) -> String {
    fold(name).replace(' ', "")
}

fn initials(given: &str) -> String {
    let names = given.split([' ', '.', '-']);
    names.filter_map(|name| fold(name).chars().next()).collect()
}

fn bare_title(title: &str) -> String {
    let folded = fold(title);
    let article = ["the ", "an ", "a "];
    let rest = article
        .iter()
        .find_map(|article| folded.strip_prefix(article));
    rest.unwrap_or(&folded).to_owned()
}

#[cfg(test)]
mod tests {
    use super::super::tests::reference;

    #[test]
    fn references_stand_as_a_bibliography_has_them() {
        let in_order = [
            ("Brown, J.", None, "Owls"),
            ("Brown, J.", Some(2018), "Owls"),
            ("Brown, J.", Some(2019), "Owls"),
            ("Brown, J.", Some(2019), "The wren"),
            ("Brown, J.; Adams, T.", Some(2001), "Moths"),
            ("Brown, K.", Some(1990), "Moths"),
            ("Browning, A.", Some(1980), "Moths"),
            ("", Some(1980), "A century of lamps"),
            ("Éluard, P.", Some(2000), "Moths"),
            ("Ernst, P.", Some(2000), "Moths"),
            ("van der Berg, C.", Some(2000), "Moths"),
            ("Vane, C.", Some(2000), "Moths"),
        ];
        let places: Vec<_> = in_order
            .iter()
            .map(|(authors, year, title)| reference("k", authors, *year, title).list_place())
            .collect();
        for (at, pair) in places.windows(2).enumerate() {
            assert!(pair[0] < pair[1], "{:?}", in_order[at]);
        }
    }
}
