"""Does on the desk what a writer and an instructor do, in a real browser. See `run` beside this file."""

import hashlib
import http.client
import json
import os
import pathlib
import shutil
import subprocess
import sys
import tempfile
import time
import zipfile

import making
import many
from browser import ELEMENT, Browser

HERE = pathlib.Path(__file__).parent
ROOT = HERE.parent.parent
OWNWORDS = os.environ["OWNWORDS"]
PAGE = os.environ.get("OWNWORDS_PAGE")
AXE = ROOT / ".outside/pages/npm/node_modules/axe-core/axe.min.js"
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]
SCREENS = ["begin", "draft", "notes", "quotations", "class", "take"]
NOTES = "[...document.querySelectorAll('#text a.n:not(.off)')]"


class Served:
    """The program serving a review; use it in a `with`."""

    def __init__(self, *arguments, folder=None):
        self.arguments, self.folder = arguments, folder

    def __enter__(self):
        self.program = subprocess.Popen([OWNWORDS, "desk", "--no-open", *map(str, self.arguments)], stdout=subprocess.PIPE, text=True, cwd=self.folder)
        self.address = self.program.stdout.readline().split()[-1]
        return self

    def __exit__(self, *_):
        self.program.terminate()
        self.program.wait(20)


class Desk(Browser):
    """A browser with the desk in it."""

    def go(self, address):
        self._send("POST", "/url", {"url": "about:blank"})
        self._send("POST", "/url", {"url": address})
        self.wait("document.body.dataset.ready")

    def wait(self, what, limit=30):
        """Until something is so; how long that took, in seconds."""
        from_ = time.time()
        while not self.run(f"return Boolean({what})"):
            if time.time() - from_ > limit:
                raise AssertionError(f"not within {limit} s: {what}; {self.run('return document.getElementById(`wrong`).textContent')}; {self.log()}")
            time.sleep(0.02)
        return time.time() - from_

    def put(self, selector, files):
        element = self.find(selector)[ELEMENT]
        self._send("POST", f"/element/{element}/value", {"text": "\n".join(str(file) for file in files)})

    def text(self, selector):
        return self.run("return document.querySelector(arguments[0])?.textContent ?? ''", selector)

    def type_over(self, selector, text):
        """Replaces what a field holds, key by key."""
        self.run("const f = document.querySelector(arguments[0]); f.focus(); f.select()", selector)
        self.press(*text)

    def screen(self, name):
        self.click(f"[data-screen={name}]")
        self.wait(f"!document.getElementById('{name}').hidden && !document.body.classList.contains('working')")


def same(got, expected, what=""):
    assert got == expected, f"{what}: {got!r}, not {expected!r}"


def clean(browser):
    """Nothing was blocked and nothing failed."""
    same(browser.log(), [], "the browser's log")


def copy_of_demo(folder, name):
    to = folder / name
    shutil.copytree(ROOT / "corpus-demo", to)
    return to


def print_of(folder):
    """Every file of a folder with its bytes."""
    return {str(path.relative_to(folder)): hashlib.sha256(path.read_bytes()).hexdigest() for path in sorted(folder.rglob("*")) if path.is_file()}


def page_address():
    return pathlib.Path(PAGE).as_uri()


