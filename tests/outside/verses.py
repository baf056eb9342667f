"""Rewrites in degrees: one text in several English translations, aligned verse by verse.

PyPI's `pythonbible-*` packages carry whole translations under one numbering. The `kjv` (1611/1769) stands for
the source; `akjv` modernises its spelling, `asv` (1901) revises it formally, `web` revises the `asv` again,
`ylt` (1898) is a literal and `wmth` (1903-1912) a free translation made afresh from the Greek. So the distance from the
source's wording is known beforehand: akjv < asv < web < wmth. Only these translations are used here; others are
kept aside for an independent check.
"""

import functools
import importlib
import re

SOURCE = "kjv"
TRANSLATIONS = ["akjv", "asv", "web", "ylt", "wmth"]
LINEAGE = ["akjv", "asv", "web", "wmth"]
"""Order by distance from the source; `ylt` is a line of its own."""

LEAST_WORDS = 12
NEW_TESTAMENT = range(40, 67)

BOOKS = (
    "matthew mark luke john acts romans corinthians1 corinthians2 galatians ephesians philippians colossians "
    "thessalonians1 thessalonians2 timothy1 timothy2 titus philemon hebrews james peter1 peter2 john1 john2 john3 "
    "jude revelation"
).split()
"""Reference keys of the New Testament's books, in order from number 40."""

WORD = re.compile(r"[^\W_]+(?:['’][^\W_]+)*")

COMMON = set(
    "the a an and or but of to in on at by for from with as that this these those it its he him his she her they them their "
    "we us our you your ye thou thee thy i me my who whom which what is are was were be been being am do does did have has "
    "had shall will should would may might can could not no nor so then there when if into unto upon also all one".split()
)


def book_of(verse):
    return verse // 1_000_000


def key_of(verse):
    """The reference key of a verse's book."""
    return BOOKS[book_of(verse) - NEW_TESTAMENT.start]


def chapter_of(verse):
    return verse // 1000 % 1000


def words(text):
    """The words of a text in lower case, for counting only."""
    return WORD.findall(text.lower())


def clean(text):
    """A verse without quotation marks of any kind and editors' brackets, its apostrophes made plain."""
    text = re.sub(r"(?<=\w)[`´‘’](?=\w)", "'", text)
    text = re.sub(r"[\"“”„«»‹›`´‘’\[\]{}]|(?<!\w)'|'(?!\w)", "", text)
    text = re.sub(r"\s+", " ", text).strip()
    return re.sub(r" ([,.;:?!])", r"\1", text)


def sentence(text):
    """A verse made to stand as sentences of its own: a capital first, a full stop last."""
    text = re.sub(r"[\s,;:–—-]+$", "", text)
    if not re.search(r"[.?!)]$", text):
        text += "."
    return text[:1].upper() + text[1:]


@functools.cache
def translation(name):
    """All verses of a translation: number (book, chapter, verse as BBCCCVVV) to text."""
    bible = importlib.import_module(f"pythonbible_{name}.plain_text_readers_bible").bible
    content, ends = bible.scripture_content, bible.verse_end_indices
    return {verse: clean(content[start : ends[verse]]) for verse, start in bible.verse_start_indices.items()}


def new_testament(name):
    """A translation's New Testament."""
    return {verse: text for verse, text in translation(name).items() if book_of(verse) in NEW_TESTAMENT and text}


def old_testament(name):
    """A translation's Old Testament."""
    return {verse: text for verse, text in translation(name).items() if book_of(verse) < NEW_TESTAMENT.start and text}


@functools.cache
def _stem():
    import snowballstemmer

    stemmer = snowballstemmer.stemmer("english")
    return functools.cache(stemmer.stemWord)


def telling(text):
    """Stems of the words that are not common ones."""
    stem = _stem()
    return {stem(word) for word in words(text) if word not in COMMON}


@functools.cache
def aligned(name):
    """Verses of `name` set against the source's: a pair of (list of verse numbers, number dropped).

    Both sides have 12 words or more. A few verses stand at a wrong number in the packages; a verse that shares
    no telling word's stem with the source's verse is taken for one of them and dropped.
    """
    source, other = new_testament(SOURCE), new_testament(name)
    kept, dropped = [], 0
    for verse in sorted(source):
        if min(len(words(source[verse])), len(words(other.get(verse, "")))) < LEAST_WORDS:
            continue
        if telling(source[verse]) & telling(other[verse]):
            kept.append(verse)
        else:
            dropped += 1
    return kept, dropped


def runs(name, length):
    """Non-overlapping runs of `length` consecutive verses within a chapter, none of them misplaced."""
    source, other = new_testament(SOURCE), new_testament(name)
    found, run = [], []
    for verse in sorted(source):
        fits = verse in other and telling(source[verse]) & telling(other[verse])
        follows = not run or verse == run[-1] + 1
        run = (run if follows and fits else []) + ([verse] if fits else [])
        if len(run) == length:
            found.append(tuple(run))
            run = []
    return found


def word_runs(text, length):
    """All runs of `length` words in a text."""
    own = words(text)
    return {tuple(own[at : at + length]) for at in range(len(own) - length + 1)}


@functools.cache
def runs_of_words(length):
    """All runs of `length` words within verses of any translation's New Testament."""
    return {run for name in (SOURCE, *TRANSLATIONS) for text in new_testament(name).values() for run in word_runs(text, length)}


def odd(verse):
    """Whether a verse's book has an odd number: the split that shows overfitting to single books."""
    return book_of(verse) % 2 == 1
