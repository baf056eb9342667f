"""Strings and alignment: the measures of `place --pairs` against independent computations on the same words.

* longest_string: difflib's SequenceMatcher (Ratcliff and Obershelp's longest block) where all words have content, and a
  plain dynamic programme over all common strings with a content word where they don't;
* order: the longest common subsequence by RapidFuzz (LCSseq) over the counterparts, every word being unique;
* sequence: over all stretches of the source, twice the longest common subsequence by RapidFuzz over the words of both,
  words repeating;
* string_share: words in a bigram that both texts have, by scikit-learn's CountVectorizer, every word being unique;
* kept_content: words within the allowed restricted Damerau-Levenshtein distance by RapidFuzz (OSA) of their source word;
* the guarantee, through `check`: every planted run of exactly `run_words` words of a source is reported.

Agreement must be exact (shares to the four decimals printed); every disagreement is printed.
"""

import difflib

import engine
import finding
import nonsense
import prose
from figures import Figures
from places import FULL, ROOT, seeded

PAIRS = 8000 if FULL else 2000
PLANTED = 1200 if FULL else 400
RUN_WORDS = 7
SHOWN = 5
"""Disagreements printed of each kind."""


def longest(one, other, content):
    """Length of the longest common string that holds a word of `content` (dynamic programme, quadratic)."""
    best, before = 0, {}
    for at, word in enumerate(one):
        here = {}
        for place, theirs in enumerate(other):
            if word == theirs:
                length = before.get(place - 1, 0) + 1
                here[place] = length
                if length > best and length >= 2 and any(word in content for word in one[at - length + 1 : at + 1]):
                    best = length
        before = here
    return best


def shuffled_copy(random, source, vocabulary):
    """A rewrite that keeps runs of the source, moves some, and has words of its own."""
    result = []
    for _ in range(random.randint(1, 6)):
        start = random.randrange(len(source))
        result += source[start : start + random.randint(1, 9)]
        result += random.sample(vocabulary, random.randint(0, 3))
    return result


def unique(words):
    return list(dict.fromkeys(words))


def agree(figures, name, pairs, expected, measured, note):
    """Places the pairs and records the share that agrees with what is expected."""
    placed = engine.place([(" ".join(source), " ".join(rewrite)) for source, rewrite in pairs])
    wrong = [
        (pair, want, measured(place["measures"]))
        for pair, want, place in zip(pairs, expected, placed)
        if abs(want - measured(place["measures"])) > 0.5e-4 + 1e-9
    ]
    for (source, rewrite), want, got in wrong[:SHOWN]:
        print(f"{name}: expected {want:g}, got {got:g}\n  source:  {' '.join(source)}\n  rewrite: {' '.join(rewrite)}")
    figures.record(name, 1 - len(wrong) / len(pairs), f"of {len(pairs)} pairs agree with {note}")


def longest_strings(figures):
    random, vocabulary = seeded("strings longest"), nonsense.words()
    pairs, expected = [], []
    for _ in range(PAIRS):
        few = random.sample(vocabulary, random.randint(12, 60))
        source = [random.choice(few) for _ in range(random.randint(10, 60))]
        rewrite = shuffled_copy(random, source, vocabulary)
        block = difflib.SequenceMatcher(None, source, rewrite, autojunk=False).find_longest_match()
        pairs.append((source, rewrite))
        expected.append(block.size if block.size >= 2 else 0)
    agree(figures, "longest.content", pairs, expected, lambda measures: measures["longest_string"], "difflib")
    pairs = []
    for _ in range(PAIRS):
        source = nonsense.mixed(random, random.sample(vocabulary, 20), random.randint(10, 50))
        rewrite = shuffled_copy(random, source, nonsense.FUNCTION + random.sample(vocabulary, 4))
        pairs.append((source, rewrite))
    expected = [longest(rewrite, source, set(vocabulary)) for source, rewrite in pairs]
    agree(figures, "longest.mixed", pairs, expected, lambda measures: measures["longest_string"], "a dynamic programme")


