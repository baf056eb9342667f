"""A review and a draft with thousands of findings, made of invented words, to see that a page stays quick."""

import pathlib
import random

SMALL = "the of and to in a that by for with on as from at which into when where".split()


def vocabulary(dice):
    heads = "b br d dr f fl g gl h k l m n p pl r s st t tr v w".split()
    words = set()
    while len(words) < 4000:
        words.add("".join(dice.choice(heads) + dice.choice("aeiou") for _ in range(2)) + dice.choice("nrlst"))
    return sorted(words)


def sentence(dice, words):
    return [dice.choice(SMALL) if at % 3 == 1 else dice.choice(words) for at in range(dice.randint(16, 24))]


def written(words):
    text = " ".join(words)
    return text[0].upper() + text[1:] + "."


def make(folder, findings):
    """Writes the review; returns the draft's path."""
    dice = random.Random(20261125)
    words = vocabulary(dice)
    root = pathlib.Path(folder)
    for name in ("sources", "notes", "drafts"):
        (root / name).mkdir(parents=True, exist_ok=True)
    (root / "ownwords.toml").write_text("")
    taken = [sentence(dice, words) for _ in range(findings)]
    entries, draft = [], ["# A long draft"]
    for number in range(20):
        key = f"author{2001 + number}"
        entries.append(f"@book{{{key}, author={{Author{chr(97 + number)}, A.}}, title={{Book {number}}}, date={{{2001 + number}}}}}")
        lines = []
        for at, one in enumerate(taken[number::20]):
            if at % 10 == 0:
                lines.append(f"[p. {at // 10 + 1}]")
            lines.append(written(one))
        (root / "sources" / f"{key}.txt").write_text("\n\n".join(lines))
    (root / "references.bib").write_text("\n".join(entries))
    for at, one in enumerate(taken):
        if at % 500 == 0:
            draft.append(f"## Part {at // 500 + 1}")
        copied = list(one)
        if at % 3 == 1:  # two words of its own
            for place in (5, 11):
                copied[place] = dice.choice(words)
        if at % 3 == 2:  # the second half comes first
            copied = one[9:] + one[:9]
        draft.append(written(sentence(dice, words)[:12]) + " " + written(copied))
    path = root / "drafts" / "long.md"
    path.write_text("\n\n".join(draft) + "\n")
    return path
