"""Runs the native program and the one for Windows (under Wine) on equal copies of the demo review and compares.

Each check prints a line; the exit status is 1 where one differs:
  json      check --format json of all chapters: everything but the folder's own path
  crlf      the same with every text file of the Windows copy turned to CR LF: findings without byte offsets
  terminal  the report for the terminal, line by line
  sarif     the report for other programs, with addresses of files
  page      the page, byte by byte
  margin    a copy of a Word draft with comments: every member of the package
  settle    a decision recorded: the file of decisions, and the check after it
"""

import difflib
import json
import os
import pathlib
import re
import shutil
import subprocess
import sys
import zipfile

CHAPTERS = ["drafts/chapter-1.md", "drafts/chapter-2.md", "drafts/chapter-3.md"]
TEXTS = {".md", ".txt", ".bib", ".toml", ".json"}


class Side:
    """One of the programs with its copy of the review."""

    def __init__(self, name, command, place):
        self.name, self.command = name, command
        self.review = place / f"review-{name}"
        shutil.rmtree(self.review, ignore_errors=True)
        shutil.copytree("corpus-demo", self.review)

    def run(self, *arguments, expected=(0, 1)):
        environment = {**os.environ, "NO_COLOR": "1", "COLUMNS": "80"}
        done = subprocess.run([*self.command, *arguments], cwd=self.review, env=environment, capture_output=True, timeout=300)
        if done.returncode not in expected:
            sys.exit(f"{self.name}: {arguments}: status {done.returncode}\n{done.stderr.decode(errors='replace')}")
        return done.stdout.decode()

    def portable(self, text):
        """The review's own folder goes by one name on both sides; Wine shows the file system as drive Z, in an
        address as `/Z:`."""
        root = str(self.review)
        return re.sub("(?:/?Z:)?" + re.escape(root), "/review", text)


def same(check, one, other):
    if one == other:
        print(f"windows {check}: {len(one)} lines, the same")
        return True
    print(f"windows {check}: DIFFERENT")
    for line in list(difflib.unified_diff(one, other, "native", "windows", lineterm="", n=1))[:40]:
        print("    " + line[:300])
    return False


def lines(value):
    return json.dumps(value, indent=1, ensure_ascii=False, sort_keys=True).splitlines()


def checked(side, *drafts):
    return json.loads(side.portable(side.run("check", "--format", "json", *drafts)))


def without_offsets(value):
    """Findings as a reader sees them: offsets count bytes of the file, line ends are blanks in running text."""
    if isinstance(value, dict):
        return {key: without_offsets(inside) for key, inside in value.items() if key not in ("start", "end")}
    if isinstance(value, list):
        return [without_offsets(inside) for inside in value]
    return value.replace("\r\n", "\n") if isinstance(value, str) else value


def to_crlf(folder):
    count = 0
    for file in sorted(folder.rglob("*")):
        if file.suffix in TEXTS:
            content = file.read_bytes().replace(b"\r\n", b"\n").replace(b"\n", b"\r\n")
            file.write_bytes(content)
            count += content.count(b"\r\n")
    if count < 500:
        sys.exit("too little was turned to CR LF for the check to mean anything")


def word_draft(review):
    """A Word draft of the first chapter: a paragraph a block, the headings as such."""
    main = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"
    package = "http://schemas.openxmlformats.org/package/2006"
    office = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
    escape = lambda text: text.replace("&", "&amp;").replace("<", "&lt;")
    blocks = (review / CHAPTERS[0]).read_text(encoding="utf-8").split("\n\n")
    body = ""
    for block in blocks:
        text = " ".join(block.split())
        level = '<w:pPr><w:outlineLvl w:val="0"/></w:pPr>' if text.startswith("#") else ""
        body += f'<w:p>{level}<w:r><w:t xml:space="preserve">{escape(text.lstrip("# "))}</w:t></w:r></w:p>'
    members = {
        "[Content_Types].xml": f'<Types xmlns="{package}/content-types"><Default Extension="rels" '
        'ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Override PartName="/word/document.xml" '
        'ContentType="application/vnd.openxmlformats-officedocument.wordprocessingml.document.main+xml"/></Types>',
        "_rels/.rels": f'<Relationships xmlns="{package}/relationships"><Relationship Id="r1" '
        f'Type="{office}/officeDocument" Target="word/document.xml"/></Relationships>',
        "word/document.xml": f'<w:document xmlns:w="{main}"><w:body>{body}<w:sectPr/></w:body></w:document>',
    }
    with zipfile.ZipFile(review / "drafts/chapter-1.docx", "w") as archive:
        for name, content in members.items():
            archive.writestr(zipfile.ZipInfo(name), '<?xml version="1.0" encoding="UTF-8"?>' + content)


def margin(side):
    word_draft(side.review)
    side.run("check", "drafts/chapter-1.docx", "--format", "margin", "--out", "commented.docx")
    with zipfile.ZipFile(side.review / "commented.docx") as archive:
        parts = {name: archive.read(name).decode() for name in archive.namelist()}
    if parts["word/comments.xml"].count("<w:comment ") < 5:
        sys.exit(f"{side.name}: hardly a comment in the margin copy")
    # Comments carry the time at which they were made.
    timed = re.compile(r' w:date="[^"]*"')
    return [line for name in sorted(parts) for line in [name, *timed.sub("", parts[name]).replace("><", ">\n<").splitlines()]]


def settled(side):
    found = checked(side, CHAPTERS[0])["drafts"][0]["findings"]
    identity = next(one["id"] for one in found if one["settled"] is None)
    side.run("settle", identity, "--because", "the term is the field's own", "--in", CHAPTERS[0])
    decisions = (side.review / "decisions.toml").read_text(encoding="utf-8")
    if identity not in decisions:
        sys.exit(f"{side.name}: the decision on {identity} is not in the file")
    return decisions.splitlines() + lines(checked(side, CHAPTERS[0]))


def main():
    native, windows, place = sys.argv[1:]
    place = pathlib.Path(place).resolve()
    sides = [Side("native", [native], place), Side("windows", ["wine", windows], place)]

    def both(make):
        return [make(side) for side in sides]

    found = both(lambda side: checked(side, *CHAPTERS))
    count = sum(len(draft["findings"]) for draft in found[0]["drafts"])
    if count < 20:
        sys.exit(f"only {count} findings in the demo: too few for the check to mean anything")
    whole = lambda *arguments: both(lambda side: side.portable(side.run("check", *CHAPTERS, *arguments)).splitlines())
    results = [
        same("json", *map(lines, found)),
        same("terminal", *whole()),
        same("sarif", *whole("--format", "sarif")),
        same("page", *whole("--format", "page")),
        same("margin", *both(margin)),
        same("settle", *both(settled)),
    ]
    shutil.rmtree(sides[1].review)
    shutil.copytree("corpus-demo", sides[1].review)
    to_crlf(sides[1].review)
    crlf = [found[0], checked(sides[1], *CHAPTERS)]
    results.append(same("crlf", *(lines(without_offsets(value)) for value in crlf)))
    return 0 if all(results) else 1


sys.exit(main())