def function_words():
    """The engine's own list of words without content."""
    lines = (ROOT / "src/wording/data/function_words.txt").read_text(encoding="utf-8").splitlines()
    return {word for line in lines if not line.startswith("#") for word in line.split()}


def longest_in_prose(figures):
    """Real sentences, mutated: their plain words only, so that no rule of reading interferes."""
    random, empty = seeded("strings prose"), function_words()
    sentences = []
    for name in prose.names("cg"):
        for block in prose.paragraphs(name):
            for sentence in block:
                words = [word for word in sentence.text.split() if word.isascii() and word.isalpha() and word.islower()]
                sentences.append(words) if len(words) >= 12 else None
    pairs = []
    for _ in range(PAIRS):
        source, other = random.choice(sentences), random.choice(sentences)
        pairs.append((source, shuffled_copy(random, source, other)))
    content = {word for pair in pairs for words in pair for word in words} - empty
    expected = [longest(rewrite, source, content) for source, rewrite in pairs]
    agree(figures, "longest.prose", pairs, expected, lambda measures: measures["longest_string"], "a dynamic programme")


def order_and_share(figures):
    from rapidfuzz.distance import LCSseq
    from sklearn.feature_extraction.text import CountVectorizer

    random, vocabulary = seeded("strings order"), nonsense.words()
    pairs, orders, shares, kept = [], [], [], []
    for _ in range(PAIRS):
        source = random.sample(vocabulary, random.randint(8, 40))
        rewrite = unique(shuffled_copy(random, source, vocabulary))
        known = set(source)
        common = [word for word in rewrite if word in known]
        subsequence = LCSseq.similarity(common, source)
        vectorizer = CountVectorizer(ngram_range=(2, 2), binary=True, token_pattern=r"\S+")
        counts = vectorizer.fit_transform([" ".join(source), " ".join(rewrite)] if len(rewrite) > 1 else [" ".join(source)] * 2)
        both = {gram for gram, at in vectorizer.vocabulary_.items() if counts[0, at] and counts[1, at]}
        inside = [
            any(" ".join(rewrite[at : at + 2]) in both for at in (place - 1, place) if 0 <= at < len(rewrite) - 1)
            for place in range(len(rewrite))
        ]
        pairs.append((source, rewrite))
        orders.append(subsequence / len(common) if common else 0)
        shares.append(sum(inside) / len(rewrite))
        kept.append(len(common) / len(rewrite))
    agree(figures, "order", pairs, orders, lambda measures: measures["order"], "RapidFuzz LCSseq")
    agree(figures, "string_share", pairs, shares, lambda measures: measures["string_share"], "scikit-learn bigrams")
    agree(figures, "kept_content", pairs, kept, lambda measures: measures["kept_content"], "set counts")


def sequence(source, rewrite):
    """The largest of twice the longest common subsequence over the words of both, all stretches of the source tried."""
    from rapidfuzz.distance import LCSseq

    kept = [at for at, word in enumerate(source) if word in set(rewrite)]
    return max(
        (
            2 * LCSseq.similarity(rewrite, source[first : last + 1]) / (len(rewrite) + last + 1 - first)
            for first in kept
            for last in kept
            if first <= last
        ),
        default=0,
    )


def sequences(figures):
    random, vocabulary = seeded("strings sequence"), nonsense.words()
    pairs = []
    for _ in range(PAIRS):
        few = random.sample(vocabulary, random.randint(6, 40))
        source = [random.choice(few) for _ in range(random.randint(8, 40))]
        pairs.append((source, shuffled_copy(random, source, vocabulary)))
    expected = [sequence(source, rewrite) for source, rewrite in pairs]
    agree(figures, "sequence", pairs, expected, lambda measures: measures["sequence"], "RapidFuzz LCSseq over all stretches")