def from_files_to_word_copy(folder):
    """Given the page and a folder, as someone who has never used a terminal: the first copied sentence, its source, a rewrite up to
    *restructured*, another settled with a reason, a commented Word copy."""
    files = making.folder(folder / "writer")
    before = print_of(folder / "writer")
    saved = folder / "saved"
    with Desk() as browser:
        browser.devtools("Browser.setDownloadBehavior", behavior="allow", downloadPath=str(saved))
        browser.go(page_address())
        browser.put("#files", files)
        took = browser.wait("document.querySelectorAll('#text a.n').length", 60)
        print(f"   from files to the first finding: {took:.1f} s", end="")
        browser.press("n")
        browser.wait("document.querySelector('#panel .lead')")
        assert "marks" in browser.text("#panel .lead"), browser.text("#panel .lead")
        same("lane behind the mill" in browser.text("#panel .of-source mark"), True, "the source's page shows the passage")
        assert "Vane (2011)" in browser.text("#panel"), "the source is not named"
        browser.press("r")
        same(browser.run("return document.activeElement.id"), "rewrite", "r")
        rewrite = "For years no lamp burned there at night; people who worked early got used to it."
        browser.type_over("#rewrite", rewrite)
        browser.wait("document.querySelector('.rewrite .where').dataset.degree === 'restructured'")
        same(browser.run("return document.querySelectorAll('.lit .held').length < 8"), True, "shared words have gone out")
        held = browser.text(".rewrite .scale [aria-current]")
        same(held, "restructured", "the marker")
        # The second copied sentence is settled.
        browser.press("Escape", "n", "n")
        browser.wait("document.querySelector('#panel').textContent.includes('Ostler')")
        browser.press("s")
        browser.press(*"agreed with my supervisor", "Enter")
        browser.wait("document.getElementById('says').textContent.startsWith('Settled') || document.querySelector('.n.set')")
        browser.screen("take")
        browser.run("[...document.querySelectorAll('#take button')].find(b => b.textContent.includes('comments')).click()")
        copy = saved / "my chapter-commented.docx"
        until = time.time() + 20
        while not copy.exists():
            assert time.time() < until, "no Word copy was saved"
            time.sleep(0.1)
        with zipfile.ZipFile(copy) as package:
            comments = package.read("word/comments.xml").decode()
        assert "Vane" in comments and "Ostler" not in comments, comments[:800]
        clean(browser)
    same(print_of(folder / "writer"), before, "the writer's files")
    print()


def a_desk_is_saved_and_opened(folder):
    """The zip of the desk holds files and decisions, opens again here, and is a review for the program."""
    files = making.folder(folder / "kept")
    saved = folder / "zips"
    with Desk() as browser:
        browser.devtools("Browser.setDownloadBehavior", behavior="allow", downloadPath=str(saved))
        browser.go(page_address())
        browser.put("#files", files)
        browser.wait("document.querySelectorAll('#text a.n').length", 60)
        total = browser.run(f"return {NOTES}.length")
        browser.press("n")
        browser.wait("document.querySelector('#reason')")
        browser.press("s")
        browser.press(*"my own report", "Enter")
        browser.wait("document.querySelector('.n.set')")
        browser.screen("take")
        browser.run("[...document.querySelectorAll('#take button')].find(b => b.textContent.includes('whole desk')).click()")
        package = saved / "review.zip"
        until = time.time() + 20
        while not package.exists():
            assert time.time() < until, "no zip was saved"
            time.sleep(0.1)
        browser.go(page_address())
        browser.put("#files", [package])
        browser.wait("document.querySelectorAll('#text a.n').length", 60)
        same(browser.run("return document.querySelectorAll('.n.set').length"), 1, "settled findings after opening again")
        browser.wait("document.querySelector('.n.off')")
        same(browser.run(f"return {NOTES}.length"), total - 1, "open findings after opening again")
        clean(browser)
    with zipfile.ZipFile(package) as inside:
        inside.extractall(folder / "unpacked")
    done = subprocess.run([OWNWORDS, "check", "--format", "json", "--review", folder / "unpacked/review", folder / "unpacked/review/drafts"], capture_output=True, text=True)
    settled = [f["settled"]["because"] for d in json.loads(done.stdout)["drafts"] for f in d["findings"] if f["settled"]]
    same(settled, ["my own report"], "decisions in the zip")


