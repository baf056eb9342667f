"""Files nobody here wrote: PDF, Word, OpenDocument and LaTeX files out of packages, each against a reference reader.

`real.txt` names the packages; every .pdf, .docx, .odt and .tex file in them is read. Required of each: no panic,
less than two seconds, and words in order as pdftotext (PDF) or pandoc (the others) has them, at 97 % or better. A file of
fewer than 40 words is only read, and one may be refused with a message if the reference reader gets no words out of it
either. `real-exceptions.json` lists each file that falls short, with the share it reaches or
the message it is refused with, and the reason. A listed file that reaches 97 % or is no longer refused fails too, so
that the list stays true.

`readers.py` says how the references are read and what counts as agreement, and why.
"""

import gzip
import json
import re
import shutil
import subprocess
import tarfile
import time
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import agreement
from figures import Figures
from places import OUTSIDE, binary, need
from readers import references

HERE = Path(__file__).parent
PACKAGES = OUTSIDE / "real"
ENDINGS = {".pdf", ".docx", ".odt", ".tex"}
SHARE = 0.97
SECONDS = 2.0
FEW = 40
PIP = OUTSIDE / "venv" / "bin" / "pip"


def fetch(kind, name, version):
    """The folder of a package's files."""
    if kind == "debian":
        return need(version, f"apt-get install --no-install-recommends {name}")
    folder = PACKAGES / f"{kind}-{name}-{version}"
    if (folder / "complete").exists():
        return folder
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    if kind == "deb":
        # Unpacked beside the system: its documents are wanted, not what it needs.
        command = ["apt-get", "download", "--quiet", f"{name}={version}"]
    elif kind == "npm":
        command = ["npm", "pack", "--silent", f"{name}@{version}"]
    else:
        command = [PIP, "download", "--quiet", "--disable-pip-version-check", "--no-deps", "--no-binary", ":all:", f"{name}=={version}"]
    done = subprocess.run(command, cwd=folder, capture_output=True, text=True)
    archives = [*folder.glob("*.tgz"), *folder.glob("*.tar.gz"), *folder.glob("*.deb")]
    if done.returncode or len(archives) != 1:
        raise SystemExit(f"the {kind} package {name} {version} could not be fetched:\n{done.stderr[-2000:]}")
    if kind == "deb":
        subprocess.run(["dpkg-deb", "--extract", archives[0], folder], check=True)
        for packed in folder.rglob("*.tex.gz"):
            packed.with_suffix("").write_bytes(gzip.decompress(packed.read_bytes()))
    else:
        with tarfile.open(archives[0]) as archive:
            archive.extractall(folder, filter="data")
    (folder / "complete").touch()
    return folder


def files():
    """All files to read, by a name that does not hang on the machine."""
    found = {}
    lines = (HERE / "real.txt").read_text(encoding="utf-8").splitlines()
    packages = [line.split() for line in lines if line and not line.startswith("#")]
    with ThreadPoolExecutor(4) as several:
        folders = list(several.map(lambda package: fetch(*package[:3]), packages))
    for (_, name, _, *chosen), folder in zip(packages, folders):
        for path in sorted(folder.rglob("*")):
            if path.suffix.lower() in ENDINGS and path.is_file() and path.name in (chosen or [path.name]):
                found.setdefault(f"{name}/{path.relative_to(folder)}", path)
    return found


def read(path):
    """(words or None, message, seconds) of ownwords."""
    start = time.monotonic()
    done = subprocess.run([binary(), "text", "--plain", path], capture_output=True, timeout=120)
    seconds = time.monotonic() - start
    said = done.stderr.decode("utf-8", "replace")
    if done.returncode == 2:
        return None, re.sub(r"\s+", " ", said).strip(), seconds
    if done.returncode:
        return None, f"PANIC: status {done.returncode}: {said[-500:]}", seconds
    return done.stdout.decode("utf-8", "replace"), said, seconds


