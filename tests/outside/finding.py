"""Finding: passages of each translation planted into independent prose, the source's books as sources.

A passage is three consecutive New Testament verses of 15 to 80 words together, without quotation marks. Drafts are
made of Brown texts (see prose.py), without those on religion (`cd`), which quote and paraphrase the sources, and without
paragraphs elsewhere that quote them: no prose is independent of a text it quotes. A finding counts where its kind says that wording comes from a source and its
weight is `act` or `look`; findings of weight `know` are counted in a column of their own. *Found* asks for an overlap in the
draft; *right* also for the right book and an overlap with the verses; characters and granularity are those of potthast.py.
"""


import engine
import planting
import potthast
import prose
import verses
from figures import Figures
from places import FULL, OUTSIDE, seeded

PASSAGES = 900 if FULL else 300
DRAFTS = 6
LEAST, MOST = 15, 80
HOSTS = [group for group in prose.GROUPS if group != "cd"]
KINDS = {"unmarked-copy", "close-paraphrase", "uncredited-paraphrase", "credit-elsewhere", "lost-quotation-marks"}


def books():
    """The source's books as texts with a page mark a chapter, and the byte range of each verse."""
    texts, ranges = {}, {}
    chapter = None
    for verse, text in sorted(verses.new_testament(verses.SOURCE).items()):
        key = verses.key_of(verse)
        book = texts.setdefault(key, bytearray())
        if (key, verses.chapter_of(verse)) != chapter:
            chapter = (key, verses.chapter_of(verse))
            book.extend(f"{chr(10) * 2 if book else ''}[p. {chapter[1]}]\n\n".encode())
        else:
            book.extend(b" ")
        start = len(book)
        book.extend(text.encode("utf-8"))
        ranges[verse] = (start, len(book))
    return {key: bytes(book).decode("utf-8") + "\n" for key, book in texts.items()}, ranges


def passages(name, random, count):
    """Planted passages of a translation: (text, (first verse, last verse))."""
    other = verses.new_testament(name)
    found = []
    for run in verses.runs(name, 3):
        text = " ".join(verses.sentence(other[verse]) for verse in run)
        if LEAST <= len(verses.words(text)) <= MOST:
            found.append((text, (run[0], run[-1])))
    return random.sample(found, min(count, len(found)))


def without_quotations(blocks):
    """A host's paragraphs that share no eight words in a row with any translation, and how many were left out."""
    scripture = verses.runs_of_words(8)
    fine = [block for block in blocks if not verses.word_runs(" ".join(s.text for s in block), 8) & scripture]
    return fine, len(blocks) - len(fine)


def kept(findings, weights):
    return [one for one in findings if one["kind"] in KINDS and one["weight"] in weights]


def detections(draft, findings):
    """Findings as detections; one without a source (a lost quotation) points at nowhere."""
    result = []
    for one in findings:
        source = one["source"] or {"key": None, "start": 0, "end": 1}
        span = one["draft"]
        result.append(potthast.Case(draft, span["start"], span["end"], source["key"], source["start"], source["end"]))
    return result


def overlaps(one, other):
    return one.draft == other.draft and one.start < other.end and other.start < one.end


def report(figures, name, cases, found, known, host_words):
    """Records the figures of one translation."""
    hit = [any(overlaps(case, one) for one in found) for case in cases]
    right = [any(potthast.common(case, one) for one in found) for case in cases]
    know = [not done and any(overlaps(case, one) for one in known) for case, done in zip(cases, hit)]
    stray = [one for one in found if not any(overlaps(case, one) for case in cases)]
    halves = []
    for odd in (1, 0):
        among = [done for case, done in zip(cases, hit) if (verses.BOOKS.index(case.source) + 40) % 2 == odd]
        halves.append(sum(among) / max(1, len(among)))
    own = potthast.draft_side(cases, found)
    figures.record(f"{name}.found", sum(hit) / len(cases), f"n {len(cases)}; odd books {halves[0]:.3f}, even {halves[1]:.3f}")
    figures.record(f"{name}.only_know", sum(know) / len(cases), "found at weight know only")
    figures.record(f"{name}.right_source", sum(right) / max(1, sum(hit)), "of those found: right book and verses")
    figures.record(f"{name}.recall", potthast.recall(cases, found), f"characters; draft side alone {own[0]:.3f}")
    figures.record(f"{name}.precision", potthast.precision(cases, found), f"characters; draft side alone {own[1]:.3f}")
    figures.record(f"{name}.granularity", potthast.granularity(cases, found), "findings a passage")
    figures.record(f"{name}.stray", 10_000 * len(stray) / host_words, f"a 10,000 words; {len(stray)} in {host_words:,} words")
    return [case for case, done in zip(cases, hit) if not done], stray


def main():
    figures = Figures("finding", "Finding: three verses planted into independent prose (Potthast et al. 2010)")
    texts, ranges = books()
    where = engine.review(engine.folder("finding"), texts)
    drafts, cases, host_words, contents, left_out = [], {}, {}, {}, 0
    for name in verses.TRANSLATIONS:
        random = seeded(f"finding {name}")
        chosen = passages(name, random, PASSAGES)
        names = random.sample(prose.names(*HOSTS), 60 if not FULL else 180)
        for number, blocks in enumerate(planting.hosts(names, DRAFTS, random)):
            blocks, fewer = without_quotations(blocks)
            left_out += fewer
            content, planted = planting.plant(blocks, chosen[number::DRAFTS], random)
            path = where / f"{name}-{number}.txt"
            path.write_bytes(content)
            drafts.append(path)
            contents[path.name] = content
            host_words[name] = host_words.get(name, 0) + sum(s.words for block in blocks for s in block)
            for one in planted:
                first, last = one.about
                key, start, end = verses.key_of(first), ranges[first][0], ranges[last][1]
                cases.setdefault(name, []).append(potthast.Case(path.name, one.start, one.end, key, start, end))
    findings = dict(zip((draft.name for draft in drafts), engine.check(where, drafts)))
    listing = []
    for name in verses.TRANSLATIONS:
        own = [(draft.name, findings[draft.name]) for draft in drafts if draft.name.startswith(f"{name}-")]
        found = [one for draft, list in own for one in detections(draft, kept(list, {"act", "look"}))]
        known = [one for draft, list in own for one in detections(draft, kept(list, {"know"}))]
        missed, stray = report(figures, name, cases[name], found, known, host_words[name])
        for what, these in (("missed", missed), ("stray", stray)):
            for one in these:
                listing.append(f"{name} {what}: {contents[one.draft][one.start : one.end].decode('utf-8', 'replace')}")
                source = texts.get(one.source, "").encode("utf-8")[one.source_start : one.source_end]
                listing.append(f"    {one.source}: {source.decode('utf-8', 'replace')}\n")
    (OUTSIDE / "finding.txt").write_text("\n".join(listing), encoding="utf-8")
    figures.about += f"; {left_out} host paragraphs that quote the sources left out"
    figures.save()


if __name__ == "__main__":
    main()
