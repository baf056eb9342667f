//! The table of stems, `data/lexicon.txt`: one line a stem with its tag count, its senses and the senses one hop
//! away. `synonyms`, `frequency` and `dictionary` are three views of it. How it is made: `data/make_tables.py`.

use std::sync::LazyLock;

use super::table::Table;

static LEXICON: LazyLock<Table> = LazyLock::new(|| Table::new(include_str!("data/lexicon.txt")));

/// One line of the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Entry {
    /// How often WordNet's makers met the word when tagging running text; 0 for most words.
    pub(crate) tags: u32,
    /// The stem's senses, three letters each, ascending.
    pub(crate) same: &'static str,
    /// The senses one hop away, three letters each, ascending.
    pub(crate) hop: &'static str,
}

/// The entry of a stem, as [`super::stem`] gives it.
pub(crate) fn entry(stem: &str) -> Option<Entry> {
    let mut fields = LEXICON.get(stem)?.split('\t');
    Some(Entry {
        tags: fields
            .next()
            .and_then(|tags| tags.parse().ok())
            .unwrap_or(0),
        same: fields.next().unwrap_or(""),
        hop: fields.next().unwrap_or(""),
    })
}

/// Whether the table has the stem.
pub(crate) fn contains(stem: &str) -> bool {
    LEXICON.get(stem).is_some()
}

/// All stems, for tests.
#[cfg(test)]
pub(crate) fn stems() -> impl Iterator<Item = &'static str> {
    LEXICON.keys()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_sorted_and_well_formed() {
        let keys: Vec<_> = stems().collect();
        assert!(keys.len() > 50_000, "{}", keys.len());
        assert!(keys.is_sorted_by(|a, b| a < b));
        for key in keys {
            assert!(
                key.bytes().all(|b| b == b'-' || b.is_ascii_lowercase()),
                "{key}"
            );
            let entry = entry(key).expect(key);
            for ids in [entry.same, entry.hop] {
                assert_eq!(ids.len() % 3, 0, "{key}");
                let ids: Vec<_> = ids.as_bytes().chunks(3).collect();
                assert!(ids.is_sorted_by(|a, b| a < b), "{key}");
            }
        }
    }

    #[test]
    fn the_table_stays_small() {
        assert!(include_str!("data/lexicon.txt").len() < 1_200_000);
    }
}
