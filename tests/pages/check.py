"""Opens pages in a real browser and does with them what a reader does. See `run` beside this file."""

import json
import os
import pathlib
import subprocess
import sys
import tempfile
import time

import many
from browser import Browser

HERE = pathlib.Path(__file__).parent
ROOT = HERE.parent.parent
OWNWORDS = os.environ["OWNWORDS"]
AXE = ROOT / ".outside/pages/npm/node_modules/axe-core/axe.min.js"
FINDINGS = 10_000
CHAPTERS = ["drafts/chapter-1.md", "drafts/chapter-2.md"]

# What is to be seen of the page, as the scripts below ask it.
OPEN = "[...document.querySelectorAll('.leaf')].filter(l => !l.hasAttribute('hidden')).map(l => l.id)"
NOTES = "[...document.querySelectorAll('a.n')].filter(n => n.getClientRects().length)"


def write_page(review, drafts, path):
    done = subprocess.run([OWNWORDS, "check", "--format", "page", "--out", path, *drafts], cwd=review, capture_output=True, text=True)
    assert done.returncode in (0, 1), done.stderr
    return path


def same(got, expected, what=""):
    assert got == expected, f"{what}: {got!r}, not {expected!r}"


def clean(browser):
    """Nothing was blocked and nothing failed."""
    same(browser.log(), [], "the browser's log")


def ids(browser):
    return browser.run("return [...document.querySelectorAll('.leaf')].map(l => l.id)")


class Pages:
    """The pages under test, written once."""

    def __init__(self, folder):
        self.folder = pathlib.Path(folder)
        self.demo = write_page(ROOT / "corpus-demo", CHAPTERS, self.folder / "demo.html")
        self.one = write_page(ROOT / "corpus-demo", CHAPTERS[:1], self.folder / "one.html")


def keyboard(pages):
    with Browser() as browser:
        browser.open(pages.demo)
        order = ids(browser)
        browser.press("n", "n", "j")
        same(browser.run(f"return {OPEN}"), [order[2]], "after n, n, j")
        assert browser.run("return document.activeElement.closest('.leaf').id") == order[2], "the leaf has no focus"
        browser.press("k")
        same(browser.run(f"return {OPEN}"), [order[1]], "after k")
        below = browser.run("return document.activeElement.getBoundingClientRect().top - document.getElementById('tools').getBoundingClientRect().bottom")
        assert below >= 0, f"the focus lies {-below} px below the tools"
        browser.run("document.querySelector('#tools details').open = true")
        browser.press("n")
        below = browser.run("return document.activeElement.getBoundingClientRect().top - document.getElementById('tools').getBoundingClientRect().bottom")
        assert below >= 0, f"the focus lies {-below} px below the open tools"
        browser.press("p", "Escape")
        same(browser.run(f"return {OPEN}"), [], "after Escape")
        same(browser.run("return document.activeElement.getAttribute('href')"), "#" + order[1], "the focus after Escape")
        browser.press("p", "p")
        same(browser.run(f"return {OPEN}"), [order[-1]], "before the first comes the last")
        browser.press("Escape")
        # WCAG 2.1.4: the keys can be turned off, and do nothing in a field.
        browser.run("document.getElementById('kind').closest('details').open = true; document.getElementById('source').focus()")
        browser.press("n")
        same(browser.run(f"return {OPEN}"), [], "n in a field")
        browser.click("#keys")
        browser.run("document.activeElement.blur()")
        browser.press("n")
        same(browser.run(f"return {OPEN}"), [], "n with the keys off")
        browser.open(pages.demo)
        browser.press("Tab")
        same(browser.run("return document.activeElement.className"), "skip", "the first stop")
        browser.press("Enter", "Tab")
        assert browser.run("return document.activeElement.closest('#draft-1') !== null"), "the skip link leads past the draft"
        clean(browser)


