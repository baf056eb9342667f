"""Finding in modern prose: rewrites planted without credit into independent prose, their sources stored.

Each source is a Brown text with one of the passages of `passages/` in its middle, so that the passage is a page among others. Each
set of rewrites is planted into hosts of its own, and what another author wrote on the same topics into hosts as well: of
these nothing should be found. What counts as found, and for how much, is as in finding.py.
"""

import engine
import finding
import modern
import planting
import potthast
import prose
from figures import Figures
from places import OUTSIDE, seeded

DRAFTS = 2


def sources(passages, names):
    """The stored texts, and where the passage stands in each."""
    texts, ranges = {}, {}
    for one, name in zip(passages, names):
        blocks = [" ".join(sentence.text for sentence in block) for block in prose.paragraphs(name)]
        middle = len(blocks) // 2
        before = "\n\n".join(blocks[:middle]) + "\n\n"
        texts[one.key] = before + one.source + "\n\n" + "\n\n".join(blocks[middle:]) + "\n"
        start = len(before.encode("utf-8"))
        ranges[one.key] = (start, start + len(one.source.encode("utf-8")))
    return texts, ranges


def main():
    figures = Figures("finding-prose", "Finding in modern prose: rewrites planted without credit into independent prose")
    random = seeded("finding-prose")
    passages = modern.passages()
    names = prose.names(*prose.GROUPS)
    random.shuffle(names)
    texts, ranges = sources(passages, names)
    free = names[len(passages) :]
    where = engine.review(engine.folder("finding-prose"), texts)
    sets = [*modern.DEGREES, modern.INDEPENDENT]
    drafts, cases, contents, host_words = [], {}, {}, {}
    for at, name in enumerate(sets):
        mine = free[at :: len(sets)]
        for number, blocks in enumerate(planting.hosts(mine, DRAFTS, random)):
            content, planted = planting.plant(blocks, [(one.texts[name], one) for one in passages[number::DRAFTS]], random)
            path = where / f"{name}-{number}.txt"
            path.write_bytes(content)
            drafts.append(path)
            contents[path.name] = content
            host_words[name] = host_words.get(name, 0) + sum(s.words for block in blocks for s in block)
            for one in planted:
                case = potthast.Case(path.name, one.start, one.end, one.about.key, *ranges[one.about.key])
                cases.setdefault(name, []).append((case, one.about))
    findings = dict(zip((draft.name for draft in drafts), engine.check(where, drafts)))
    listing, stray_all, words_all = [], 0, 0
    for name in sets:
        own = [(draft, findings[draft]) for draft in contents if draft.rsplit("-", 1)[0] == name]
        found = [one for draft, list in own for one in finding.detections(draft, finding.kept(list, {"act", "look"}))]
        known = [one for draft, list in own for one in finding.detections(draft, finding.kept(list, {"know"}))]
        of = cases[name]
        hit = {one.number: any(potthast.common(case, it) for it in found) for case, one in of}
        know = {one.number: any(potthast.common(case, it) for it in known) for case, one in of}
        stray = [it for it in found + known if not any(finding.overlaps(case, it) for case, _ in of)]
        stray_all, words_all = stray_all + len(stray), words_all + host_words[name]
        half = lambda odd: sum(hit[one.number] for _, one in of if one.odd == odd) / max(1, sum(one.odd == odd for _, one in of))
        note = f"odd half {half(True):.3f}, even {half(False):.3f}; know only {sum(know[n] and not hit[n] for n in know)}"
        figures.record(f"{name}.found", sum(hit.values()) / len(of), note)
        if name not in ("restructured", modern.INDEPENDENT):
            only = [case for case, _ in of]
            figures.record(f"{name}.recall", potthast.recall(only, found), "characters")
            figures.record(f"{name}.precision", potthast.precision(only, found), "characters")
        for case, one in of:
            if hit[one.number] == (name == modern.INDEPENDENT):
                listing.append(f"{name} {one.number}: {one.texts[name]}\n    {one.source}\n")
        listing += [f"stray in {it.draft}: {contents[it.draft][it.start:it.end].decode()}\n    {it.source}\n" for it in stray]
    figures.record("stray", 10_000 * stray_all / words_all, f"a 10,000 words, at any weight; {stray_all} in {words_all:,} words")
    (OUTSIDE / "finding-prose.txt").write_text("\n".join(listing), encoding="utf-8")
    figures.save()


if __name__ == "__main__":
    main()