def edited(random, word):
    """A word after up to four edits behind its first letter."""
    letters = list(word)
    for _ in range(random.randint(0, 4)):
        at = random.randrange(1, len(letters) - 1)
        edit = random.randrange(4)
        if edit == 0:
            letters[at] = random.choice("abdefgijklmnoprtuvz")
        elif edit == 1 and len(letters) > 6:
            del letters[at]
        elif edit == 2:
            letters.insert(at, random.choice("abdefgijklmnoprtuvz"))
        else:
            letters[at], letters[at + 1] = letters[at + 1], letters[at]
    return "".join(letters)


def misspellings(figures):
    """The documented rule: at most 1 edit for 5 to 8 letters in the shorter word, 2 from 9 on, first letter kept."""
    from rapidfuzz.distance import OSA

    random, vocabulary = seeded("strings misspellings"), nonsense.words()
    pairs, expected = [], []
    for _ in range(PAIRS):
        source = random.sample(vocabulary, 6)
        rewrite = [edited(random, word) for word in source]
        if any(misread in word for word in rewrite for misread in ("vv", "rn")):
            continue
        near = [
            nonsense.stem(one) == nonsense.stem(other) or OSA.distance(one, other) <= (1 if min(len(one), len(other)) <= 8 else 2)
            for one, other in zip(source, rewrite)
        ]
        pairs.append((source, rewrite))
        expected.append(sum(near) / len(near))
    agree(figures, "misspellings", pairs, expected, lambda measures: measures["kept_content"], "RapidFuzz OSA")


def printed(random, words):
    """Words as prose: sentences of 8 to 25 words, paragraphs of 4 sentences; and the byte range of each word."""
    text, ranges, left, sentence = bytearray(), [], 0, 0
    for number, word in enumerate(words):
        if left == 0:
            if number:
                text.extend(b".\n\n" if sentence % 4 == 0 else b". ")
            left, sentence = random.randint(8, 25), sentence + 1
        else:
            text.extend(b" ")
        ranges.append((len(text), len(text) + len(word)))
        text.extend(word.encode())
        left -= 1
    return bytes(text) + b".\n", ranges


def guarantee(figures):
    random, vocabulary = seeded("strings guarantee"), nonsense.words()
    theirs, own = vocabulary[:1000], vocabulary[1000:]
    sources = {f"source{number}": nonsense.mixed(random, theirs, 2500) for number in range(12)}
    where = engine.review(
        engine.folder("strings"), {key: printed(random, words)[0].decode() for key, words in sources.items()}
    )
    paths, planted = [], []
    for number in range(8):
        words, runs = [], []
        for _ in range(PLANTED // 8):
            words += nonsense.mixed(random, own, random.randint(15, 60)) + [random.choice(own)]
            run = None
            while run is None or not any(word in set(theirs) for word in run):
                source = random.choice(sorted(sources))
                start = random.randrange(len(sources[source]) - RUN_WORDS)
                run = sources[source][start : start + RUN_WORDS]
            runs.append((len(words), len(words) + RUN_WORDS))
            words += run + [random.choice(own)]
        text, ranges = printed(random, words)
        paths.append(where / f"draft{number}.txt")
        paths[-1].write_bytes(text)
        planted.append([(ranges[start][0], ranges[end - 1][1], " ".join(words[start:end])) for start, end in runs])
    missed = total = 0
    for path, runs, findings in zip(paths, planted, engine.check(where, paths)):
        covered = [(one["draft"]["start"], one["draft"]["end"]) for one in findings if one["kind"] in finding.KINDS]
        for start, end, text in runs:
            total += 1
            if not any(first <= start and end <= last for first, last in covered):
                missed += 1
                if missed <= SHOWN:
                    print(f"guarantee: not reported: {text} ({path.name} {start}..{end})")
    figures.record("guarantee", 1 - missed / total, f"of {total} planted runs of exactly {RUN_WORDS} words reported by check")


def main():
    figures = Figures("strings", "Strings and alignment: share of inputs on which independent computations agree")
    longest_strings(figures)
    longest_in_prose(figures)
    order_and_share(figures)
    sequences(figures)
    misspellings(figures)
    guarantee(figures)
    figures.save()


if __name__ == "__main__":
    main()
