//! A sorted text table searched by its first column.
//!
//! The tables are text so that a change to them can be read in a diff. A line is `key TAB rest`, lines are sorted
//! by the bytes of their keys. Parsing 60,000 lines into a map would cost more than most runs spend on it, so only
//! the line starts are recorded, at first use, and a directory by the first three bytes narrows the search. Lines may
//! end in CR LF too, as a copy of the sources may have them.

use std::cmp::Ordering;

/// A sorted table and where its lines start.
pub(crate) struct Table {
    text: &'static str,
    /// Byte offset of each line, and the text's length at the end.
    starts: Vec<u32>,
    /// For each three first bytes, in the order of [`cell`], the number of the first line at or after it.
    directory: Vec<u32>,
}

const SIDE: usize = 28;

/// The directory cell of a key, or of a line that begins with it: end of key, then hyphen, then letters, as they sort.
fn cell(key: &[u8]) -> usize {
    let mut ended = false;
    (0..3).fold(0, |cell, i| {
        let place = match key.get(i) {
            _ if ended => 0,
            None | Some(b'\t' | b'\n' | b'\r') => {
                ended = true;
                0
            }
            Some(byte @ b'a'..=b'z') => usize::from(byte - b'a') + 2,
            Some(_) => 1,
        };
        cell * SIDE + place
    })
}

impl Table {
    /// Records the lines of `text`, whose keys are sorted and hold only letters `a`-`z` and hyphens.
    pub(crate) fn new(text: &'static str) -> Self {
        let mut starts = Vec::with_capacity(text.len() / 16);
        let mut directory = vec![u32::MAX; SIDE * SIDE * SIDE + 1];
        let mut offset = 0usize;
        for line in text.as_bytes().split_inclusive(|byte| *byte == b'\n') {
            if let Some(first) = directory.get_mut(cell(line)) {
                *first = (*first).min(starts.len() as u32);
            }
            starts.push(offset as u32);
            offset += line.len();
        }
        let mut next = starts.len() as u32;
        for first in directory.iter_mut().rev() {
            next = next.min(*first);
            *first = next;
        }
        starts.push(offset as u32);
        Self {
            text,
            starts,
            directory,
        }
    }

    /// What stands after the tab on the line of `key`; `None` when the table has no such line.
    pub(crate) fn get(&self, key: &str) -> Option<&'static str> {
        let at = cell(key.as_bytes());
        let mut low = *self.directory.get(at)? as usize;
        let mut high = *self.directory.get(at + 1)? as usize;
        while low < high {
            let middle = low + (high - low) / 2;
            let line = self.line(middle)?;
            match compare(line, key) {
                Ordering::Less => low = middle + 1,
                Ordering::Greater => high = middle,
                Ordering::Equal => {
                    return Some(
                        line.get(key.len() + 1..)
                            .unwrap_or("")
                            .trim_end_matches(['\r', '\n']),
                    );
                }
            }
        }
        None
    }

    fn line(&self, number: usize) -> Option<&'static str> {
        let start = *self.starts.get(number)? as usize;
        let end = *self.starts.get(number + 1)? as usize;
        self.text.get(start..end)
    }

    /// Keys in order, for tests.
    #[cfg(test)]
    pub(crate) fn keys(&self) -> impl Iterator<Item = &'static str> {
        self.text.lines().map(key_of)
    }
}

/// How the key of a line stands to `key`. The tab or line end that ends it sorts before all that a key holds.
fn compare(line: &str, key: &str) -> Ordering {
    let line = line.as_bytes();
    let (head, rest) = line.split_at(key.len().min(line.len()));
    head.cmp(key.as_bytes()).then_with(|| match rest.first() {
        None | Some(b'\t' | b'\n' | b'\r') => Ordering::Equal,
        Some(_) => Ordering::Greater,
    })
}

/// For tests: all that stands before the tab.
#[cfg(test)]
fn key_of(line: &str) -> &str {
    let end = line
        .bytes()
        .position(|b| matches!(b, b'\t' | b'\n' | b'\r'))
        .unwrap_or(line.len());
    // A tab or line feed is never inside a character, so `end` is a boundary; `get` keeps that out of doubt.
    line.get(..end).unwrap_or(line)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn finds_every_key_and_nothing_else() {
        let table = Table::new("a\t1\na-b\nab\t2\t3\nb\nbz\tx\nzz\tlast\n");
        let cases = [
            ("a", Some("1")),
            ("a-b", Some("")),
            ("ab", Some("2\t3")),
            ("b", Some("")),
            ("bz", Some("x")),
            ("zz", Some("last")),
            ("", None),
            ("aa", None),
            ("c", None),
            ("zzz", None),
            ("éa", None),
            ("~", None),
            ("7", None),
        ];
        for (key, expected) in cases {
            assert_eq!(table.get(key), expected, "{key}");
        }
    }

    #[test]
    fn line_ends_of_other_systems_change_nothing() {
        for text in [
            "a\t1\na-b\nab\t2\t3\nb\nbz\tx\nzz\tlast\n",
            include_str!("data/irregular.txt"),
            include_str!("data/lexicon.txt"),
        ] {
            let table = Table::new(text);
            let other = Table::new(text.replace('\n', "\r\n").leak());
            assert!(table.keys().eq(other.keys()));
            for key in table.keys() {
                assert_eq!(other.get(key), table.get(key), "{key}");
            }
        }
    }

    #[test]
    fn an_empty_table_has_nothing() {
        assert_eq!(Table::new("").get("a"), None);
    }
}
