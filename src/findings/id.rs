//! Names of findings. A name is made from text only, so that it outlives edits elsewhere in the draft:
//! scheme `1` hashes the kind, the reference and the normal forms of the passage with FNV-1a (64 bits).

use std::collections::BTreeMap;

use super::{Finding, Kind};
use crate::wording::normal_form;

/// The version of the scheme; part of every hash.
const SCHEME: &str = "ownwords-finding-1";

/// Gives each finding its name. Findings of one kind on the same words, in order of the draft, are
/// told apart by `-2`, `-3` and so on.
pub fn name_all(findings: &mut [Finding]) {
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    for finding in findings {
        let name = name(finding);
        let count = seen.entry(name.clone()).or_insert(0);
        *count += 1;
        finding.id = if *count == 1 {
            name
        } else {
            format!("{name}-{count}")
        };
    }
}

fn name(finding: &Finding) -> String {
    let mut hash = Fnv::default();
    hash.add(SCHEME);
    hash.add(finding.kind.about().name);
    hash.add(
        finding
            .source
            .as_ref()
            .map_or("", |source| source.key.as_str()),
    );
    for word in finding
        .draft
        .text
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
    {
        hash.add(&normal_form(word));
    }
    format!("{}-{:08x}", initials(finding.kind), hash.0 >> 32)
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
    use super::Fnv;

    #[test]
    fn published_value() {
        // FNV-1a test suite: the single byte 'a' hashes to af63dc4c8601ec8c (from memory).
        let mut hash = Fnv::default();
        hash.0 = (hash.0 ^ u64::from(b'a')).wrapping_mul(0x0000_0100_0000_01b3);
        assert_eq!(hash.0, 0xaf63_dc4c_8601_ec8c);
    }
}
