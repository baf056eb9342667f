"""What other programs read in a file: the readings that `real` compares ownwords with.

No two readers set a page in the same order, and none reads everything. What counts as agreement is laid down here.
What ownwords made of the file decides two things only: which of a page's readings is compared, and what is a note.

1. pdftotext writes a page in the order that it takes the eye to follow, and (`-raw`) in the order of the file. Either
   is its reading of that page. A page of tables, which it reads cell by cell down the columns, it reads row by
   row with `-layout`; that reading counts only where most of a page is cells of few words (`is_table`), so that
   two columns of prose read across still fail. For each page the reading counts that is nearest to ours.
2. Running heads and page numbers are left out by ownwords on purpose: a line that (numbers apart) stands on half of the
   pages, or at the edge of two, and a lone number at the edge are taken off pdftotext's page (`without_furniture`).
3. Notes stand behind the block that calls them in ownwords, at the foot of the page or the end of the file elsewhere. A
   note is looked for by itself and has to stand in the reference in one piece (`agreement.with_notes`).
4. pandoc drops a LaTeX command that it does not know with its arguments; ownwords drops the command and reads the
   arguments on, as most print them. `arguments.lua` reads them on with pandoc's own reader. Mathematics,
   drawings, authors and dates are left out on purpose, and on both sides.
5. pandoc leaves out sections and text frames of OpenDocument files; LibreOffice's export to plain text is the second
   reference for these, with the numbers that it counts headings and items by and without. The one that agrees best counts.
"""

import re
import subprocess
import tempfile
from collections import Counter
from pathlib import Path

from rapidfuzz.distance import LCSseq

import agreement

FILTER = Path(__file__).with_name("arguments.lua")
EDGE = 2
"""Lines at the top and foot of a page that may be running heads wherever they are repeated."""


def run(*command):
    done = subprocess.run([*map(str, command)], capture_output=True)
    return done.stdout.decode("utf-8", "replace") if done.returncode == 0 else ""


def pages(text):
    """The pages of pdftotext's output, each a list of lines with text."""
    return [[line for line in page.split("\n") if line.strip()] for page in text.split("\f")]


def without_furniture(sheets):
    """Pages without what is repeated on them and without lone numbers at their edges."""
    key = lambda line: re.sub(r"\d+|\b[ivxl]+\b", "#", re.sub(r"\s+", " ", line.strip().lower()))
    at_edge = lambda page: {key(line) for line in page[:EDGE] + page[-EDGE:]}
    edges = Counter(line for page in sheets for line in at_edge(page))
    anywhere = Counter(line for page in sheets for line in {key(line) for line in page})
    most = max(3, len(sheets) / 2)

    def kept(page):
        for index, line in enumerate(page):
            outer = index < EDGE or index >= len(page) - EDGE
            head = outer and (edges[key(line)] > 1 or key(line) == "#")
            if not head and not (anywhere[key(line)] >= most and re.search("[a-z]", key(line))):
                yield line

    return [list(kept(page)) for page in sheets]


def is_table(page):
    """Whether most lines of a page (of `-layout`) are cells of one or two words."""
    cells = [[cell for cell in re.split(r"\s{2,}", line.strip()) if cell] for line in page]
    rows = [line for line in cells if len(line) > 1]
    sizes = sorted(len(cell.split()) for row in rows for cell in row)
    return len(rows) > len(cells) / 2 and sizes[len(sizes) // 2] <= 2


def pdf(path, ours):
    """pdftotext's words, page by page each in the reading that is nearest to `ours`."""
    plain, raw, layout = (pages(run("pdftotext", *mode, path, "-")) for mode in ([], ["-raw"], ["-layout"]))
    readings = [plain, raw, [page if is_table(page) else [] for page in layout]]
    numbers = {}
    numbered = lambda words: [numbers.setdefault(word, len(numbers)) for word in words]
    known = numbered(ours)
    # How many more of its words are in ours, in order, than are not.
    near = lambda reading: 2 * LCSseq.similarity(numbered(reading), known) - len(reading)
    for readings in [without_furniture(reading) for reading in readings], readings:
        found = []
        for page in zip(*readings):
            words = [agreement.words("\n".join(lines)) for lines in page if lines]
            found += max(words, key=near, default=[])
        yield found


def pandoc(form, path):
    latex = ["--lua-filter", FILTER] if form.startswith("latex") else []
    text = run("pandoc", "--from", form, "--to", "plain", "--wrap=none", "--standalone", *latex, path)
    return agreement.words(re.sub(r"\[\d+\]", "", text))


def libreoffice(path):
    with tempfile.TemporaryDirectory() as folder:
        profile = f"-env:UserInstallation=file://{folder}/profile"
        run("soffice", profile, "--headless", "--convert-to", "txt:Text (encoded):UTF8", "--outdir", folder, path)
        made = Path(folder) / f"{path.stem}.txt"
        text = made.read_text(encoding="utf-8-sig") if made.exists() else ""
    # It counts headings and items, in figures that the file doesn't hold.
    return agreement.words(text), agreement.words(re.sub(r"^\s*(\d+\.)*\d+\.?\s+", "", text, flags=re.MULTILINE))


def references(path, ours):
    """What the reference readers make of a file; the one that agrees best counts."""
    ending = path.suffix.lower()
    if ending == ".pdf":
        yield from pdf(path, ours)
    else:
        yield pandoc({".docx": "docx", ".odt": "odt", ".tex": "latex+raw_tex"}[ending], path)
        if ending == ".odt":
            yield from libreoffice(path)
