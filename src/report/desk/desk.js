// The desk: which screen is shown, what is being done, what went wrong, keys, files to take away, and what has changed.
const desk = (() => {
  "use strict";
  const { make, onLeaf } = drawing;
  const $ = (id) => document.getElementById(id);
  const SCREENS = ["begin", "draft", "notes", "quotations", "class", "take"];

  let known = { revision: 0, files: [], drafts: [], leftOut: [], review: null };
  let seen = {}; // for each screen the revision that it shows
  let screen = "begin";
  let working = 0;

  const say = (what) => { $("says").textContent = what; };

  const wrong = (why) => {
    $("wrong").textContent = why;
    $("wrong").hidden = !why;
  };

  /** Does something that takes a while, and says what went wrong. */
  const does = async (what) => {
    working += 1;
    document.body.classList.toggle("working", true);
    wrong("");
    try {
      await what();
    } catch (error) {
      say("");
      wrong(error.message);
    } finally {
      working -= 1;
      if (!working) document.body.classList.remove("working");
    }
  };

  const know = (overview) => {
    known = overview;
    begin.show(known);
    seen = { draft: seen.draft === undefined ? undefined : known.revision };
  };

  /** The files have changed: what is open is shown anew. */
  const changed = async (overview, go) => {
    const first = !known.drafts.length && overview.drafts.length;
    known = overview;
    seen = {};
    begin.show(known);
    say(known.drafts.length ? known.drafts.map((draft) => draft.name + ": " + draft.mend + " to mend, " + draft.look + " to look at").join("; ") + "." : "");
    if (screen === "draft") await (findings.isOpen() ? fresh() : fill("draft"));
    else if (go || (first && !known.files.some((file) => file.asked))) show("draft");
    else await fill(screen);
  };

  const fresh = async () => {
    seen.draft = known.revision;
    await findings.reload();
  };

  const notes = async (box) => {
    const { html, drawn } = await engine.ask({ ask: "notes" });
    engine.fill(box, html);
    box.querySelectorAll(".noted").forEach((one, at) => {
      onLeaf(one.querySelector(".leaf"), ...drawn[at]);
      const button = make("button", "small", one.dataset.settled ? "Take the decision back" : "Settle it");
      const reason = make("input", "");
      reason.setAttribute("aria-label", "It may stand, because");
      reason.placeholder = "It may stand, because ...";
      button.type = "button";
      button.addEventListener("click", () => does(async () => {
        const on = new Date().toISOString().slice(0, 10);
        const request = one.dataset.settled ? { ask: "undo", decision: one.dataset.settled } : { ask: "settle", id: one.dataset.id, because: reason.value, on };
        know(await engine.ask(request));
        await notes(box);
      }));
      one.append(make("p", "settle", ...(one.dataset.settled ? [] : [reason, " "]), button));
    });
  };

  const save = ({ name, kind, bytes }) => {
    const address = URL.createObjectURL(new Blob([bytes], { type: kind }));
    const link = make("a", "");
    link.href = address;
    link.download = name;
    document.body.append(link);
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(address), 60000);
    say(name + " is saved where your browser saves files.");
  };

  const take = async (request) => save(await engine.ask({ ask: "take", ...request }));

  const shelf = (box) => {
    box.replaceChildren();
    const list = make("ul", "takes");
    const offer = (name, about, request) => {
      const button = make("button", "", name);
      button.type = "button";
      button.addEventListener("click", () => does(() => take(request)));
      list.append(make("li", "", button, make("span", "", " " + about)));
    };
    if (known.drafts.length) {
      offer("Page report", "one page with the drafts and every finding, to read, print or send to a supervisor", { what: "page" });
      known.drafts.forEach((draft, number) => {
        if (draft.margin) offer("Copy of " + draft.name + " with comments", "the findings in its margin, for Word", { what: "margin", draft: number });
      });
      offer("Findings as a table", "for a spreadsheet (CSV)", { what: "table" });
      offer("Quotations as a table", "for a spreadsheet (CSV)", { what: "quotations" });
    }
    if (known.review && known.review.entries) offer("Annotated bibliography", "your entries in order, for Word", { what: "bibliography" });
    if (!known.folder && known.files.length) offer("The whole desk", "your files and decisions as a zip; put it down here again to go on", { what: "review" });
    box.append(list.children.length ? list : make("p", "remark", "Nothing yet: put your draft and what you have read on the desk first."));
  };

  const fill = async (which) => {
    if (seen[which] === known.revision) return;
    const box = document.querySelector("#" + which + " .filled");
    if (which === "draft") await findings.show(Math.max(findings.number(), 0), known);
    if (which === "notes") await (known.review?.entries ? notes(box) : box.replaceChildren(make("p", "remark", "There are no entries of notes on the desk. An entry is a heading with author and year, or a reference's key, and below it a summary, quotations, comments.")));
    if (which === "quotations") {
      if (known.review) engine.fill(box, (await engine.ask({ ask: "quotations" })).html);
      else box.replaceChildren(make("p", "remark", "There is nothing on the desk to look for quotations in."));
    }
    if (which === "take") shelf(box);
    seen[which] = known.revision;
    say("");
  };

  const show = (which) => {
    screen = SCREENS.includes(which) ? which : "begin";
    for (const id of SCREENS) $(id).hidden = id !== screen;
    document.querySelectorAll("[data-screen]").forEach((link) => {
      if (link.dataset.screen === screen) link.setAttribute("aria-current", "page");
      else link.removeAttribute("aria-current");
    });
    document.body.dataset.screen = screen;
    try {
      history.replaceState(null, "", "#" + screen);
    } catch {
      // A page opened from a file may not be allowed to; nothing is lost but the address.
    }
    scrollTo(0, 0);
    does(() => fill(screen));
  };

  /** The program says when files have changed. */
  const listen = async () => {
    for (;;) {
      try {
        const overview = await engine.changes(known.revision);
        wrong("");
        if (overview.revision !== known.revision) await changed(overview);
      } catch (error) {
        wrong(error.message);
        await new Promise((done) => setTimeout(done, 2000));
      }
    }
  };

  const start = () => {
    engine.hear(say);
    document.addEventListener("click", (event) => {
      const link = event.target.closest("a[data-screen], a.go-on");
      if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return;
      event.preventDefault();
      show(link.dataset.screen || "draft");
      if (!link.dataset.screen) $("draft-name").focus({ preventScroll: true });
    });
    addEventListener("hashchange", () => show(location.hash.slice(1)));
    document.addEventListener("keydown", (event) => {
      if (event.ctrlKey || event.altKey || event.metaKey || event.isComposing) return;
      if (screen === "draft") findings.onKey(event);
      if (screen === "class") classroom.onKey(event);
    });
    begin.start(changed);
    findings.start();
    classroom.start();
    does(async () => {
      const overview = await engine.ask({ ask: "overview" });
      known = overview;
      begin.show(known);
      const wanted = location.hash.slice(1);
      show(wanted || (overview.drafts.length ? "draft" : "begin"));
      document.body.dataset.ready = "yes";
      if (engine.changes) listen();
    });
  };

  return { say, wrong, does, know, show, take, start, overview: () => known };
})();
desk.start();
