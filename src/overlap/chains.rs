//! Chains: shared strings that follow one another in both texts with few words between them. A copied
//! sentence leaves such a chain when a few of its words are changed.

use super::library::Draft;
use super::positions::StreamRange;
use super::strings::Run;

/// Consecutive shared strings of one document.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Chain {
    /// From the first to the last string in the draft.
    pub draft: StreamRange,
    /// The same in the document.
    pub source: StreamRange,
    /// The strings in order.
    pub runs: Vec<Run>,
}

/// Words that may stand between two strings of a chain, in either text.
pub(crate) const GAP_WORDS: usize = 8;

/// Words by which two strings may overlap, where the draft has once what the source repeats.
const OVERLAP_WORDS: usize = 3;

/// Least weight (nats) of a shared string that is shorter than `run_words` but still telling: three to four
/// rare words. Strings shared by chance are formulae of common words.
pub(crate) const TELLING_WEIGHT: f32 = 36.0;

/// Least length of such a string.
pub(crate) const TELLING_WORDS: usize = 5;

/// Joins one document's runs, which are given in the order of the draft.
#[must_use]
pub(crate) fn chains(runs: &[Run]) -> Vec<Chain> {
    let mut closed: Vec<Chain> = Vec::new();
    let mut open: Vec<Chain> = Vec::new();
    for run in runs {
        let (gone, still): (Vec<_>, Vec<_>) = open
            .into_iter()
            .partition(|chain| chain.draft.end() + GAP_WORDS < run.draft.start());
        closed.extend(gone);
        open = still;
        match open.iter_mut().find(|chain| follows(chain, run)) {
            Some(chain) => {
                chain.draft = chain.draft.hull(run.draft);
                chain.source = chain.source.hull(run.source);
                chain.runs.push(*run);
            }
            None => open.push(Chain {
                draft: run.draft,
                source: run.source,
                runs: vec![*run],
            }),
        }
        // A text that repeats itself opens one chain per repetition; the oldest are dropped.
        if open.len() > MOST_OPEN {
            closed.push(open.remove(0));
        }
    }
    closed.extend(open);
    closed.sort_by_key(|chain| (chain.draft, chain.source));
    closed
}

const MOST_OPEN: usize = 64;

fn follows(chain: &Chain, run: &Run) -> bool {
    let near = |end: usize, start: usize| start + OVERLAP_WORDS >= end && start <= end + GAP_WORDS;
    near(chain.draft.end(), run.draft.start())
        && near(chain.source.end(), run.source.start())
        && run.draft.end() > chain.draft.end()
        && run.source.end() > chain.source.end()
}

/// The most consecutive words of a run that stand outside quotation marks.
#[must_use]
pub(crate) fn unmarked_words(run: &Run, draft: &Draft) -> usize {
    let marked = draft.quoted.get(run.draft.as_range()).unwrap_or_default();
    let stretches = marked.split(|quoted| *quoted);
    stretches.map(<[bool]>::len).max().unwrap_or(0)
}

/// A run without the function words, at most [`OVERHANG_WORDS`], by which it reaches into a sentence before or behind; as it is
/// where fewer than `run_words` words were left.
#[must_use]
pub(crate) fn without_overhang(run: Run, draft: &Draft, run_words: usize) -> Run {
    let stream = &draft.stream;
    let sentence = |at: usize| {
        let sentence = stream.sentences.get(stream.sentence_of(at));
        sentence.copied().unwrap_or_default()
    };
    let small = |words: StreamRange| {
        let mut forms = stream.slice(words).iter();
        words.len() <= OVERHANG_WORDS && forms.all(|form| !draft.lexicon.is_content(*form))
    };
    let (start, end) = (run.draft.start(), run.draft.end());
    let first = StreamRange::of(start, sentence(start).end().clamp(start, end));
    let last = sentence(end.saturating_sub(1));
    let last = StreamRange::of(last.start().clamp(start, end), end);
    let is_begun = start > sentence(start).start();
    let before = match first.end() < end && is_begun && small(first) {
        true => first.len(),
        false => 0,
    };
    let is_cut = end < sentence(end.saturating_sub(1)).end();
    let behind = match last.start() > start && is_cut && small(last) {
        true => last.len(),
        false => 0,
    };
    if run.draft.len() < run_words.max(LEAST_LEFT) + before + behind {
        return run;
    }
    let inner = |range: StreamRange| StreamRange::of(range.start() + before, range.end() - behind);
    Run {
        draft: inner(run.draft),
        source: inner(run.source),
    }
}

/// Fewest words of a run that loses some: one that length shows to be no matter of chance must not look like one.
const LEAST_LEFT: usize = 9;

/// Words by which a run may hang over the end of a sentence by chance. Our own choice.
const OVERHANG_WORDS: usize = 2;

/// Whether a run is a copy by itself: `run_words` unmarked words, or fewer that are unlikely to come together
/// by chance.
#[must_use]
pub(crate) fn is_copy(run: &Run, draft: &Draft, run_words: usize) -> bool {
    let unmarked = unmarked_words(run, draft);
    unmarked >= run_words
        || (unmarked >= TELLING_WORDS && unmarked == run.draft.len() && is_telling(run, draft))
}

fn is_telling(run: &Run, draft: &Draft) -> bool {
    content_weight(run, draft) >= TELLING_WEIGHT
}

/// The weight (nats) of a run's content words, each once.
#[must_use]
pub(crate) fn content_weight(run: &Run, draft: &Draft) -> f32 {
    let lexicon = &draft.lexicon;
    let forms = draft.stream.slice(run.draft).iter();
    let content = forms.filter(|form| lexicon.is_content(**form));
    let mut stems: Vec<_> = content.map(|form| lexicon.stem(*form)).collect();
    stems.sort_unstable();
    stems.dedup();
    stems.into_iter().map(|stem| lexicon.weight(stem)).sum()
}
