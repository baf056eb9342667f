"""Pronounceable words that mean nothing: no two share a stem, none is a misspelling of another or stands in a dictionary.

With such words every counterpart is known beforehand, so measures can be recomputed independently and must agree exactly.
"""

import functools

from places import seeded

FUNCTION = "the of and in to a with for on by from at that which is was".split()
"""Words without content by any list of function words."""

LEAST_DISTANCE = 4
"""Edits between any two words: beyond any allowance for misspellings."""


@functools.cache
def words(count=1500, length=9):
    """`count` different words: syllables of a consonant and a vowel, closed by a consonant that is no suffix's."""
    from rapidfuzz import process
    from rapidfuzz.distance import OSA

    random, accepted = seeded("nonsense"), []
    while len(accepted) < count:
        syllables = "".join(random.choice("bdfgjklmnprtvz") + random.choice("aeiou") for _ in range((length - 1) // 2))
        word = syllables + random.choice("bgkp")
        if not accepted or process.cdist([word], accepted, scorer=OSA.distance, score_cutoff=LEAST_DISTANCE - 1).min() >= LEAST_DISTANCE:
            accepted.append(word)
    stems = {stem(word) for word in accepted}
    assert len(stems) == count, "two words share a stem"
    return tuple(accepted)


@functools.cache
def _stemmer():
    import snowballstemmer

    return snowballstemmer.stemmer("english")


def stem(word):
    """The Snowball English stem, by PyPI's `snowballstemmer`."""
    return _stemmer().stemWord(word)


def mixed(random, vocabulary, length):
    """A list of words, about two in five of them function words."""
    return [random.choice(FUNCTION) if random.random() < 0.4 else random.choice(vocabulary) for _ in range(length)]
