//! One layer of settings: what a file or the command line asks for.

use std::path::PathBuf;

use serde::{Deserialize, Serialize};

use super::{Place, SettingsError, Shape, table};

/// Wishes for some of the settings; `None` leaves a setting as the layer below has it. The meaning of
/// each field is that of the field of the same name in [`Settings`](super::Settings).
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
#[non_exhaustive]
#[allow(missing_docs)] // one meaning in one place: the fields of Settings
pub struct Options {
    pub run_words: Option<usize>,
    pub quotation_words: Option<usize>,
    pub long_quotation_words: Option<usize>,
    pub heavily_quoted_percent: Option<u8>,
    pub repeated_words: Option<usize>,
    pub credit_sentences: Option<usize>,
    pub terms: Option<Vec<String>>,
    pub references: Option<Vec<PathBuf>>,
    pub sources: Option<PathBuf>,
    pub notes: Option<PathBuf>,
    pub summary_headings: Option<Vec<String>>,
    pub quotations_headings: Option<Vec<String>>,
    pub comments_headings: Option<Vec<String>>,
    pub max_file_mb: Option<u64>,
    pub max_unpacked_mb: Option<u64>,
    pub max_package_parts: Option<usize>,
    pub max_pdf_pages: Option<usize>,
    pub max_pdf_characters: Option<usize>,
    /// See [`Limits::files`](crate::reading::Limits::files).
    pub max_files: Option<usize>,
}

impl Options {
    /// Lays a later layer over this one: where it has a wish, that wish wins; lists are replaced, not
    /// joined, so that a later layer can also make one shorter.
    pub fn update(&mut self, later: Self) {
        fn lay<T>(under: &mut Option<T>, over: Option<T>) {
            if over.is_some() {
                *under = over;
            }
        }
        lay(&mut self.run_words, later.run_words);
        lay(&mut self.quotation_words, later.quotation_words);
        lay(&mut self.long_quotation_words, later.long_quotation_words);
        lay(
            &mut self.heavily_quoted_percent,
            later.heavily_quoted_percent,
        );
        lay(&mut self.repeated_words, later.repeated_words);
        lay(&mut self.credit_sentences, later.credit_sentences);
        lay(&mut self.terms, later.terms);
        lay(&mut self.references, later.references);
        lay(&mut self.sources, later.sources);
        lay(&mut self.notes, later.notes);
        lay(&mut self.summary_headings, later.summary_headings);
        lay(&mut self.quotations_headings, later.quotations_headings);
        lay(&mut self.comments_headings, later.comments_headings);
        lay(&mut self.max_file_mb, later.max_file_mb);
        lay(&mut self.max_unpacked_mb, later.max_unpacked_mb);
        lay(&mut self.max_package_parts, later.max_package_parts);
        lay(&mut self.max_pdf_pages, later.max_pdf_pages);
        lay(&mut self.max_pdf_characters, later.max_pdf_characters);
        lay(&mut self.max_files, later.max_files);
    }

    /// Holds every number against the range in the table of settings.
    pub(super) fn check(&self, place: &Place) -> Result<(), SettingsError> {
        let numbers = [
            ("run_words", self.run_words.map(|value| value as u64)),
            (
                "quotation_words",
                self.quotation_words.map(|value| value as u64),
            ),
            (
                "long_quotation_words",
                self.long_quotation_words.map(|value| value as u64),
            ),
            (
                "heavily_quoted_percent",
                self.heavily_quoted_percent.map(u64::from),
            ),
            (
                "repeated_words",
                self.repeated_words.map(|value| value as u64),
            ),
            (
                "credit_sentences",
                self.credit_sentences.map(|value| value as u64),
            ),
            ("max_file_mb", self.max_file_mb),
            ("max_unpacked_mb", self.max_unpacked_mb),
            (
                "max_package_parts",
                self.max_package_parts.map(|value| value as u64),
            ),
            (
                "max_pdf_pages",
                self.max_pdf_pages.map(|value| value as u64),
            ),
            (
                "max_pdf_characters",
                self.max_pdf_characters.map(|value| value as u64),
            ),
            ("max_files", self.max_files.map(|value| value as u64)),
        ];
        for (name, value) in numbers {
            let (Some(value), Some(about)) = (value, table::about(name)) else {
                continue;
            };
            if let Shape::Number { from, to } = about.shape
                && !(from..=to).contains(&value)
            {
                return Err(SettingsError::OutOfRange {
                    place: place.clone(),
                    name: name.to_owned(),
                    value: value.to_string(),
                    from,
                    to,
                });
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn layer() -> impl Strategy<Value = Options> {
        let words = || proptest::option::of(proptest::collection::vec("[a-z]{1,5}", 0..3));
        let path = || proptest::option::of("[a-z]{1,5}".prop_map(PathBuf::from));
        let small = || proptest::option::of(0usize..50);
        (
            (
                small(),
                small(),
                small(),
                small(),
                proptest::option::of(0u8..100),
            ),
            (words(), words(), words(), words()),
            (
                path(),
                path(),
                proptest::option::of(proptest::collection::vec(
                    "[a-z]{1,5}".prop_map(PathBuf::from),
                    0..3,
                )),
                proptest::option::of(0u64..50),
            ),
        )
            .prop_map(|(numbers, lists, files)| Options {
                run_words: numbers.0,
                quotation_words: numbers.1,
                long_quotation_words: numbers.2,
                repeated_words: numbers.1,
                credit_sentences: numbers.3,
                heavily_quoted_percent: numbers.4,
                terms: lists.0,
                summary_headings: lists.1,
                quotations_headings: lists.2,
                comments_headings: lists.3,
                sources: files.0,
                notes: files.1,
                references: files.2,
                max_file_mb: files.3,
                max_unpacked_mb: files.3.map(|value| value + 1),
                max_package_parts: numbers.3,
                max_pdf_pages: numbers.0,
                max_pdf_characters: numbers.2,
                max_files: numbers.1,
            })
    }

    fn over(mut under: Options, later: Options) -> Options {
        under.update(later);
        under
    }

    fn as_map(options: &Options) -> serde_json::Map<String, serde_json::Value> {
        match serde_json::to_value(options) {
            Ok(serde_json::Value::Object(map)) => map,
            other => panic!("options are no object: {other:?}"),
        }
    }

    proptest! {
        #[test]
        fn layers_associate(a in layer(), b in layer(), c in layer()) {
            let left = over(over(a.clone(), b.clone()), c.clone());
            prop_assert_eq!(left, over(a, over(b, c)));
        }

        #[test]
        fn the_empty_layer_changes_nothing(a in layer()) {
            prop_assert_eq!(over(a.clone(), Options::default()), a.clone());
            prop_assert_eq!(over(Options::default(), a.clone()), a);
        }

        #[test]
        fn the_later_wish_wins(a in layer(), b in layer()) {
            // field by field through serde, so that a field forgotten in `update` fails here
            let both = as_map(&over(a.clone(), b.clone()));
            let (a, b) = (as_map(&a), as_map(&b));
            for (name, value) in both {
                let wanted = if b[&name].is_null() { &a[&name] } else { &b[&name] };
                prop_assert_eq!(&value, wanted, "{}", name);
            }
        }
    }
}
