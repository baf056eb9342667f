"""Drafts with planted passages: independent prose in which some passages come from a known place of a source.

A passage goes in as a paragraph of its own or between two sentences of a paragraph (one after the other in turn by
chance), never inside an open quotation, and at least two paragraphs away from the next one, so that each is a passage of its own.
"""

from dataclasses import dataclass

import prose

APART = 2
"""Least number of paragraphs from one planted passage to the next."""


@dataclass(frozen=True)
class Planted:
    """A planted passage: its bytes [start, end) in the draft, and whatever its check wants to know again."""

    start: int
    end: int
    about: object


def hosts(names, count, random):
    """Paragraph lists for `count` drafts, the texts dealt out in a random order, whole texts only."""
    names = list(names)
    random.shuffle(names)
    return [[block for name in sorted(names[number::count]) for block in prose.paragraphs(name)] for number in range(count)]


def room(blocks):
    """How many passages a host has room for."""
    return max(0, (len(blocks) - 1) // APART)


def hosts_with_room(names, count, passages, random):
    """Paragraph lists for `count` drafts, each of as many whole texts as `passages` passages need."""
    names, result = list(names), []
    random.shuffle(names)
    for _ in range(count):
        blocks = []
        while room(blocks) < passages:
            blocks += prose.paragraphs(names.pop())
        result.append(blocks)
    return result


def plant(blocks, passages, random):
    """Plants (text, about) passages; returns the draft as bytes and what was planted where."""
    if len(passages) > room(blocks):
        raise SystemExit(f"a draft of {len(blocks)} paragraphs has no room for {len(passages)} passages")
    places = random.sample(range(room(blocks)), len(passages))
    at = {place * APART + 1: passage for place, passage in zip(places, passages)}
    draft, planted = bytearray(), []

    def add(text):
        draft.extend(text.encode("utf-8"))

    def put(passage):
        start = len(draft)
        add(passage[0])
        planted.append(Planted(start, len(draft), passage[1]))

    for number, block in enumerate(blocks):
        passage = at.get(number)
        if number:
            add("\n\n")
        open_after = prose.quoted(block)
        gaps = [gap for gap in range(1, len(block)) if not open_after[gap - 1]]
        inside = passage is not None and gaps and random.random() < 0.5
        gap = random.choice(gaps) if inside else None
        if passage is not None and not inside:
            put(passage)
            add("\n\n")
        for position, sentence in enumerate(block):
            if position:
                add(" ")
            if position == gap:
                put(passage)
                add(" ")
            add(sentence.text)
    add("\n")
    return bytes(draft), planted
