//! Names of findings. A name is made from text only, so that it outlives edits elsewhere in the draft:
//! scheme `1` hashes the kind, the reference and the normal forms of the passage with FNV-1a (64 bits).

use std::collections::BTreeMap;

use super::{Kind, Observation};
use crate::review::SCHEME;
use crate::text::words::bare_words;
use crate::wording::normal_form;

/// The name of each observation. Those of one kind on the same words, in order of the text, are
/// distinguished by `-2`, `-3` and so on.
#[must_use]
pub(super) fn names(observations: &[Observation]) -> Vec<String> {
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    let name_of = |observation: &Observation| {
        let name = name(observation);
        let count = seen.entry(name.clone()).or_insert(0);
        *count += 1;
        match *count {
            1 => name,
            count => format!("{name}-{count}"),
        }
    };
    observations.iter().map(name_of).collect()
}

/// An ID without the count that distinguishes findings on the same words: kind and hash alone.
#[must_use]
pub(crate) fn without_count(id: &str) -> &str {
    let mut hyphens = id.match_indices('-').map(|(at, _)| at);
    match (hyphens.next(), hyphens.next()) {
        (Some(_), Some(count)) => id.get(..count).unwrap_or(id),
        _ => id,
    }
}

/// The hash of words in a row.
pub(super) fn hash_of<'w>(words: impl IntoIterator<Item = &'w str>) -> u64 {
    let mut hash = Fnv::default();
    for word in words {
        hash.add(word);
    }
    hash.0
}

fn name(observation: &Observation) -> String {
    let mut hash = Fnv::default();
    hash.add(SCHEME);
    hash.add(observation.kind.about().name);
    hash.add(
        observation
            .source
            .as_ref()
            .map_or("", |source| source.key.as_str()),
    );
    for word in bare_words(&observation.draft.text) {
        hash.add(&normal_form(word));
    }
    format!("{}-{:08x}", initials(observation.kind), hash.0 >> 32)
}

/// `uc` for `unmarked-copy`.
fn initials(kind: Kind) -> String {
    kind.about()
        .name
        .split('-')
        .filter_map(|word| word.chars().next())
        .collect()
}

/// FNV-1a with 64 bits (Fowler, Noll, Vo; IETF draft-eastlake-fnv), words closed by a zero byte.
struct Fnv(u64);

impl Default for Fnv {
    fn default() -> Self {
        Self(0xcbf2_9ce4_8422_2325)
    }
}

impl Fnv {
    fn add(&mut self, word: &str) {
        for byte in word.bytes().chain([0]) {
            self.0 = (self.0 ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Fnv, without_count};

    #[test]
    fn a_count_is_no_part_of_the_name() {
        let table = [
            ("uc-1a2b3c4d", "uc-1a2b3c4d"),
            ("uc-1a2b3c4d-2", "uc-1a2b3c4d"),
            ("uc-1a2b3c4d-11", "uc-1a2b3c4d"),
            ("", ""),
        ];
        for (id, name) in table {
            assert_eq!(without_count(id), name);
        }
    }

    #[test]
    fn published_value() {
        // What the definition of FNV-1a gives for the single byte 'a', worked out by another program.
        let mut hash = Fnv::default();
        hash.0 = (hash.0 ^ u64::from(b'a')).wrapping_mul(0x0000_0100_0000_01b3);
        assert_eq!(hash.0, 0xaf63_dc4c_8601_ec8c);
    }
}
