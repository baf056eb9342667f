"""How far two readings of a document agree: words in order, by their longest common subsequence.

`ratio` is twice the length of the longest common subsequence over the number of words of both readings, `share` its length
over the words of the longer one, so that 4 % of words lost are 4 % less, as are 4 % that the other has not. Words are compared by NFKC and without case, hyphens within words left out, so that a word
broken at a line end is the same word. Notes may stand elsewhere in the other reading, each in one piece (`with_notes`).
Run by itself, this file checks that planted losses and a wrong order show.
"""

import difflib
import re
import unicodedata

from rapidfuzz.distance import LCSseq

WORD = re.compile(r"[^\W_]+(?:['’][^\W_]+)*")
LONG = 6000
"""Words beyond which `differences` would take minutes."""

HYPHENS = "-\u2010\u2011\u00ad"
PIECE = 0.9
"""The share of a note's words, in order, that have to stand together in the other reading."""


def words(text):
    text = unicodedata.normalize("NFKC", text).casefold()
    # A hyphen between letters, with or without the line end behind it.
    text = re.sub(rf"(?<=[^\W_])[{HYPHENS}]\s*\n\s*(?=[^\W_])", "", text)
    return WORD.findall(re.sub(f"[{HYPHENS}]", "", text))


def common(one, other):
    """Length of the longest common subsequence."""
    numbers = {}
    number = lambda word: numbers.setdefault(word, len(numbers))
    return LCSseq.similarity([number(word) for word in one], [number(word) for word in other])


def ratio(one, other):
    return 2 * common(one, other) / max(1, len(one) + len(other))


def share(one, other):
    return with_notes([one], [False], other)


def take(note, reading):
    """The place of a note in a reading, (from, to, common words), or None where it is not there in one piece."""
    best = None
    for lead in range(min(3, len(note))):
        head = note[lead : lead + 3]
        for at in range(len(reading)):
            if reading[at] == head[0] and reading[at : at + len(head)] == head:
                start = max(0, at - lead)
                shared = common(note, reading[start : start + len(note)])
                if best is None or shared > best[2]:
                    best = (start, start + len(note), shared)
        if best:
            break
    return best if best and best[2] >= PIECE * len(note) else None


def with_notes(body, notes, reading):
    """The ratio of a reading and of ours, which is `body`, lists of words in our order. The lists
    that `notes` says are notes may stand elsewhere; one that is not in the reading in one piece stays where it is."""
    text, shared, total = [], 0, max(sum(len(piece) for piece in body), len(reading))
    reading = list(reading)
    for piece, is_note in zip(body, notes):
        place = take(piece, reading) if is_note else None
        if place is None:
            text += piece
        else:
            start, end, found = place
            shared += found
            del reading[start:end]
    return (shared + common(text, reading)) / max(1, total)


def differences(one, other, most=12):
    """The first places where two readings differ, for the log."""
    if max(len(one), len(other)) > LONG:
        return ["    (too long for a comparison word by word)"]
    found = []
    for what, a, b, c, d in difflib.SequenceMatcher(None, one, other, autojunk=False).get_opcodes():
        if what != "equal":
            found.append(f"    ...{' '.join(one[max(0, a - 3) : a])} [{' '.join(one[a:b][:15])} | {' '.join(other[c:d][:15])}]")
    return found[:most]


def check():
    """Fails where planted faults would pass: words lost, words moved, two columns read across, a note torn apart."""
    import random

    chance = random.Random(7)
    text = [f"w{chance.randrange(4000)}" for _ in range(6000)]
    lost = [word for index, word in enumerate(text) if index % 25]
    paragraph = text[:3000] + text[3240:]
    across = [word for at in range(0, 3000, 8) for word in text[at : at + 8] + text[3000 + at : 3008 + at]]
    faults = {"4 % of words": lost, "a paragraph of 4 %": paragraph, "columns read across": across}
    for name, reading in faults.items():
        assert share(reading, text) < 0.97 and share(text, reading) < 0.97, name
    note, body = text[1000:1400], text[:1000] + text[1400:]
    assert with_notes([body, note], [False, True], text) == 1
    assert with_notes([body, note], [False, False], text) < 0.97
    assert with_notes([body, note[::-1]], [False, True], text) < 0.97
    assert with_notes([body, []], [False, True], text) < 0.97
    assert share(words("Well-lit paths, na\u00efve moths: e\ufb03cient."), words("well-\nlit paths naïve moths efficient")) == 1


if __name__ == "__main__":
    check()
