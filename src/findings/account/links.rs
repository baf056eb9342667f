//! Which quotations quote the same words.
//!
//! Two do where most of the shorter one's stretch of the source is the other's too, or where the words of
//! one stand in the other in a row. Quotations linked in this way, directly or through others, make an item. Only
//! quotations that have a place or four words in common are compared, so a thousand of them are no matter.

use rustc_hash::FxHashMap;

use super::{Item, Quoted};

/// Words in a row that two quotations must have in common to be compared by their words.
const COMMON_WORDS: usize = 4;

/// Groups quotations into items, in order of source and place.
pub(super) fn items(quoted: Vec<Quoted>) -> Vec<Item> {
    let links = links(&quoted);
    let mut sets = Sets::new(quoted.len());
    let mut twice = vec![false; quoted.len()];
    for (one, other) in links {
        sets.join(one, other);
        let both = [one, other].map(|at| quoted.get(at).is_some_and(Quoted::is_used));
        if both == [true, true]
            && let Some(flag) = twice.get_mut(one)
        {
            *flag = true;
        }
    }
    let mut groups: Vec<(Vec<Quoted>, bool)> = Vec::new();
    let mut group_of: FxHashMap<usize, usize> = FxHashMap::default();
    for (at, (quoted, twice)) in quoted.into_iter().zip(twice).enumerate() {
        let group = *group_of.entry(sets.root(at)).or_insert(groups.len());
        if group == groups.len() {
            groups.push((Vec::new(), false));
        }
        if let Some((members, used_twice)) = groups.get_mut(group) {
            members.push(quoted);
            *used_twice |= twice;
        }
    }
    let mut items: Vec<Item> = groups
        .into_iter()
        .map(|(quoted, used_twice)| item(quoted, used_twice))
        .collect();
    // What was never found follows what was; the sort keeps the order of the texts among equals.
    items.sort_by_cached_key(|item| {
        let span = item.quoted.iter().filter_map(|quoted| quoted.span).min();
        (item.key.is_none(), item.key.clone(), span.is_none(), span)
    });
    items
}

fn item(quoted: Vec<Quoted>, used_twice: bool) -> Item {
    let with_place = quoted.iter().find(|quoted| quoted.span.is_some());
    let with_key = quoted.iter().find(|quoted| quoted.key.is_some());
    let key = with_place
        .or(with_key)
        .and_then(|quoted| quoted.key.clone());
    let name = with_place
        .and_then(|quoted| Some(quoted.found.first()?.name.clone()))
        .or_else(|| with_key.and_then(|quoted| quoted.cited.first().cloned()));
    Item {
        key,
        name,
        quoted,
        used_twice,
    }
}

/// Pairs of quotations of the same words, the earlier first.
fn links(quoted: &[Quoted]) -> Vec<(usize, usize)> {
    let mut links = by_place(quoted);
    links.extend(by_words(quoted));
    links.sort_unstable();
    links.dedup();
    links
}

/// Those whose stretches of a source are the same for most of the shorter one.
fn by_place(quoted: &[Quoted]) -> Vec<(usize, usize)> {
    let mut spans: Vec<_> = quoted
        .iter()
        .enumerate()
        .filter_map(|(at, quoted)| quoted.span.map(|(document, words)| (document, words, at)))
        .collect();
    spans.sort_unstable();
    let mut links = Vec::new();
    for (number, (document, words, one)) in spans.iter().enumerate() {
        let behind = spans.iter().skip(number + 1);
        for (_, others, other) in
            behind.take_while(|(its, others, _)| its == document && others.start() < words.end())
        {
            let common = words.intersection(*others).len();
            if common * 2 >= words.len().min(others.len()) {
                links.push((*one.min(other), *one.max(other)));
            }
        }
    }
    links
}

/// Those of which one has all words of the other in a row.
fn by_words(quoted: &[Quoted]) -> Vec<(usize, usize)> {
    let mut with_string: FxHashMap<&[String], Vec<usize>> = FxHashMap::default();
    let mut links = Vec::new();
    for (at, this) in quoted.iter().enumerate() {
        let mut candidates: Vec<usize> = this
            .forms
            .windows(COMMON_WORDS)
            .flat_map(|string| with_string.get(string).into_iter().flatten().copied())
            .collect();
        candidates.sort_unstable();
        candidates.dedup();
        for other in candidates {
            let that = quoted.get(other).map(|quoted| quoted.forms.as_slice());
            if that.is_some_and(|that| holds(&this.forms, that) || holds(that, &this.forms)) {
                links.push((other, at));
            }
        }
        for string in this.forms.windows(COMMON_WORDS) {
            let list = with_string.entry(string).or_default();
            if list.last() != Some(&at) {
                list.push(at);
            }
        }
    }
    links
}

fn holds(whole: &[String], part: &[String]) -> bool {
    !part.is_empty() && whole.windows(part.len()).any(|window| window == part)
}

/// Disjoint sets of numbers.
struct Sets(Vec<usize>);

impl Sets {
    fn new(count: usize) -> Self {
        Self((0..count).collect())
    }

    fn root(&mut self, mut at: usize) -> usize {
        while let Some(&parent) = self.0.get(at).filter(|parent| **parent != at) {
            // Each step shortens the way for the next time.
            let above = self.0.get(parent).copied().unwrap_or(parent);
            if let Some(slot) = self.0.get_mut(at) {
                *slot = above;
            }
            at = parent;
        }
        at
    }

    fn join(&mut self, one: usize, other: usize) {
        let (one, other) = (self.root(one), self.root(other));
        if let Some(slot) = self.0.get_mut(one.max(other)) {
            *slot = one.min(other);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sets_grow_together() {
        let mut sets = Sets::new(6);
        for (one, other) in [(4, 5), (0, 1), (1, 4), (3, 3)] {
            sets.join(one, other);
        }
        let roots: Vec<usize> = (0..6).map(|at| sets.root(at)).collect();
        assert_eq!(roots, [0, 0, 2, 3, 0, 0]);
    }

    #[test]
    fn a_part_is_held_in_a_row() {
        let words = |text: &str| -> Vec<String> { text.split(' ').map(str::to_owned).collect() };
        assert!(holds(&words("a b c d"), &words("b c")));
        assert!(!holds(&words("a b c d"), &words("b d")));
        assert!(!holds(&words("a b"), &words("a b c")));
    }
}
