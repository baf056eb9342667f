//! DOIs: names of works that are the same wherever the work is cited (ISO 26324; published: the DOI Handbook, from
//! memory). Case makes no difference in them.

/// A DOI in small letters without the address before it: `10.1234/ab`.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Doi(Box<str>);

impl Doi {
    /// Reads a field that holds one: `10.1234/AB`, `doi:10.1234/ab`, `https://doi.org/10.1234%2Fab`. `None` where
    /// there is none in it.
    #[must_use]
    pub fn parse(written: &str) -> Option<Self> {
        Self::all(written).next()
    }

    /// The DOI in an address; `None` in that of any other site, which may name the DOI of another work.
    pub(super) fn of_address(address: &str) -> Option<Self> {
        let lower = address.to_ascii_lowercase();
        let site = lower
            .split_once("://")
            .map_or(lower.as_str(), |(_, rest)| rest);
        let resolves = ["doi.org/", "dx.doi.org/", "www.doi.org/"];
        let here = resolves.iter().any(|start| site.starts_with(start));
        here.then(|| Self::parse(address)).flatten()
    }

    /// All DOIs in a text, in order.
    pub fn all(text: &str) -> impl Iterator<Item = Self> + '_ {
        text.split(char::is_whitespace).filter_map(Self::in_word)
    }

    /// The DOI.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }

    fn in_word(word: &str) -> Option<Self> {
        let starts = word.match_indices("10.").map(|(at, _)| at);
        starts
            .filter(|at| {
                let before = word.get(..*at).unwrap_or_default();
                !before.ends_with(|c: char| c.is_alphanumeric() || c == '.')
            })
            .find_map(|at| Self::at_start(word.get(at..)?))
    }

    /// `10.`, figures with or without further dots, a slash, and what the registrant chose.
    fn at_start(word: &str) -> Option<Self> {
        let lower = word.to_lowercase().replace("%2f", "/");
        let (prefix, _) = lower.split_once('/')?;
        let registrant = prefix.strip_prefix("10.")?;
        let mut parts = registrant.split('.');
        let figures = |part: &str| !part.is_empty() && part.bytes().all(|c| c.is_ascii_digit());
        if !parts.all(figures) {
            return None;
        }
        let doi = without_punctuation(&lower);
        (doi.len() > prefix.len() + 1).then(|| Self(Box::from(doi)))
    }
}

/// A word without the punctuation of the sentence behind it. A bracket stays that closes one in the word.
fn without_punctuation(mut word: &str) -> &str {
    loop {
        let closing = |open: char, close: char| {
            word.ends_with(close) && word.matches(close).count() > word.matches(open).count()
        };
        let punctuated = word.ends_with(['.', ',', ';', ':', '"', '”', '’', '\'', '>', '}']);
        if !punctuated && !closing('(', ')') && !closing('[', ']') {
            return word;
        }
        // There is a last character: it was just found.
        word = match word.char_indices().next_back() {
            Some((at, _)) => word.get(..at).unwrap_or_default(),
            None => return word,
        };
    }
}

impl std::fmt::Display for Doi {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.write_str(&self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fields_by_case() {
        for (written, doi) in [
            ("10.1234/AB.c", Some("10.1234/ab.c")),
            (" https://doi.org/10.1234/ab ", Some("10.1234/ab")),
            ("http://dx.doi.org/10.1234%2Fab", Some("10.1234/ab")),
            ("doi:10.1234/ab", Some("10.1234/ab")),
            ("DOI: 10.1234.5/ab", Some("10.1234.5/ab")),
            (
                "10.1016/S0140-6736(05)71146-6",
                Some("10.1016/s0140-6736(05)71146-6"),
            ),
            ("(https://doi.org/10.1234/a(b)).", Some("10.1234/a(b)")),
            ("<https://doi.org/10.1234/ab>", Some("10.1234/ab")),
            ("10.1234", None),
            ("10.1234/", None),
            ("10.x/ab", None),
            ("110.12/3", None),
            ("1.10.12/3", None),
            ("", None),
        ] {
            let read = Doi::parse(written);
            assert_eq!(read.as_ref().map(Doi::as_str), doi, "{written}");
        }
    }

    #[test]
    fn addresses_by_case() {
        for (address, doi) in [
            ("https://doi.org/10.1234/ab", Some("10.1234/ab")),
            ("https://DX.doi.org/10.1234/ab", Some("10.1234/ab")),
            ("https://archive.example/cited-by/10.1234/ab", None),
            ("https://archive.example", None),
        ] {
            let read = Doi::of_address(address);
            assert_eq!(read.as_ref().map(Doi::as_str), doi, "{address}");
        }
    }

    #[test]
    fn every_format_gives_its_doi() {
        use super::super::{bibtex, csl_json, ris};
        let files = [
            bibtex::read("@article{k, doi = {https://doi.org/10.1234/A\\_B}}"),
            bibtex::read("@article{k, url = {https://doi.org/10.1234/a_b}}"),
            csl_json::read(r#"[{"id": "k", "DOI": "10.1234/A_b"}]"#),
            csl_json::read(r#"[{"id": "k", "URL": "http://dx.doi.org/10.1234/a_b"}]"#),
            ris::read("TY  - JOUR\nID  - k\nTI  - Moths\nDO  - doi:10.1234/a_B\nER  - \n"),
            ris::read(
                "TY  - JOUR\nID  - k\nTI  - Moths\nUR  - https://doi.org/10.1234/a_b\nER  - \n",
            ),
        ];
        for file in files {
            let reference = &file.found[0].reference;
            let doi = reference.doi.as_ref().map(Doi::as_str);
            assert_eq!(doi, Some("10.1234/a_b"), "{reference:?}");
        }
    }

    proptest::proptest! {
        #[test]
        fn a_doi_reads_as_itself(text in "(10\\.|[0-9]{1,4}|/|\\(|\\)|é|%2F| |doi:|[a-zA-Z.;]){0,15}") {
            for doi in Doi::all(&text) {
                proptest::prop_assert_eq!(Doi::parse(doi.as_str()), Some(doi));
            }
        }
    }
}
