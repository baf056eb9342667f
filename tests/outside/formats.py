"""One chapter in every format: the same words in order, and the same findings.

`formats/chapter.md` is made into .docx, .odt, .html, .epub, .tex, .rtf, .rst and .org by pandoc, into .docx and .odt once more by
LibreOffice, and into PDF by LibreOffice (from both) and by pdfLaTeX in one and two columns. Each is read by ownwords;

* words: against pandoc's reading of the chapter, the footnotes each found once and compared apart, since formats
  put them in different places;
* findings: `check` against the demo review finds the same on every format as on the chapter itself: same kind, same
  words, same degree.
"""

import re
import shutil
import subprocess
from collections import Counter
from pathlib import Path

import agreement
import engine
from figures import Figures
from places import ROOT

CHAPTER = Path(__file__).with_name("formats") / "chapter.md"
REVIEW = ROOT / "corpus-demo"
TOOLS = {
    "pandoc": "pandoc",
    "pdflatex": "texlive-latex-recommended texlive-latex-extra lmodern",
    "soffice": "libreoffice-writer",
}


def tool(name, *arguments, where):
    """Runs a converter; what it says is shown where it fails."""
    if shutil.which(name) is None:
        raise SystemExit(f"{name} is missing: apt-get install --no-install-recommends {TOOLS[name]}")
    done = subprocess.run([name, *map(str, arguments)], cwd=where, capture_output=True, text=True, errors="replace")
    if done.returncode:
        raise SystemExit(f"{name} {' '.join(map(str, arguments))} failed:\n{done.stdout[-2000:]}{done.stderr[-2000:]}")
    return done.stdout


def office(where, to, name, source):
    """`source` made into another format by LibreOffice, under a name of its own."""
    out = where / f"office-{name}"
    profile = f"-env:UserInstallation={(where / 'profile').as_uri()}"
    tool("soffice", profile, "--headless", "--convert-to", to, "--outdir", out, source, where=where)
    made = out / f"{source.stem}.{to.split(':')[0]}"
    target = where / f"{name}.{to.split(':')[0]}"
    made.rename(target)
    return target


def make(where):
    """All formats, by name."""
    files = {}
    for ending in ("docx", "odt", "html", "epub", "tex", "rtf", "rst", "org"):
        path = where / f"pandoc.{ending}"
        tool("pandoc", "--standalone", CHAPTER, "-o", path, where=where)
        files[f"{ending}.pandoc"] = path
    files["odt.office"] = office(where, "odt", "from-docx", files["docx.pandoc"])
    files["docx.office"] = office(where, "docx", "from-odt", files["odt.pandoc"])
    files["pdf.office-docx"] = office(where, "pdf", "docx", files["docx.pandoc"])
    files["pdf.office-odt"] = office(where, "pdf", "odt", files["odt.pandoc"])
    latex = files["tex.pandoc"].read_text(encoding="utf-8")
    # pandoc's long table can't stand in two columns.
    short = re.sub(r"\\begin\{longtable\}\[\]\{", r"\\begin{tabular}{", latex).replace(r"\end{longtable}", r"\end{tabular}")
    short = re.sub(r"\\(endhead|endlastfoot|endfirsthead|endfoot)\b.*\n", "\n", short)
    for name, content in (("one", latex), ("two", two_columns(short))):
        path = where / f"{name}.tex"
        path.write_text(content, encoding="utf-8")
        for _ in range(2):
            tool("pdflatex", "-interaction=nonstopmode", "-halt-on-error", path.name, where=where)
        files[f"pdf.latex-{name}"] = where / f"{name}.pdf"
    return files


def two_columns(latex):
    begin = latex.index(r"\documentclass")
    return latex[:begin] + re.sub(r"\\documentclass\[", r"\\documentclass[twocolumn,", latex[begin:], count=1)


def notes():
    """The footnotes' words, from the chapter."""
    found = re.findall(r"^\[\^\d+\]: (.*)$", CHAPTER.read_text(encoding="utf-8"), re.MULTILINE)
    return [agreement.words(note) for note in found]


def without_notes(words, notes):
    """Words without the footnotes, and how many of these stand there just once and whole."""
    whole = 0
    for note in notes:
        places = [at for at in range(len(words) - len(note) + 1) if words[at : at + len(note)] == note]
        whole += len(places) == 1
        for at in reversed(places):
            words = words[:at] + words[at + len(note) :]
    return words, whole


def findings(path):
    """What `check` finds, in a form that compares from format to format."""
    [found] = engine.check(REVIEW, [path])
    brief = lambda finding: (finding["kind"], " ".join(agreement.words(finding["draft"]["text"])), finding["degree"])
    return Counter(map(brief, found))


def main():
    where = engine.folder("formats")
    files = make(where)
    figures = Figures("formats", "one chapter in every format: words in order against pandoc, findings against the chapter's own")
    plain = tool("pandoc", "--standalone", "--to", "plain", "--wrap=none", CHAPTER, where=where)
    # The marks of footnotes are no words of the text.
    reference, whole = without_notes(agreement.words(re.sub(r"\[\d\]", "", plain)), notes())
    assert whole == len(notes()), "the reference reading lost a footnote"
    own = findings(CHAPTER)
    print(f"{sum(own.values())} findings on the chapter itself: {dict(Counter(kind for kind, _, _ in own))}")
    figures.record("findings.chapter", sum(own.values()), "on the chapter as it was written")
    for name, path in files.items():
        read, whole = without_notes(agreement.words(engine.run(["text", "--plain", path])), notes())
        figures.record(f"words.{name}", agreement.ratio(read, reference), f"{len(read)} words, {whole} of {len(notes())} notes whole")
        figures.record(f"notes.{name}", whole / len(notes()))
        print(f"\n{name}: words that differ, ours | pandoc's")
        print("\n".join(agreement.differences(read, reference)))
        found = findings(path)
        same = sum((found & own).values())
        more, less = found - own, own - found
        figures.record(f"findings.{name}", same / max(sum(found.values()), sum(own.values()), 1), f"{sum(more.values())} more, {sum(less.values())} less")
        for finding in more:
            print("    only here: ", finding)
        for finding in less:
            print("    only there:", finding)
    figures.save()


if __name__ == "__main__":
    main()
