"""How far two readings of a document agree: words in order, by their longest common subsequence.

The ratio is twice the length of the longest common subsequence over the number of words of both readings (1 where they
are the same). Words are compared by NFKC and without case, hyphens within words left out, so that a word
broken at a line end is the same word.
"""

import difflib
import re
import unicodedata

from rapidfuzz.distance import LCSseq

WORD = re.compile(r"[^\W_]+(?:['’][^\W_]+)*")
LONG = 6000
"""Words beyond which `differences` would take minutes."""

HYPHENS = "-\u2010\u2011\u00ad"


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


def differences(one, other, most=12):
    """The first places where two readings differ, for the log."""
    if max(len(one), len(other)) > LONG:
        return ["    (too long for a comparison word by word)"]
    found = []
    for what, a, b, c, d in difflib.SequenceMatcher(None, one, other, autojunk=False).get_opcodes():
        if what != "equal":
            found.append(f"    ...{' '.join(one[max(0, a - 3) : a])} [{' '.join(one[a:b][:15])} | {' '.join(other[c:d][:15])}]")
    return found[:most]