def clicks(pages):
    with Browser() as browser:
        browser.open(pages.demo)
        order = ids(browser)
        for selector in (".first a", f".text .m[data-f='3']", f"a.r[data-f='4']", f"a.n[href='#{order[5]}']", ".map a.b[data-f='7']"):
            href = browser.run(
                "const e = document.querySelector(arguments[0]);"
                "e.scrollIntoView({block: 'center'});"
                "return e.getAttribute('href') || '#' + document.querySelectorAll('.leaf')[e.dataset.f].id", selector)
            browser.click(selector)
            same(browser.run(f"return {OPEN}"), [href[1:]], selector)
            same(browser.run("return location.hash"), href, selector)
        # A map is one stop; arrows move in it.
        browser.run("document.querySelector('.map a.b').focus()")
        browser.press("Right")
        at = browser.run("return document.activeElement.dataset.f")
        assert browser.run("return document.querySelectorAll('.map a.b[tabindex=\"0\"]').length") == 2, "more than a stop a map"
        browser.press("Enter")
        same(browser.run(f"return {OPEN}"), [order[int(at)]], "Enter in the map")
        browser.click(".leaf:not([hidden]) .close-leaf")
        same(browser.run(f"return {OPEN}"), [], "after Close")
        clean(browser)


def choosing(pages):
    with Browser() as browser:
        browser.open(pages.demo)
        total = len(ids(browser))

        def shown(change, value):
            browser.run(
                "const [id, value] = arguments; const field = document.querySelector(id);"
                "if (field.type === 'checkbox') field.checked = value; else field.value = value;"
                "field.dispatchEvent(new Event('change'))", change, value)
            count = browser.run(f"return {NOTES}.length")
            said = browser.run("return document.getElementById('shown').textContent")
            same(said, f"{count} of {total} findings shown", change)
            marks = browser.run("return new Set([...document.querySelectorAll('.text .m:not(.off)')].map(m => m.dataset.f)).size")
            assert marks == count, f"{marks} marked, {count} shown"
            return count

        kinds = browser.run("return [...document.querySelectorAll('#kind option')].map(o => o.value).slice(1)")
        assert len(kinds) > 10
        same(sum(shown("#kind", kind) for kind in kinds), total, "all kinds together")
        shown("#kind", "")
        sources = browser.run("return [...document.querySelectorAll('#source option')].map(o => o.value).slice(1)")
        by_source = [shown("#source", source) for source in sources]
        assert all(by_source) and sum(by_source) < total, by_source
        order = browser.run(f"return {NOTES}.map(n => n.hash.slice(1))")
        browser.press("n", "n")
        same(browser.run(f"return {OPEN}"), [order[1 % len(order)]], "n goes through what is shown")
        shown("#source", "")
        heavy = shown("[name=weight][value='1']", False)
        assert 0 < shown("[name=weight][value='2']", False) < heavy < total
        same(shown("[name=weight][value='0']", False), 0, "no weight")
        clean(browser)


def links(pages):
    with Browser() as browser:
        browser.open(pages.demo)
        order = ids(browser)
        for at in (4, len(order) - 1):
            browser.open(pages.demo, "#" + order[at])
            same(browser.run(f"return {OPEN}"), [order[at]], "a link from outside")
            seen = browser.run(
                "const box = document.getElementById(arguments[0]).getBoundingClientRect(); return [box.top, box.bottom, innerHeight]", order[at])
            assert seen[0] < seen[2] and seen[1] > 0, f"the leaf is out of sight: {seen}"
            same(browser.run("return document.activeElement.closest('.leaf')?.id"), order[at], "the focus")
        browser.run("location.hash = arguments[0]", order[0])
        time.sleep(0.2)
        same(browser.run(f"return {OPEN}"), [order[0]], "another link on the page")
        # What is put away can still be found by the browser's own search.
        states = set(browser.run("return [...document.querySelectorAll('.leaf')].map(l => l.getAttribute('hidden'))"))
        same(states, {None, "until-found"}, "hidden")
        browser.run("document.getElementById(arguments[0]).dispatchEvent(new Event('beforematch', {bubbles: true}))", order[3])
        same(browser.run(f"return {OPEN}"), [order[3]], "found by the browser")
        clean(browser)


