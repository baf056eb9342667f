"""The program under test, run as a user runs it: folders in, JSON out."""

import json
import shutil
import subprocess
from pathlib import Path

from places import OUTSIDE, binary


def folder(name):
    """An empty folder for a check's files, under `.outside/work`."""
    path = OUTSIDE / "work" / name
    shutil.rmtree(path, ignore_errors=True)
    path.mkdir(parents=True)
    return path


def review(where, sources, settings=""):
    """Lays out a review: `sources` is a dict from reference key to text. Returns its folder."""
    (where / "sources").mkdir(parents=True)
    (where / "notes").mkdir()
    (where / "ownwords.toml").write_text(settings, encoding="utf-8")
    references = (f"@book{{{key},\n  author = {{Unnamed}},\n  title = {{{key}}},\n  year = {{1900}}\n}}\n" for key in sources)
    (where / "references.bib").write_text("\n".join(references), encoding="utf-8")
    for key, text in sources.items():
        (where / "sources" / f"{key}.txt").write_text(text, encoding="utf-8", newline="")
    return where


def run(arguments, fine=(0, 1)):
    """Standard output of the program; any other exit status stops the suite with what it said."""
    done = subprocess.run([binary(), *map(str, arguments)], capture_output=True)
    if done.returncode not in fine:
        said = done.stderr.decode("utf-8", "replace")[-2000:]
        raise SystemExit(f"ownwords {' '.join(map(str, arguments))[:300]} ended with {done.returncode}:\n{said}")
    return done.stdout.decode("utf-8")


def check(where, drafts):
    """The findings of each draft, in the order named: a list of lists."""
    report = json.loads(run(["check", "--review", where, "--format", "json", *drafts]))
    assert report["format"] == "ownwords-check", report["format"]
    by_name = {Path(draft["path"]).name: draft["findings"] for draft in report["drafts"]}
    return [by_name[Path(draft).name] for draft in drafts]


def place(pairs):
    """Places (source, rewrite) pairs on the scale: a list of {"degree", "position", "measures"}."""
    path = OUTSIDE / "work" / "pairs.jsonl"
    path.parent.mkdir(parents=True, exist_ok=True)
    with open(path, "w", encoding="utf-8") as file:
        for number, (source, rewrite) in enumerate(pairs):
            file.write(json.dumps({"id": str(number), "source": source, "rewrite": rewrite}, ensure_ascii=False) + "\n")
    lines = [json.loads(line) for line in run(["place", "--pairs", path]).splitlines() if line.strip()]
    by_id = {line["id"]: line for line in lines}
    return [by_id[str(number)] for number in range(len(pairs))]


def trace(where, rewrites):
    """The likeliest origin of each rewrite in a review: a list of (sureness, origin or None)."""
    path = OUTSIDE / "work" / "rewrites.jsonl"
    with open(path, "w", encoding="utf-8") as file:
        for number, rewrite in enumerate(rewrites):
            file.write(json.dumps({"id": number, "rewrite": rewrite}, ensure_ascii=False) + "\n")
    lines = [json.loads(line) for line in run(["place", "--review", where, "--pairs", path]).splitlines()]
    by_id = {line["id"]: line for line in lines}
    return [(by_id[number]["sureness"], by_id[number]["origin"]) for number in range(len(rewrites))]
