"""Controlled edits: sentences of independent prose, changed in one known way, planted into other prose.

Sources are Brown texts of `ca`, `cb`, `ce` and `cf`; hosts texts of `cg`, `ch` and `cn`. A planted piece is one sentence of 14
to 45 words without quotation marks (for merging, two sentences); an edit is measured on as many pieces as lend
themselves to it. A piece counts as found when a finding of weight `act` or `look` about wording overlaps it and points at the
sentence it was made from; the notes give the share found with `know` included.
"""

import engine
import editor
import finding
import noise
import planting
import potthast
import prose
from figures import Figures
from places import FULL, OUTSIDE, seeded

PIECES = 400 if FULL else 150
DRAFTS = 3
LEAST, MOST = 14, 45
SOURCES, HOSTS = ["ca", "cb", "ce", "cf"], ["cg", "ch", "cn"]


def library():
    """Source texts, and their sentences in pairs with the byte ranges they have there: (key, first, second)."""
    texts, pairs = {}, []
    for name in prose.names(*SOURCES):
        text = bytearray()
        for block in prose.paragraphs(name):
            text.extend(b"\n\n" if text else b"")
            placed = []
            for number, sentence in enumerate(block):
                text.extend(b" " if number else b"")
                start = len(text)
                text.extend(sentence.text.encode("utf-8"))
                placed.append((sentence, start, len(text)))
            pairs += [(name, first, second) for first, second in zip(placed, placed[1:])]
        texts[name] = bytes(text).decode("utf-8") + "\n"
    fine = lambda sentence: LEAST <= sentence.words <= MOST and not sentence.quotes
    return texts, [pair for pair in pairs if fine(pair[1][0]) and fine(pair[2][0])]


def edits():
    """Name of an edit to a function of (first sentence, second sentence, random) that gives a text or None."""
    made = {"verbatim": lambda one, _other, _random: one.text}
    for share in (10, 30, 50):
        made[f"synonyms{share}"] = lambda one, _other, random, share=share: editor.synonyms(one, random, share / 100)
    made["swapped"] = lambda one, _other, random: editor.clauses_swapped(one, random)
    for share in (10, 20, 30):
        made[f"dropped{share}"] = lambda one, _other, random, share=share: editor.dropped_and_inserted(one, random, share / 100)
    made["passive"] = lambda one, _other, random: editor.passive(one, random)
    made["merged"] = lambda one, other, random: editor.merged(one, other, random)
    made["split"] = lambda one, _other, random: editor.split(one, random)
    for kind, change in noise.KINDS.items():
        made[kind] = lambda one, _other, random, change=change: unless_same(change(one.text, random), one.text)
    return made


def unless_same(text, before):
    return None if text == before else text


def pieces(name, edit, pairs):
    """Planted pieces of an edit: (text, (key, start, end) in the source)."""
    random, made = seeded(f"edits {name}"), []
    order = list(pairs)
    random.shuffle(order)
    for key, (first, start, end), (second, _, last) in order:
        text = edit(first, second, random)
        if text:
            made.append((text, (key, start, last if name == "merged" else end)))
        if len(made) == PIECES:
            break
    return made


def main():
    figures = Figures("edits", "Controlled edits: sentences found after one known change, sources and hosts independent prose")
    texts, pairs = library()
    where = engine.review(engine.folder("edits"), texts)
    drafts, cases, contents = [], {}, {}
    for name, edit in edits().items():
        random = seeded(f"edits hosts {name}")
        made = pieces(name, edit, pairs)
        hosts = planting.hosts_with_room(prose.names(*HOSTS), DRAFTS, -(-len(made) // DRAFTS), random)
        for number, blocks in enumerate(hosts):
            content, planted = planting.plant(blocks, made[number::DRAFTS], random)
            path = where / f"{name}-{number}.txt"
            path.write_bytes(content)
            drafts.append(path)
            contents[path.name] = content
            for one in planted:
                cases.setdefault(name, []).append(potthast.Case(path.name, one.start, one.end, *one.about))
    findings = dict(zip((draft.name for draft in drafts), engine.check(where, drafts)))
    listing = []
    for name in edits():
        own = [(draft.name, findings[draft.name]) for draft in drafts if draft.name.rsplit("-", 1)[0] == name]
        loud = [one for draft, list in own for one in finding.detections(draft, finding.kept(list, {"act", "look"}))]
        all_ = [one for draft, list in own for one in finding.detections(draft, finding.kept(list, {"act", "look", "know"}))]
        hit = [any(potthast.common(case, one) for one in loud) for case in cases[name]]
        any_hit = [any(potthast.common(case, one) for one in all_) for case in cases[name]]
        figures.record(name, sum(hit) / len(hit), f"n {len(hit)}; with know {sum(any_hit) / len(any_hit):.3f}")
        for case, done in zip(cases[name], hit):
            if not done:
                listing.append(f"{name}: {contents[case.draft][case.start : case.end].decode('utf-8', 'replace')}")
                listing.append(f"    {texts[case.source].encode('utf-8')[case.source_start : case.source_end].decode()}\n")
    (OUTSIDE / "edits.txt").write_text("\n".join(listing), encoding="utf-8")
    figures.save()


if __name__ == "__main__":
    main()