def blocks(path, plain):
    """The words of each block of what ownwords reads, and for each whether it is a note."""
    done = subprocess.run([binary(), "text", "--color", "never", path], capture_output=True, timeout=120)
    heads = re.findall(r"^line (\d+): ([^,\n]+)", done.stdout.decode("utf-8", "replace"), re.MULTILINE)
    lines = plain.split("\n")
    starts = [0, *(int(line) - 1 for line, _ in heads)]
    kinds = ["", *(kind for _, kind in heads)]
    texts = ["\n".join(lines[start:end]) for start, end in zip(starts, [*starts[1:], len(lines)])]
    return [agreement.words(text) for text in texts], ["note" in kind for kind in kinds]


def best(path, plain):
    """The share of words in order of the reference that agrees best, and that reference's words."""
    body, notes = blocks(path, plain)
    ours = [word for piece in body for word in piece]
    readings = [(agreement.with_notes(body, notes, reading), reading) for reading in references(path, ours)]
    return *max(readings, key=lambda pair: pair[0]), ours


def main():
    for tool, package in (("pdftotext", "poppler-utils"), ("pandoc", "pandoc"), ("soffice", "libreoffice-writer")):
        if shutil.which(tool) is None:
            raise SystemExit(f"{tool} is missing: apt-get install --no-install-recommends {package}")
    agreement.check()
    figures = Figures("real", "files out of packages: words in order against pdftotext and pandoc")
    listed = json.loads((HERE / "real-exceptions.json").read_text(encoding="utf-8"))
    counts, agreeing, panics, slow, refused, unlisted, stale = Counter(), Counter(), 0, 0, 0, [], []
    slowest, compared, found = 0.0, Counter(), {}
    for name, path in files().items():
        ending = path.suffix.lower()[1:]
        counts[ending] += 1
        ours, said, seconds = read(path)
        slowest = max(slowest, seconds)
        slow += seconds > SECONDS
        exception = listed.pop(name, None)
        if ours is None:
            if said.startswith("PANIC"):
                panics += 1
                print(f"{name}: {said}")
            elif max(map(len, references(path, []))) < FEW:
                # Pictures, blank pages, a password, damage: the reference reader gets no words out of it either.
                refused += 1
            elif exception is None or exception.get("refused", "-") not in said:
                unlisted.append(name)
                found[name] = {"refused": said.split(": ", 2)[-1][:60], "reason": ""}
                print(f"{name}: refused, and not listed as such: {said}")
            continue
        share, reading, ours = best(path, ours)
        if len(reading) < FEW:
            # Nothing to compare with.
            if exception is not None:
                stale.append(f"{name}: has hardly any words, so it needs no exception")
            continue
        compared[ending] += 1
        agreeing[ending] += share >= SHARE
        floor = (exception or {}).get("share", SHARE)
        if share < floor:
            unlisted.append(name)
            found[name] = {"share": int(share * 100) / 100, "reason": ""}
            print(f"{name}: {share:.4f} below {floor}, {len(ours)} words against {len(reading)}; ours | theirs:")
            print("\n".join(agreement.differences(ours, reading)))
        elif exception is not None and (share >= SHARE or "refused" in exception):
            stale.append(f"{name}: reaches {share:.4f}, so its exception can go")
    for name in listed:
        stale.append(f"{name}: is listed but was not found")
    for line in stale:
        print(f"STALE {line}")
    (OUTSIDE / "real-found.json").write_text(json.dumps(found, indent=1, ensure_ascii=False), encoding="utf-8")
    for ending in sorted(counts):
        figures.record(f"files.{ending}", counts[ending], f"{compared[ending]} with words enough to compare")
        figures.record(f"agree.{ending}", agreeing[ending] / max(1, compared[ending]), f"share of files at {SHARE} or better")
    figures.record("panics", panics)
    figures.record("refused", refused, "files of which the reference reader gets no words either")
    figures.record("slow", slow, f"files over {SECONDS:g} s; the slowest took {slowest:.2f} s")
    figures.record("unlisted", len(unlisted), "files below their share, or refused, without a listed reason")
    figures.record("stale", len(stale), "listed exceptions that no longer hold")
    figures.save()


if __name__ == "__main__":
    main()
