// The draft with its findings beside it, and one of them in full on the panel. Marks, notes and leaves are those of the page
// report; what is drawn on them too.
const findings = (() => {
  "use strict";
  const { make, onLeaf, arrows, alignRows } = drawing;
  const $ = (id) => document.getElementById(id);
  const [AT, KIND, WEIGHT, SOURCE, SETTLED, ANCHOR, ID] = [0, 1, 2, 3, 4, 5, 6];
  const wide = matchMedia("(min-width: 75rem)");

  let rows = [];
  let shown = [];
  let number = -1; // of the draft that is open
  let current = -1; // of the finding that is open, among those of the draft
  let last = -1;
  let alignment = null;
  let undone = []; // decisions that can be taken back, the last one last

  const byAnchor = (anchor) => rows.findIndex((row) => row[ANCHOR] === anchor);
  const byNumber = (at) => rows.findIndex((row) => row[AT] === at);
  const note = (at) => document.querySelector('#text a.n[href="#' + CSS.escape(rows[at][ANCHOR]) + '"]');

  const highlight = (at, on) => {
    for (const element of document.querySelectorAll('#draft [data-f="' + rows[at][AT] + '"]')) element.classList.toggle("on", on);
    const beside = note(at);
    if (beside) beside.setAttribute("aria-expanded", String(on));
  };

  /** On a wide screen the panel stands beside the draft, else below the passage. */
  const placePanel = () => {
    const panel = $("panel");
    document.body.classList.toggle("with-panel", !panel.hidden);
    const beside = current < 0 ? null : note(current);
    const row = beside && beside.closest(".row");
    const isBeside = wide.matches || !row;
    if (isBeside) document.querySelector(".split").append(panel);
    else row.after(panel);
    // Its headings are of the level of those around it.
    panel.querySelector(".lead")?.setAttribute("aria-level", isBeside ? "2" : "4");
    for (const head of panel.querySelectorAll("h3")) head.setAttribute("aria-level", isBeside ? "3" : "5");
  };

  const close = (goBack) => {
    if (current < 0) return;
    const at = current;
    highlight(at, false);
    current = -1;
    $("panel").hidden = true;
    placePanel();
    if (goBack && note(at)) note(at).focus();
  };

  const intoSight = (at, focus) => {
    const passage = document.querySelector('#text a.r[data-f="' + rows[at][AT] + '"]') || note(at);
    if (!passage) return;
    const go = () => passage.scrollIntoView({ block: wide.matches ? "center" : "start" });
    const seen = passage.getBoundingClientRect();
    const isSeen = seen.top > 90 && seen.bottom < innerHeight - 90;
    if (!isSeen || !wide.matches) {
      go();
      requestAnimationFrame(go); // what was far away has its height now
    }
    if (focus) $("panel").querySelector(".lead")?.focus({ preventScroll: true });
  };

  const settleForm = (one, at) => {
    const box = make("section", "settle");
    if (one.settled) {
      const back = make("button", "", "Take the decision back ", make("kbd", "", "u"));
      back.type = "button";
      back.addEventListener("click", () => undo(one.settled));
      box.append(back);
      return box;
    }
    const form = make("form", "");
    const label = make("label", "", "It may stand, because ");
    const reason = make("input", "");
    reason.id = "reason";
    reason.required = true;
    label.append(reason);
    const button = make("button", "", "Settle it");
    form.append(label, button);
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      desk.does(() => settle(one, at, reason.value));
    });
    box.append(make("h3", "", "Or leave it as it is ", make("kbd", "", "s")), form);
    return box;
  };

  const settle = async (one, at, because) => {
    const on = new Date().toISOString().slice(0, 10);
    const overview = await engine.ask({ ask: "settle", id: one.id, because, on });
    desk.know(overview);
    await settledNow(at, true);
    const fresh = await engine.ask({ ask: "finding", at: rows[at][AT] });
    undone.push(fresh.settled);
    desk.say("Settled. u takes it back.");
    if (!step(1)) await open(at, true);
  };

  const undo = (decision) => desk.does(async () => {
    const name = decision || undone.pop();
    if (!name) return desk.say("Nothing was settled just now.");
    undone = undone.filter((other) => other !== name);
    desk.know(await engine.ask({ ask: "undo", decision: name }));
    desk.say("Open again.");
    await reload();
    return undefined;
  });

  /** Marks a finding as settled where it stands; numbers stay as they are, so that nobody loses their place. */
  const settledNow = async (at, is) => {
    rows[at][SETTLED] = is ? 1 : 0;
    note(at)?.classList.toggle("set", is);
    choose();
  };

  const pageOf = (one) => {
    if (!one.page) return "";
    const box = make("details", "of-source");
    box.open = true;
    const name = $("panel").querySelector(".from")?.textContent || "The source";
    const text = make("div", "src");
    engine.fill(text, one.page);
    box.append(make("summary", "", "What stands around it in the source"), make("p", "key", name.replace(/, with the draft below it$/, "")), text);
    return box;
  };

  const open = async (at, focus) => {
    const id = rows[at][ID];
    if (current >= 0) highlight(current, false);
    current = at;
    last = at;
    const one = await engine.ask({ ask: "finding", at: rows[at][AT] });
    if (current !== at || rows[at]?.[ID] !== id) return; // gone on meanwhile
    const panel = $("panel");
    engine.fill(panel, one.html);
    onLeaf(panel.querySelector(".leaf"), ...one.drawn);
    const lead = panel.querySelector(".lead");
    lead.tabIndex = -1;
    lead.setAttribute("role", "heading");
    lead.setAttribute("aria-level", "2");
    const shut = make("button", "close-leaf", "Close");
    shut.type = "button";
    shut.addEventListener("click", () => close(true));
    panel.querySelector(".leaf").prepend(shut);
    const measured = panel.querySelector(".measures");
    if (measured) {
      const fold = make("details", "", make("summary", "", "The measures"));
      measured.before(fold);
      fold.append(measured);
    }
    panel.hidden = false;
    panel.append(rewriting.box(one, rows[at][AT]), settleForm(one, at), pageOf(one));
    highlight(at, true);
    placePanel();
    count();
    panel.scrollTop = 0;
    alignment?.again();
    intoSight(at, focus);
  };

  /** Goes on to the next that is shown; false where there is none. */
  const step = (by) => {
    let at = last;
    if (at < 0 && by > 0) at = rows.findIndex((row, at) => shown[at] && isBelow(at)) - 1;
    for (let tries = 0; tries < rows.length; tries += 1) {
      at += by;
      if (at < 0 || at >= rows.length) {
        desk.say(by > 0 ? "That was the last one shown." : "That was the first one shown.");
        return false;
      }
      if (shown[at]) {
        desk.does(() => open(at, true));
        return true;
      }
    }
    return false;
  };

  /** Whether a finding lies in sight or below. */
  const isBelow = (at) => {
    const beside = note(at);
    return beside ? beside.getBoundingClientRect().bottom > 0 : true;
  };

  const count = () => {
    const all = rows.filter((_, at) => shown[at]).length;
    const place = current >= 0 ? rows.slice(0, current + 1).filter((_, at) => shown[at]).length + " of " : "";
    if ($("shown")) $("shown").textContent = place + all + (all === rows.length ? "" : " shown, " + rows.length + " in all") + (all === 1 && !place ? " finding" : place ? "" : " findings");
  };

  const choose = () => {
    const kind = $("kind").value;
    const source = $("source").value;
    const weights = new Set([...document.querySelectorAll("[name=weight]:checked")].map((box) => Number(box.value)));
    const settled = $("settled") ? $("settled").checked : true;
    rows.forEach((row, at) => {
      const is = (kind === "" || row[KIND] === Number(kind)) && (source === "" || row[SOURCE] === Number(source)) &&
        weights.has(row[WEIGHT]) && (settled || !row[SETTLED]);
      if (is === shown[at]) return;
      shown[at] = is;
      note(at)?.classList.toggle("off", !is);
      for (const element of document.querySelectorAll('#draft [data-f="' + row[AT] + '"]')) element.classList.toggle("off", !is);
    });
    count();
  };

  /** Puts a long draft in piece by piece, so that the page stays quick. */
  const putIn = async (folds) => {
    const text = $("text");
    text.replaceChildren();
    const some = 12;
    for (let at = 0; at < folds.length; at += some) {
      const part = make("div", "part");
      engine.fill(part, folds.slice(at, at + some).join(""));
      text.append(...part.children);
      if (at) desk.say("showing the draft, " + Math.round(100 * at / folds.length) + " %");
      if (at + some < folds.length) await new Promise((done) => setTimeout(done));
    }
  };

  const show = async (which, overview) => {
    if (!overview.drafts.length) {
      rows = [];
      close(false);
      $("draft-name").textContent = "Draft";
      $("draft-extent").textContent = overview.closed || "There is no draft on the desk yet. Add one under Files.";
      for (const id of ["chapters", "draft-tools", "glance", "map", "legend", "text"]) $(id).replaceChildren();
      $("glance-box").hidden = true;
      return;
    }
    const wanted = Math.min(Math.max(which, 0), overview.drafts.length - 1);
    const draft = await engine.ask({ ask: "draft", number: wanted });
    const isSame = wanted === number;
    close(false);
    number = wanted;
    rows = draft.rows;
    shown = rows.map(() => true);
    if (!isSame) last = -1;
    alignment?.end();
    $("glance-box").hidden = false;
    $("draft-name").textContent = draft.name;
    $("draft-extent").textContent = draft.extent + ". " + summary(overview.drafts[number]);
    engine.fill($("draft-tools"), draft.tools);
    engine.fill($("glance"), draft.glance);
    engine.fill($("map"), draft.map);
    engine.fill($("legend"), draft.legend);
    chapters(overview);
    await putIn(draft.folds);
    document.querySelectorAll("#text a.n").forEach((one) => one.setAttribute("aria-expanded", "false"));
    tools();
    document.querySelectorAll("#map .map").forEach(arrows);
    alignment = alignRows($("text"));
    choose();
    desk.say("");
  };

  /** The draft in a sentence. */
  const summary = ({ mend, look, know, uncredited, settled, mended }) => {
    const said = [];
    if (mend) said.push(mend + " to mend" + (uncredited ? " (" + uncredited + " without credit to the source)" : ""));
    if (look) said.push(look + " worth a look");
    if (know) said.push(know + " good to know");
    if (settled) said.push(settled + " settled");
    if (mended) said.push(mended + " mended since the earlier version");
    return said.length ? said.join(", ") + "." : "";
  };

  const tools = () => {
    $("tools").hidden = rows.length === 0;
    $("tools").addEventListener("submit", (event) => event.preventDefault());
    $("next").addEventListener("click", () => step(1));
    $("previous").addEventListener("click", () => step(-1));
    for (const field of document.querySelectorAll(".choose select, .choose input")) field.addEventListener("change", choose);
  };

  /** The drafts where there are several: how much is to be done in each. */
  const chapters = (overview) => {
    const box = $("chapters");
    box.replaceChildren();
    if (overview.drafts.length < 2) return;
    const table = make("table", "chapters");
    const head = make("tr", "");
    for (const name of ["Draft", "Words", "To mend", "To look at", "Settled", "Rests most on"]) {
      const cell = make("th", "", name);
      cell.scope = "col";
      head.append(cell);
    }
    const body = make("tbody", "");
    overview.drafts.forEach((draft, at) => {
      const line = make("tr", "");
      const choice = make("button", "link", draft.name);
      choice.type = "button";
      if (at === number) choice.setAttribute("aria-current", "true");
      choice.addEventListener("click", () => desk.does(async () => {
        await show(at, desk.overview());
        document.querySelector('#chapters [aria-current="true"]')?.focus();
      }));
      const name = make("th", "", choice);
      name.scope = "row";
      line.append(name);
      const values = { words: draft.words.toLocaleString("en"), "to mend": draft.mend, "to look at": draft.look, settled: draft.settled, "rests most on": draft.sources.join(", ") };
      for (const [name, value] of Object.entries(values)) {
        const cell = make("td", name.startsWith("rests") ? "" : "num", String(value));
        cell.dataset.name = name;
        line.append(cell);
      }
      body.append(line);
    });
    table.append(make("thead", "", head), body);
    box.append(make("div", "wide", table));
  };

  /** Shows the draft anew after something changed, at the place where the reader was. */
  const reload = async () => {
    const id = current >= 0 ? rows[current][ID] : null;
    const typed = rewriting.typed();
    const top = scrollY;
    const before = last;
    await show(number, desk.overview());
    scrollTo(0, top);
    requestAnimationFrame(() => scrollTo(0, top));
    if (!id) return;
    const at = rows.findIndex((row) => row[ID] === id);
    if (at >= 0) {
      await open(at, false);
      if (typed) rewriting.retype(typed);
    } else {
      last = Math.min(before, rows.length) - 1;
      desk.say("This one is gone: it is mended, or its words have changed.");
    }
  };

  /** The passage of a click, if it is one. */
  const onClick = (event) => {
    const link = event.target.closest("#draft a[href^='#']");
    if (link) {
      const at = link.dataset.f ? byNumber(Number(link.dataset.f)) : byAnchor(link.getAttribute("href").slice(1));
      if (at < 0) {
        const place = $(link.getAttribute("href").slice(1));
        if (place && $("text").contains(place)) {
          event.preventDefault();
          place.scrollIntoView();
        }
        return;
      }
      event.preventDefault();
      if (link.classList.contains("n") && at === current) close(true);
      else desk.does(() => open(at, true));
      return;
    }
    const mark = event.target.closest("#text .m[data-f]:not(.off)");
    if (mark && getSelection().isCollapsed) desk.does(() => open(byNumber(Number(mark.dataset.f)), true));
  };

  const onKey = (event) => {
    if (event.key === "Escape" && current >= 0) return close(true);
    if ($("keys") && !$("keys").checked) return undefined;
    if (event.target.closest("input, select, textarea")) return undefined;
    const does = {
      n: () => step(1), j: () => step(1), p: () => step(-1), k: () => step(-1),
      s: () => $("reason")?.focus(), r: () => $("rewrite")?.focus(), u: () => undo(null),
    }[event.key];
    if (!does) return undefined;
    event.preventDefault();
    return does();
  };

  const start = () => {
    document.addEventListener("click", onClick);
    wide.addEventListener("change", placePanel);
    // The panel begins below the tools, however high these are.
    new ResizeObserver(() => {
      document.documentElement.style.setProperty("--tools", $("draft-tools").offsetHeight + "px");
    }).observe($("draft-tools"));
  };

  return { start, show, reload, onKey, number: () => number, isOpen: () => rows.length > 0 };
})();