def wordings(pages):
    """What is drawn of two wordings reads on as both, above and below, and the scale marks the degree."""
    with Browser() as browser:
        browser.open(pages.demo)
        drawn = moved = 0
        for name in ids(browser):
            browser.run("location.hash = arguments[0]", name)
            browser.run_later("requestAnimationFrame(() => requestAnimationFrame(arguments[0]))")
            leaf = browser.run(
                """
                const leaf = document.getElementById(arguments[0]);
                const words = (className) => [...leaf.querySelectorAll('.facing .' + className)].map(word => {
                  const copy = word.cloneNode(true);
                  copy.querySelectorAll('sup').forEach(letter => letter.remove());
                  return copy.textContent.replaceAll('\\u00a0', ' ');
                }).filter(word => word).join(' ');
                const at = [...document.querySelectorAll('.leaf')].indexOf(leaf);
                const passage = [...document.querySelectorAll(`.text .m[data-f="${at}"]`)].map(m => m.textContent).join('');
                const letters = (className) => [...new Set([...leaf.querySelectorAll(`.facing .${className} sup`)].map(l => l.textContent))].sort();
                return {drawn: !!leaf.querySelector('.facing'), up: words('up'), down: words('down'), passage,
                  source: leaf.querySelector('.src')?.textContent, up_letters: letters('up'), down_letters: letters('down'),
                  degree: leaf.querySelector('dd.close strong')?.textContent,
                  held: leaf.querySelector('.scale [aria-current]')?.textContent,
                  measures: leaf.querySelectorAll('.measures dd').length};
                """, name)
            plain = lambda text: " ".join((text or "").split())
            if leaf["degree"]:
                assert leaf["degree"].startswith(leaf["held"] + " ("), leaf
                assert leaf["measures"] >= 8, leaf
            if leaf["drawn"]:
                drawn += 1
                same(leaf["up"], plain(leaf["source"]), name + ", above")
                same(leaf["up_letters"], leaf["down_letters"], name + ", moved")
                moved += len(leaf["up_letters"])
                assert plain(leaf["passage"]).startswith(leaf["down"][:20]), leaf
        assert drawn > 15 and moved > 5, (drawn, moved)
        clean(browser)


def paper(pages):
    """Printed, every finding is there as a note: its number, what would mend it, the source's wording."""
    report = json.loads(subprocess.run([OWNWORDS, "check", "--format", "json", *CHAPTERS], cwd=ROOT / "corpus-demo", capture_output=True, text=True).stdout)
    with Browser() as browser:
        browser.open(pages.demo)
        browser.press("n")
        printed = browser.paper()
    path = pages.folder / "print.pdf"
    path.write_bytes(printed)
    text = subprocess.run(["pdftotext", "-raw", path, "-"], capture_output=True, text=True, check=True).stdout
    plain = lambda text: "".join(text.split()).replace("-", "").replace("\u2010", "")
    text = plain(text)
    for draft in report["drafts"]:
        for finding in draft["findings"]:
            for said in (finding["advice"][:60], finding["id"], (finding["source"] or {}).get("text", "")[:50]):
                assert plain(said) in text, f"not on paper: {said!r}"
    for screen_only in ("Chooseaboutwhichareshown", "Choosewhichareshown", "Previous", "Close0"):
        assert screen_only not in text, f"on paper: {screen_only}"


RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


def faults_of(browser):
    """What axe-core finds on the page that is open; its script has been run there."""
    return browser.run_later(
        "const done = arguments[arguments.length - 1];"
        "axe.run(document, {runOnly: arguments[0], resultTypes: ['violations']}).then(r => done(r.violations.map(v => "
        "[v.id, v.help, v.nodes.length, v.nodes[0].html.slice(0, 200), v.nodes[0].failureSummary])), e => done([['axe', String(e)]]))", RULES)


def accessible(pages):
    script = AXE.read_text()
    faults = []
    for scheme in ("light", "dark"):
        for width, height in ((1280, 720), (320, 640)):
            with Browser(width, height, scheme) as browser:
                for path in (pages.one, pages.demo):
                    browser.open(path)
                    browser.run(script)
                    for opened in (False, True):
                        if opened:
                            browser.run("document.querySelectorAll('details').forEach(d => { d.open = true; })")
                            browser.press(*"nnnnn")
                        faults += [(path.name, scheme, width, opened, *fault) for fault in faults_of(browser)]
                clean(browser)
    assert not faults, "\n".join(str(fault) for fault in faults)


