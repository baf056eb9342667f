"""How far two readings of a document agree: words in order, by their longest common subsequence.

The ratio is twice the length of the longest common subsequence over the number of words of both readings (1 where they
are the same). Words are compared by NFKC and without case, hyphens within words left out, so that a word
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
    text, shared, total = [], 0, sum(len(piece) for piece in body) + len(reading)
    reading = list(reading)
    for piece, is_note in zip(body, notes):
        place = take(piece, reading) if is_note else None
        if place is None:
            text += piece
        else:
            start, end, found = place
            shared += found
            del reading[start:end]
    return 2 * (shared + common(text, reading)) / max(1, total)


def differences(one, other, most=12):
    """The first places where two readings differ, for the log."""
    if max(len(one), len(other)) > LONG:
        return ["    (too long for a comparison word by word)"]
    found = []
    for what, a, b, c, d in difflib.SequenceMatcher(None, one, other, autojunk=False).get_opcodes():
        if what != "equal":
            found.append(f"    ...{' '.join(one[max(0, a - 3) : a])} [{' '.join(one[a:b][:15])} | {' '.join(other[c:d][:15])}]")
    return found[:most]