def the_example(folder):
    """The demo opens from a button, in the page itself; keystrokes move the marker at once; nothing can be sent."""
    with Desk() as browser:
        browser.go(page_address())
        browser.click("#demo")
        browser.wait("document.querySelectorAll('#text a.n').length > 10", 60)
        keystrokes(browser)
        sent = browser.run_later("const done = arguments[0]; fetch('http://127.0.0.1:9/').then(() => done('sent'), e => done(String(e)))")
        assert "TypeError" in sent, sent
        assert any("Content Security Policy" in line or "violates" in line for line in browser.log()), "the policy did not stop it"


def keystrokes(browser):
    """How long the marker takes for a key."""
    browser.press("n")
    browser.wait("document.querySelector('#rewrite')")
    browser.run("performance.clearMeasures(); const f = document.querySelector('#rewrite'); f.focus(); f.setSelectionRange(f.value.length, f.value.length)")
    for key in " and so the night went on":
        browser.press(key)
        time.sleep(0.03)
    browser.wait("performance.getEntriesByName('marker').length > 20")
    times = sorted(browser.run("return performance.getEntriesByName('marker').map(m => m.duration)"))
    middle, worst = times[len(times) // 2], times[int(len(times) * 0.95)]
    print(f"   a keystroke: {middle:.1f} ms in the middle, {worst:.1f} ms at the 95th of 100")
    assert middle < 50, f"{middle} ms a keystroke"


def looks_again(folder):
    """A draft that is saved is looked at within a second, at the place where the reader was."""
    review = copy_of_demo(folder, "again")
    draft = review / "drafts/chapter-1.md"
    with Served(review) as served, Desk(1400, 900) as browser:
        browser.go(served.address)
        browser.wait("document.querySelectorAll('#text a.n').length")
        before = browser.run(f"return {NOTES}.length")
        browser.press("n", "n", "n", "n")
        browser.wait("document.querySelector('#panel .lead')")
        time.sleep(0.5)
        reader = "return [document.querySelector('#panel .leaf').id, Math.round(document.querySelector('#text .r.on, #text [data-f].on').getBoundingClientRect().top)]"
        was = browser.run(reader)
        source = (review / "sources/harrow2014.txt").read_text()
        paragraph = next(part for part in source.split("\n\n") if len(part.split()) > 40)
        copied = " ".join(paragraph.split()[:24]).rstrip(".,;")
        draft.write_text(draft.read_text() + f"\n\nAt the end it is said that {copied}.\n")
        took = browser.wait(f"{NOTES}.length > {before}", 10)
        print(f"   from saving to the finding shown: {took:.2f} s")
        assert took < (1.0 if "release" in OWNWORDS else 6.0), f"{took} s"
        time.sleep(0.3)
        now = browser.run(reader)
        same(now[0], was[0], "the open finding")
        assert abs(now[1] - was[1]) < 40, f"the passage moved from {was} to {now}"
        # A note that changes is looked at too, and so is a draft that is gone.
        draft.unlink()
        browser.wait("!document.getElementById('draft-name').textContent.includes('chapter-1')", 10)
        clean(browser)


def settling(folder):
    """A decision goes to decisions.toml, and comes out of it again; nothing else is written."""
    review = copy_of_demo(folder, "settling")
    before = print_of(review)
    with Served(review) as served, Desk(1400, 900) as browser:
        browser.go(served.address)
        browser.wait("document.querySelectorAll('#text a.n').length")
        browser.press("n")
        browser.wait("document.querySelector('#reason')")
        name = browser.run("return document.querySelector('#panel .leaf').id")
        browser.press("s")
        browser.press(*"words of the law", "Enter")
        browser.wait("document.querySelector('.n.set')")
        browser.wait(f"document.querySelector('#panel .leaf')?.id !== '{name}'")
        assert "words of the law" in (review / "decisions.toml").read_text()
        changed = {path for path, sum_ in print_of(review).items() if before.get(path) != sum_}
        same(changed, {"decisions.toml"}, "written")
        browser.press("u")
        browser.wait("!document.querySelector('.n.set')")
        same(print_of(review), before, "after taking it back")
        # A blank is no reason, and says so.
        browser.press("n")
        browser.wait("document.querySelector('#reason')")
        browser.press("s", " ", "Enter")
        browser.wait("!document.getElementById('wrong').hidden")
        same(print_of(review), before, "without a reason")
        clean(browser)


def keyboard(folder):
    """Everything of a round is done by keys alone."""
    review = copy_of_demo(folder, "keys")
    with Served(review) as served, Desk(1400, 900) as browser:
        browser.go(served.address)
        browser.wait("document.querySelectorAll('#text a.n').length")
        browser.press("Tab")
        same(browser.run("return document.activeElement.className"), "skip", "the first stop")
        order = browser.run(f"return {NOTES}.map(n => n.hash.slice(1))")
        open_ = "document.querySelector('#panel .leaf')?.id"
        for key, expected in (("n", order[0]), ("n", order[1]), ("j", order[2]), ("k", order[1]), ("p", order[0])):
            browser.press(key)
            browser.wait(f"{open_} === '{expected}'")
        same(browser.run("return document.activeElement.closest('#panel') !== null"), True, "the focus is on the panel")
        browser.press("p")
        time.sleep(0.3)
        same(browser.run(f"return {open_}"), order[0], "before the first there is none")
        browser.press("r")
        same(browser.run("return document.activeElement.id"), "rewrite", "r")
        browser.press("n")
        assert browser.run("return document.getElementById('rewrite').value").endswith("n"), "a key in a field goes astray"
        browser.press("Escape")
        same(browser.run("return document.getElementById('panel').hidden"), True, "Escape")
        same(browser.run("return document.activeElement.getAttribute('href')"), "#" + order[0], "the focus after Escape")
        # WCAG 2.1.4: the keys can be turned off.
        browser.click("#keys")
        browser.run("document.activeElement.blur()")
        browser.press("n")
        time.sleep(0.3)
        same(browser.run("return document.getElementById('panel').hidden"), True, "n with the keys off")
        clean(browser)


def the_class(folder):
    """A passage and thirty rewrites: answers come out when they are asked for, arranged by degree; sheets are saved."""
    with Served(folder=folder) as served, Desk(1400, 900) as browser:
        browser.go(served.address)
        browser.screen("class")
        browser.run("document.getElementById('passage').value = arguments[0]", making.COPIED)
        words = making.COPIED.split()
        # Ever more of the words are others.
        rewrites = [" ".join(word if at % 30 >= number else f"other{at}" for at, word in enumerate(words)) for number in range(30)]
        browser.run("document.querySelector('#paste').closest('details').open = true; document.getElementById('paste').value = arguments[0]", "\n\n".join(rewrites))
        browser.click("#add-paste")
        browser.wait("document.querySelectorAll('.rewrites li').length === 30")
        same(browser.run("return document.querySelectorAll('.letters .mark').length"), 0, "answers before they are asked for")
        browser.click(".rewrites button")
        browser.wait("document.querySelectorAll('.letters .mark').length === 1")
        browser.run("document.querySelector('#stage input[type=checkbox]').click()")
        browser.wait("document.querySelectorAll('.letters .mark').length === 30")
        touching = browser.run(
            "const all = [...document.querySelectorAll('.letters .mark')].map(m => m.getBoundingClientRect());"
            "return all.filter((a, i) => all.some((b, j) => j > i && a.left < b.right - 1 && b.left < a.right - 1 && a.top < b.bottom - 1 && b.top < a.bottom - 1)).length")
        same(touching, 0, "letters that cover one another")
        order = browser.run("return [...document.querySelectorAll('.rewrites strong')].map(s => s.textContent.trim())")
        degrees = ["verbatim", "near copy", "light revision", "heavy revision", "restructured"]
        ranks = [degrees.index(one) for one in order]
        same(ranks, sorted(ranks), "arranged by degree")
        assert len(set(ranks)) >= 4, order
        browser.type_over("#live", making.COPIED)
        browser.wait("document.querySelector('.class-in .scale [aria-current]')?.textContent === 'verbatim'")
        browser.click("#add-live")
        browser.wait("document.querySelectorAll('.rewrites li').length === 31")
        clean(browser)


def accessible(folder):
    script = AXE.read_text()
    faults = []
    review = copy_of_demo(folder, "axe")
    with Served(review) as served:
        for scheme in ("light", "dark"):
            for width, height in ((1400, 900), (320, 640)):
                with Desk(width, height, scheme) as browser:
                    browser.go(served.address)
                    browser.wait("document.querySelectorAll('#text a.n').length")
                    browser.run(script)
                    for screen in SCREENS:
                        browser.screen(screen)
                        if screen == "draft":
                            browser.press("n", "n")
                            browser.wait("document.querySelector('#rewrite')")
                        if screen == "class":
                            browser.click("#example")
                            browser.wait("document.querySelector('.letters .mark')")
                        browser.run("document.querySelectorAll('details').forEach(d => { d.open = true; })")
                        time.sleep(0.7)  # what fades has faded
                        found = browser.run_later(
                            "const done = arguments[arguments.length - 1];"
                            "axe.run(document, {runOnly: arguments[0], resultTypes: ['violations']}).then(r => done(r.violations.map(v => "
                            "[v.id, v.help, v.nodes.length, v.nodes[0].html.slice(0, 200), v.nodes[0].failureSummary])), e => done([['axe', String(e)]]))", RULES)
                        faults += [(screen, scheme, width, *fault) for fault in found]
                        wide = browser.run("return document.documentElement.scrollWidth")
                        if wide > width:
                            faults.append((screen, scheme, f"{wide} px wide at {width} px"))
                    clean(browser)
    assert not faults, "\n".join(str(fault) for fault in faults)


def hostile(folder):
    """Text that looks like markup runs nothing and changes nothing, on any screen."""
    table = json.loads((ROOT / "tests/pages/hostile.json").read_text())
    review = folder / "hostile"
    for name in ("sources", "notes", "drafts"):
        (review / name).mkdir(parents=True)
    (review / "ownwords.toml").write_text("")
    draft = []
    for number, text in enumerate(table):
        name = "".join(c for c in text if c not in "/\0")[:50]
        copied = f"The lane behind mill {number} was dark from eleven until five in both summers {text} and bakers had long stopped complaining."
        (review / "sources" / f"{name}.txt").write_text(f"[p. 3]\n\n{copied}\n")
        (review / "notes" / f"{number}.md").write_text(f"# {text}\n\n## Summary\n\n{copied}\n")
        draft.append(f"{text}\n\n{copied}\n\n\"{text} and on\" (Nobody, 1900).\n")
    (review / "drafts/<img src=x onerror=document.title=1>.txt").write_text("\n".join(draft))
    with Served(review) as served, Desk(1400, 900) as browser:
        browser.go(served.address)
        browser.wait("document.querySelectorAll('#text a.n').length")
        shape = "return ['script', 'style', 'img', 'iframe', 'link', 'base', 'meta', 'template'].map(n => document.querySelectorAll(n).length)"
        expected, title = browser.run(shape), browser.run("return document.title")
        same(expected[2:6], [0, 0, 0, 0], "elements")
        count = browser.run(f"return {NOTES}.length")
        assert count >= len(table), f"{count} findings"
        for at in range(count):
            browser.run("document.querySelectorAll('#text a.n')[arguments[0]].click()", at)
            if at % 10 == 0:
                time.sleep(0.15)
                same(browser.run(shape), expected, f"elements at finding {at}")
        for screen in SCREENS:
            browser.screen(screen)
            same(browser.run(shape), expected, screen)
            seen = browser.run("return document.body.textContent")
            for sign in ("\u202e", "\u2066", "\u200f", "\ufeff"):
                assert sign not in seen, f"{sign!r} reaches {screen}"
        same(browser.run("return document.title"), title, "the title")
        clean(browser)


def strangers(folder):
    """Who is not the page gets nothing, and the desk writes nothing by itself."""
    review = copy_of_demo(folder, "strangers")
    before = print_of(review)
    with Served(review) as served:
        port = int(served.address.split(":")[2].split("/")[0])
        path = "/" + served.address.split("/", 3)[3]

        def ask(method, target, host=f"127.0.0.1:{port}", **headers):
            connection = http.client.HTTPConnection("127.0.0.1", port, timeout=10)
            connection.putrequest(method, target, skip_host=True)
            body = b'{"ask":"overview"}'
            for name, value in {"Host": host, **headers}.items():
                connection.putheader(name.replace("_", "-"), value)
            if method == "POST":
                connection.putheader("Content-Length", str(len(body)))
            connection.endheaders(body if method == "POST" else None)
            answer = connection.getresponse()
            return answer.status, dict(answer.getheaders()), answer.read()

        own = f"http://127.0.0.1:{port}"
        status, headers, _ = ask("GET", path)
        same(status, 200, "the page")
        policy = headers["Content-Security-Policy"]
        for part in ("default-src 'none'", "connect-src 'self'", "frame-ancestors 'none'", "require-trusted-types-for 'script'"):
            assert part in policy, policy
        same(ask("POST", path + "ask", Origin=own)[0], 200, "the page's own request")
        for what, got in {
            "no key": ask("GET", "/"), "another key": ask("GET", "/" + "0" * 32 + "/"), "another host": ask("GET", path, host="elsewhere.example"),
            "no origin": ask("POST", path + "ask"), "another origin": ask("POST", path + "ask", Origin="http://elsewhere.example"),
            "another site": ask("GET", path, Sec_Fetch_Site="cross-site"), "another method": ask("PUT", path + "ask", Origin=own),
        }.items():
            same(got[0], 403, what)
        listening = subprocess.run(["ss", "-ltn"], capture_output=True, text=True).stdout if shutil.which("ss") else f"127.0.0.1:{port}"
        lines = [line for line in listening.splitlines() if f":{port}" in line]
        assert lines and all("127.0.0.1" in line for line in lines), lines
    same(print_of(review), before, "files")


def thousands(folder):
    """Ten thousand findings are shown, gone through and chosen from."""
    review = folder / "many"
    many.make(review, 10_000)
    with Served(review) as served, Desk(1400, 900) as browser:
        from_ = time.time()
        browser.go(served.address)
        browser.wait("document.querySelectorAll('#text a.n').length === 10000 && !document.body.classList.contains('working')", 120)
        print(f"   10000 findings are shown after {time.time() - from_:.1f} s", end="")
        from_ = time.time()
        browser.press("n")
        browser.wait("document.querySelector('#panel .lead')")
        print(f", the first is opened in {time.time() - from_:.2f} s", end="")
        frames = browser.run_later(
            "const done = arguments[0]; let count = 0; const start = performance.now();"
            "const go = () => { scrollBy(0, 300); count += 1; count < 60 ? requestAnimationFrame(go) : done((performance.now() - start) / count) };"
            "requestAnimationFrame(go)")
        print(f", {frames:.0f} ms a frame while scrolling")
        assert frames < 150, f"{frames} ms a frame"
        clean(browser)


def a_long_draft(folder):
    """300,000 words on the page with the engine inside: it says how far it is, and never freezes for long."""
    at = folder / "long"
    making.folder(at)
    sentences = [f"Sentence {number} of this long work is about the {number * 7919 % 10007} lamps of ward {number % 613} and their {number * 31 % 997} keepers." for number in range(18_000)]
    paragraphs = ["\n\n".join(" ".join(sentences[i:i + 6]) for i in range(0, len(sentences), 6))]
    (at / "thesis.txt").write_text("# Part one\n\n" + making.COPIED + "\n\n" + "".join(paragraphs) + "\n\n" + making.SECOND + "\n")
    words = len((at / "thesis.txt").read_text().split())
    assert words > 300_000, words
    (at / "my chapter.docx").unlink()
    with Desk(1400, 900) as browser:
        browser.go(page_address())
        browser.run(
            "window.gaps = []; window.told = new Set(); let last = performance.now();"
            "const look = () => { const now = performance.now(); gaps.push(now - last); last = now; setTimeout(look, 10); }; look();"
            "const says = document.getElementById('says'); new MutationObserver(() => told.add(says.textContent)).observe(says, {childList: true})")
        from_ = time.time()
        browser.put("#files", sorted(at.iterdir()))
        browser.wait("document.querySelectorAll('#text a.n').length >= 2 && !document.body.classList.contains('working')", 240)
        worst, told = browser.run("return [Math.max(...gaps), [...told]]")
        print(f"   {words} words: shown after {time.time() - from_:.1f} s, the longest the page stood still {worst:.0f} ms")
        assert any("compar" in one for one in told), told
        assert any("reading" in one for one in told), told
        assert worst < 2500, f"the page stood still for {worst} ms"
        clean(browser)


def pictures(folder):
    """Screenshots of every screen, to be looked at."""
    to = ROOT / ".outside/desk"
    to.mkdir(parents=True, exist_ok=True)
    review = copy_of_demo(folder, "pictures")
    with Served(folder=folder) as empty, Served(review) as served:
        for scheme in ("light", "dark"):
            for width, height in ((1400, 900), (390, 800), (320, 640)):
                with Desk(width, height, scheme) as browser:
                    browser.go(empty.address)
                    browser.picture(to / f"empty-{scheme}-{width}.png")
                    browser.go(served.address)
                    browser.wait("document.querySelectorAll('#text a.n').length")
                    for screen in SCREENS:
                        browser.screen(screen)
                        browser.picture(to / f"{screen}-{scheme}-{width}.png")
                        if screen == "draft":
                            browser.press("n")
                            browser.wait("document.querySelector('#rewrite')")
                            time.sleep(0.7)
                            browser.picture(to / f"panel-{scheme}-{width}.png")
                        if screen == "class":
                            browser.click("#example")
                            browser.wait("document.querySelector('.letters .mark')")
                            browser.run("document.querySelector('.letters .mark').click()")
                            time.sleep(0.3)
                            browser.picture(to / f"class-full-{scheme}-{width}.png", whole=True)
    print(f"   in {to}")


SERVED = [looks_again, settling, keyboard, the_class, accessible, hostile, strangers, thousands]
INSIDE = [from_files_to_word_copy, a_desk_is_saved_and_opened, the_example, a_long_draft]


def main(names):
    known = SERVED + (INSIDE if PAGE else [])
    chosen = [pictures] if names == ["--pictures"] else [check for check in known if not names or check.__name__ in names]
    unknown = set(names) - {check.__name__ for check in chosen} - {"--pictures"}
    if unknown:
        sys.exit(f"no such check: {', '.join(sorted(unknown))}; there are {', '.join(check.__name__ for check in known)}")
    failed = []
    with tempfile.TemporaryDirectory(prefix="desk-") as folder:
        for check in chosen:
            start = time.time()
            try:
                check(pathlib.Path(folder))
                print(f"ok {check.__name__} ({time.time() - start:.1f} s)", flush=True)
            except (AssertionError, RuntimeError) as error:
                failed.append(check.__name__)
                print(f"FAILED {check.__name__}: {error}", flush=True)
    if failed:
        sys.exit(f"failed: {', '.join(failed)}")


if __name__ == "__main__":
    main(sys.argv[1:])