def pages_to_look_up(pages):
    """Explanations and the bibliography are as accessible, and as narrow where they have to be."""
    written = {
        "all.html": ["explain", "all", "--format", "page"],
        "limits.html": ["explain", "limits", "--format", "page"],
        "bibliography.html": ["bibliography", "--format", "html"],
    }
    for name, command in written.items():
        done = subprocess.run([OWNWORDS, *command, "--out", pages.folder / name], cwd=ROOT / "corpus-demo", capture_output=True, text=True)
        assert done.returncode == 0, done.stderr
    script = AXE.read_text()
    faults = []
    for scheme in ("light", "dark"):
        for width in (1280, 320):
            with Browser(width, 720, scheme) as browser:
                for name in written:
                    browser.open(pages.folder / name)
                    browser.run(script)
                    faults += [(name, scheme, width, *fault) for fault in faults_of(browser)]
                    wide = browser.run("return document.documentElement.scrollWidth")
                    assert wide <= width, f"{name}: {wide} px wide at {width} px"
    assert not faults, "\n".join(str(fault) for fault in faults)


def narrow(pages):
    """At 320 px, which is 1280 px at 400 %, nothing has to be scrolled sideways."""
    for width in (320, 360):
        with Browser(width, 640) as browser:
            browser.open(pages.demo)
            for _ in ids(browser):
                browser.press("n")
                wide = browser.run("return document.documentElement.scrollWidth")
                at = browser.run(f"return {OPEN}")
                assert wide <= width, f"{wide} px wide at {width} px with {at}"


def forced_colours(pages):
    with Browser() as browser:
        browser.devtools("Emulation.setEmulatedMedia", features=[{"name": "forced-colors", "value": "active"}])
        browser.open(pages.demo)
        lines = set(browser.run("return [...document.querySelectorAll('.text .m')].map(m => getComputedStyle(m).textDecorationStyle)"))
        assert {"double", "wavy", "dashed", "dotted"} <= lines, lines


def without_script(pages):
    with Browser(script=False) as browser:
        browser.open(pages.demo)
        text = browser.devtools("DOM.getOuterHTML", nodeId=browser.devtools("DOM.getDocument")["root"]["nodeId"])["outerHTML"]
        assert 'hidden="until-found"' not in text and 'id="tools" hidden' in text.replace('hidden=""', "hidden")
        # The leaf has its full height: it is there to read.
        root = browser.devtools("DOM.getDocument")["root"]["nodeId"]
        leaf = browser.devtools("DOM.querySelector", nodeId=root, selector=".leaf")["nodeId"]
        browser.devtools("DOM.scrollIntoViewIfNeeded", nodeId=leaf)
        assert browser.devtools("DOM.getBoxModel", nodeId=leaf)["model"]["height"] > 100


def hostile(pages):
    """Text that looks like markup runs nothing and changes nothing."""
    table = json.loads((HERE / "hostile.json").read_text())
    review = pages.folder / "hostile"
    for name in ("sources", "notes", "drafts"):
        (review / name).mkdir(parents=True)
    (review / "ownwords.toml").write_text("")
    drafts = []
    for number, text in enumerate(table):
        name = "".join(c for c in text if c not in "/\0")[:50]
        copied = f"The lane behind mill {number} was dark from eleven until five in both summers {text} and bakers had long stopped complaining."
        (review / "sources" / f"{name}.txt").write_text(f"[p. 3]\n\n{copied}\n")
        (review / "notes" / f"{number}.md").write_text(f"# {text}\n\n## Summary\n\n{copied}\n")
        drafts.append(f"drafts/{number}{name}.txt")
        (review / drafts[-1]).write_text(f"{text}\n\n{copied}\n\n\"{text} and on\" (Nobody, 1900).\n")
    page = write_page(review, drafts, pages.folder / "hostile.html")
    with Browser() as browser:
        browser.open(page)
        title = browser.run("return document.title")
        assert title.startswith(f"{len(table)} drafts: "), title
        count = len(ids(browser))
        assert count >= len(table), f"{count} findings"
        shape = "return ['script', 'style', 'img', 'iframe', 'link', 'base', 'meta', 'template'].map(n => document.querySelectorAll(n).length)"
        same(browser.run(shape), [2, 1, 0, 0, 0, 0, 6, 0], "elements")
        for _ in range(count):
            browser.press("n")
        same(browser.run(shape), [2, 1, 0, 0, 0, 0, 6, 0], "elements after all leaves were opened")
        same(browser.run("return document.title"), title, "the title")
        seen = browser.run("return document.body.textContent")
        for sign in ("\u202e", "\u2066", "\u200f", "\ufeff"):
            assert sign not in seen, f"{sign!r} reaches the page"
        clean(browser)


