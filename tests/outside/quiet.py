"""Quiet: texts that owe nothing to the sources must bring next to no findings.

Two trials. *Prose*: Brown texts as drafts, other Brown texts as sources (about 170,000 against 490,000 words; writers of
1961 on like topics). *Scripture*: Old Testament chapters of the `asv` as drafts, New Testament books of the `kjv` as
sources: same register, names and formulae, other content. The New Testament does quote the Old; a verse that
shares ten words in a row with it is a quotation and left out, shorter borrowings stay in. Every finding is listed in
`.outside/quiet.txt` with both wordings, so that a person can judge it.
"""

from collections import Counter

import engine
import finding
import prose
import verses
from figures import Figures
from places import FULL, OUTSIDE, seeded

QUOTATION = 10
"""Words in a row from which on an Old Testament verse is taken for quoted in the New."""

CHAPTERS = 929 if FULL else 250
"""Old Testament chapters that are sampled, of 929."""


def prose_trial():
    """Review folder, drafts: `cn` and every second text of `cf`, `cg` against all other texts."""
    where = engine.folder("quiet-prose")
    names = prose.names("cn") + prose.names("cf", "cg")[::2]
    rest = [name for name in prose.names(*prose.GROUPS) if name not in set(names)]
    engine.review(where, {name: prose.plain(name) for name in rest})
    return where, {name: prose.plain(name) for name in names}


def scripture_trial():
    """Review folder, drafts: chapters of the Old Testament, a paragraph each, twenty a draft."""
    where = engine.review(engine.folder("quiet-scripture"), finding.books()[0])
    quoted = verses.runs_of_words(QUOTATION)
    chapters, left_out = {}, 0
    for verse, text in sorted(verses.old_testament("asv").items()):
        if verses.word_runs(text, QUOTATION) & quoted:
            left_out += 1
        else:
            chapters.setdefault(verse // 1000, []).append(text)
    chosen = sorted(seeded("quiet scripture").sample(sorted(chapters), min(CHAPTERS, len(chapters))))
    parts = [chosen[at : at + 20] for at in range(0, len(chosen), 20)]
    drafts = {f"part{number}": "\n\n".join(" ".join(chapters[one]) for one in part) for number, part in enumerate(parts)}
    return where, drafts, left_out


def trial(figures, name, where, drafts, note):
    """Checks the drafts and records findings per 10,000 words by weight; returns the listing."""
    paths = []
    for draft, text in drafts.items():
        paths.append(where / f"{draft}.txt")
        paths[-1].write_text(text, encoding="utf-8")
    total = sum(prose.word_count(text) for text in drafts.values())
    counts, kinds, listing = Counter(), Counter(), []
    for path, findings in zip(paths, engine.check(where, paths)):
        for one in findings:
            if one["kind"] not in finding.KINDS:
                continue
            counts[one["weight"]] += 1
            kinds[f"{one['kind']} {one['weight']}"] += 1
            source = one["source"] or {"key": "-", "text": ""}
            own, theirs = (" ".join(text.split()) for text in (one["draft"]["text"], source["text"]))
            listing.append(f"{name} {one['kind']} {one['weight']} {one['degree']}\n  {path.stem}: {own}\n  {source['key']}: {theirs}\n")
    spread = ", ".join(f"{kind} {count}" for kind, count in sorted(kinds.items()))
    loud = counts["act"] + counts["look"]
    figures.record(f"{name}.act_or_look", 10_000 * loud / total, f"a 10,000 words; {loud} in {total:,} words{note}")
    figures.record(f"{name}.know", 10_000 * counts["know"] / total, f"a 10,000 words; {spread or 'nothing'}")
    return listing


def main():
    figures = Figures("quiet", "Quiet: findings where nothing was taken, listed in .outside/quiet.txt")
    listing = trial(figures, "prose", *prose_trial(), "")
    where, drafts, left_out = scripture_trial()
    listing += trial(figures, "scripture", where, drafts, f"; {left_out} quoted verses left out of all")
    (OUTSIDE / "quiet.txt").write_text("\n".join(listing), encoding="utf-8")
    figures.save()


if __name__ == "__main__":
    main()
