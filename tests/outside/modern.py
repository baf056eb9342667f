"""Modern prose by degree: the passages in `passages/`, each with its rewrites (see the README there)."""

from dataclasses import dataclass
from pathlib import Path

FOLDER = Path(__file__).with_name("passages")
DEGREES = {
    "near": "near copy",
    "light": "light revision",
    "light-freer": "light revision",
    "heavy": "heavy revision",
    "heavy-freer": "heavy revision",
    "restructured": "restructured",
}
"""The rewrites of a passage with the degree at which each was written."""

INDEPENDENT = "independent"
"""What another author might write on the same topic."""


@dataclass(frozen=True)
class Passage:
    """A passage: its number, its wording and its rewrites by name."""

    number: int
    source: str
    texts: dict

    @property
    def key(self):
        return f"modern{self.number}"

    @property
    def odd(self):
        """Which half it belongs to: odd numbers were fitted to, even ones checked on."""
        return self.number % 2 == 1


def passages():
    """All passages in order."""
    found = []
    for path in sorted(FOLDER.glob("[0-9]*.txt")):
        texts = dict(block.split(": ", 1) for block in path.read_text(encoding="utf-8").strip().split("\n\n"))
        source = texts.pop("source")
        assert set(texts) == {*DEGREES, INDEPENDENT}, path
        found.append(Passage(int(path.name[:2]), source, texts))
    return found
