// A class: one passage and many rewrites on one large scale. Letters stand for rewrites; names and answers come out when they
// are asked for.
const classroom = (() => {
  "use strict";
  const { make, DEGREES, facing, key, takenFrom, measures } = drawing;
  const $ = (id) => document.getElementById(id);
  const EXAMPLE = {
    passage: "Moths that came near turned towards the lantern and circled it until they fell, and few of them reached the flowers on the far side of the lane before morning.",
    rewrites: [
      "Moths that came near turned towards the lantern and circled it until they fell, and few reached the flowers before morning.",
      "Moths which came close turned to the lamp and went round it until they dropped; few of them reached the flowers on the other side of the lane.",
      "A lantern in the lane held the moths that flew by: they circled it until they were spent, so that hardly any got across to the flowers.",
      "Because light draws night-flying insects in and tires them out, plants beyond a lit road are visited less.",
    ],
  };

  let rewrites = []; // { name, text, open }
  let placed = [];
  let current = -1;
  let answers = false;
  let names = false;

  const letter = (at) => String.fromCharCode(65 + (at % 26)) + (at < 26 ? "" : String(Math.floor(at / 26) + 1));
  const passage = () => $("passage").value.trim();
  const isShown = (at) => answers || rewrites[at].open;
  const said = (at) => letter(at) + (names && rewrites[at].name ? ", " + rewrites[at].name : "");

  const add = async (some) => {
    rewrites.push(...some.map(({ name, text }) => ({ name: name || "", text: text.trim(), open: false })).filter(({ text }) => text));
    await place();
  };

  const place = async () => {
    if (!passage() || !rewrites.length) {
      placed = [];
      return draw();
    }
    const sent = rewrites.map(({ name, text }) => ({ name, text }));
    placed = (await engine.ask({ ask: "class", passage: passage(), rewrites: sent })).rewrites;
    return draw();
  };

  /** Where a mark stands on the line, in per cent: each degree is a fifth of it. */
  const along = ([degree, share]) => 20 * (degree + share);

  /** The large line. Letters that would touch stand above each other. */
  const line = (marks) => {
    const room = innerWidth < 700 ? 13 : 5;
    const box = make("div", "great-scale");
    const above = make("div", "letters");
    const ends = [];
    const sorted = marks.map(([at, scale]) => [at, along(scale)]).sort((a, b) => a[1] - b[1]);
    for (const [at, x] of sorted) {
      let row = ends.findIndex((end) => x - end >= room);
      if (row < 0) row = ends.push(-100) - 1;
      ends[row] = x;
      const button = make("button", "mark", letter(at));
      button.type = "button";
      button.setAttribute("aria-label", said(at) + ": " + placed[at].degree);
      button.setAttribute("aria-pressed", String(at === current));
      button.style.left = Math.min(Math.max(x, 1.5), 98.5) + "%";
      button.style.bottom = row * 3 + "rem";
      button.addEventListener("click", () => choose(at));
      above.append(button);
    }
    above.style.height = Math.max(1, ends.length) * 3 + "rem";
    const degrees = make("ol", "");
    DEGREES.forEach((name, at) => {
      const count = marks.filter(([, scale]) => scale[0] === at).length;
      degrees.append(make("li", "", name, make("small", "", count ? " " + count : "")));
    });
    box.append(above, degrees, make("p", "key", "From word for word, left, to nothing of the wording kept, right. The line is not to scale: each degree has a fifth."));
    return box;
  };

  const choose = (at) => {
    current = at;
    rewrites[at].open = true;
    draw();
    $("stage").querySelector(".one h2")?.focus();
  };

  const one = (at) => {
    const it = placed[at];
    const box = make("section", "one");
    const head = make("h2", "", make("span", "letter", letter(at)), " " + (it.degree ? it.degree[0].toUpperCase() + it.degree.slice(1) : "No place") + (names && rewrites[at].name ? ", " + rewrites[at].name : ""));
    head.tabIndex = -1;
    box.append(head);
    if (it.none) {
      box.append(make("blockquote", "", rewrites[at].text), make("p", "reason", it.none[0].toUpperCase() + it.none.slice(1) + "."));
      return box;
    }
    const words = it.passage.map(([word]) => word).join(" ");
    box.append(make("p", "reason", it.reason), make("p", "v", "The rewrite: " + rewrites[at].text), facing(it.facing, takenFrom(words)), key(it.facing), measures(it.scale));
    return box;
  };

  const controls = () => {
    const box = make("div", "buttons");
    const toggle = (text, is, change) => {
      const label = make("label", "");
      const check = make("input", "");
      check.type = "checkbox";
      check.checked = is;
      check.addEventListener("change", () => {
        change(check.checked);
        draw();
      });
      label.append(check, " " + text);
      box.append(label);
    };
    toggle("show where they stand", answers, (is) => { answers = is; });
    toggle("show names", names, (is) => { names = is; });
    const button = (text, does) => {
      const one = make("button", "", text);
      one.type = "button";
      one.addEventListener("click", () => desk.does(does));
      box.append(one);
    };
    const sheet = (what) => () => desk.take({ what, passage: passage(), rewrites: rewrites.map(({ name, text }) => ({ name, text })) });
    button("Handout with the answers", sheet("handout"));
    button("Sheet to work on", sheet("exercise"));
    button("Clear", async () => {
      rewrites = [];
      current = -1;
      await place();
    });
    return box;
  };

  const list = () => {
    const order = rewrites.map((_, at) => at);
    const place = (at) => (placed[at].scale ? along(placed[at].scale) : 1000);
    if (answers) order.sort((a, b) => place(a) - place(b));
    const box = make("ol", "rewrites");
    for (const at of order) {
      const item = make("li", at === current ? "on" : "");
      const head = make("p", "", make("span", "letter", letter(at)), names && rewrites[at].name ? " " + rewrites[at].name : "");
      if (isShown(at)) head.append(make("strong", "", " " + (placed[at].degree || placed[at].none)));
      const look = make("button", "small", isShown(at) ? "Word by word" : "Show where it stands");
      look.type = "button";
      look.setAttribute("aria-label", look.textContent + ": " + letter(at));
      look.addEventListener("click", () => choose(at));
      head.append(" ", look);
      item.append(head, make("blockquote", "", rewrites[at].text));
      box.append(item);
    }
    return box;
  };

  const draw = () => {
    const stage = $("stage");
    stage.replaceChildren();
    if (!placed.length) {
      stage.append(make("p", "key", "Put a passage above and at least one rewrite; they stand here on one line."));
      return;
    }
    const marks = rewrites.map((_, at) => at).filter((at) => isShown(at) && placed[at].scale).map((at) => [at, placed[at].scale]);
    const copied = make("blockquote", "passage", passage());
    stage.append(copied, line(marks), controls());
    if (current >= 0 && placed[current]) stage.append(one(current));
    stage.append(list());
  };

  /** Files that were put down here: each is a rewrite; the first is the passage where there is none. */
  const take = async (found) => {
    const read = [];
    for (const file of found) {
      const { name, bytes } = await begin.read(file);
      const words = await engine.ask({ ask: "words", name, bytes: [...new Uint8Array(bytes)] });
      read.push({ name: name.split("/").pop(), text: words.text });
    }
    read.sort((a, b) => a.name.localeCompare(b.name));
    if (!passage() && read.length > 1) {
      const at = Math.max(0, read.findIndex(({ name }) => /passage|source|original/i.test(name)));
      $("passage").value = read.splice(at, 1)[0].text;
    }
    await add(read);
  };

  const onKey = (event) => {
    if (event.target.closest("input, select, textarea") || !placed.length) return;
    const by = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    if (!by) return;
    event.preventDefault();
    const order = rewrites.map((_, at) => at).filter((at) => placed[at].scale).sort((a, b) => along(placed[a].scale) - along(placed[b].scale));
    const next = order[Math.min(Math.max(order.indexOf(current) + by, 0), order.length - 1)];
    if (next !== undefined) choose(next);
  };

  const start = () => {
    const live = { where: make("div", "where"), why: make("p", "reason"), lit: null, pairs: make("div", "pairs") };
    live.why.setAttribute("aria-live", "polite");
    $("live").after(live.where, live.why);
    rewriting.live($("live"), live, async (text) => {
      if (!passage()) return { none: "put the passage in first" };
      return (await engine.ask({ ask: "class", passage: passage(), rewrites: [{ name: "", text }] })).rewrites[0];
    });
    $("passage").addEventListener("change", () => desk.does(place));
    $("add-live").addEventListener("click", () => desk.does(async () => {
      const text = $("live").value;
      $("live").value = "";
      $("live").dispatchEvent(new Event("input"));
      await add([{ text }]);
    }));
    $("add-paste").addEventListener("click", () => desk.does(async () => {
      const texts = $("paste").value.split(/\n\s*\n/);
      $("paste").value = "";
      await add(texts.map((text) => ({ text })));
    }));
    $("example").addEventListener("click", () => desk.does(async () => {
      $("passage").value = EXAMPLE.passage;
      rewrites = [];
      answers = true;
      await add(EXAMPLE.rewrites.map((text) => ({ text })));
    }));
    $("drop-rewrites").addEventListener("click", () => $("rewrites").click());
    $("rewrites").addEventListener("change", () => desk.does(async () => {
      await take([...$("rewrites").files].map((file) => ({ name: file.name, file })));
      $("rewrites").value = "";
    }));
    draw();
  };

  return { start, take, onKey };
})();