def thousands(pages):
    review = pages.folder / "many"
    draft = many.make(review, FINDINGS)
    page = write_page(review, [draft], pages.folder / "many.html")
    size = page.stat().st_size
    print(f"   {FINDINGS} findings: {size / 1e6:.1f} MB", end="")
    assert size < 20e6, f"{size} bytes"
    with Browser() as browser:
        browser.open(page)
        same(len(ids(browser)), FINDINGS, "findings")
        paint = browser.run("return performance.getEntriesByName('first-contentful-paint')[0].startTime")
        print(f", first paint {paint:.0f} ms", end="")
        assert paint < 2000, f"first paint after {paint} ms"
        # It scrolls to its end, and what is there is laid out and can be opened.
        browser.run("scrollTo(0, document.body.scrollHeight / 2)")
        frames = browser.run_later(
            "const done = arguments[0]; let count = 0; const start = performance.now();"
            "const go = () => { scrollBy(0, 300); count += 1; count < 60 ? requestAnimationFrame(go) : done((performance.now() - start) / count) };"
            "requestAnimationFrame(go)")
        print(f", {frames:.0f} ms a frame while scrolling")
        assert frames < 150, f"{frames} ms a frame"
        browser.open(page, "#" + ids(browser)[FINDINGS - 5])
        same(len(browser.run(f"return {OPEN}")), 1, "the leaf near the end")
        clean(browser)


def pictures(pages):
    """Screenshots to be looked at."""
    folder = ROOT / ".outside/pages"
    shots = [
        ("top", 1280, 720, 1, "light", 0), ("dark", 1280, 720, 1, "dark", 5), ("leaf", 1280, 900, 1, "light", 5),
        ("narrow", 360, 780, 1, "light", 9), ("zoom", 320, 180, 4, "light", 1),
    ]
    for name, width, height, zoom, scheme, steps in shots:
        with Browser(width, height, scheme) as browser:
            browser.resize(width, height, zoom)
            browser.open(pages.one)
            browser.press(*"n" * steps) if steps else None
            time.sleep(0.3)
            browser.picture(folder / f"{name}.png")
    with Browser() as browser:
        browser.open(pages.one)
        (folder / "print.pdf").write_bytes(browser.paper())
    print(f"   in {folder}")


CHECKS = [keyboard, clicks, choosing, links, wordings, paper, accessible, pages_to_look_up, narrow, forced_colours, without_script, hostile, thousands]


def main(names):
    chosen = [pictures] if names == ["--pictures"] else [check for check in CHECKS if not names or check.__name__ in names]
    unknown = set(names) - {check.__name__ for check in chosen} - {"--pictures"}
    if unknown:
        sys.exit(f"no such check: {', '.join(sorted(unknown))}; there are {', '.join(check.__name__ for check in CHECKS)}")
    failed = []
    with tempfile.TemporaryDirectory(prefix="pages-") as folder:
        pages = Pages(folder)
        for check in chosen:
            start = time.time()
            try:
                check(pages)
                print(f"ok {check.__name__} ({time.time() - start:.1f} s)", flush=True)
            except (AssertionError, RuntimeError) as error:
                failed.append(check.__name__)
                print(f"FAILED {check.__name__}: {error}", flush=True)
    if failed:
        sys.exit(f"failed: {', '.join(failed)}")


if __name__ == "__main__":
    main(sys.argv[1:])
