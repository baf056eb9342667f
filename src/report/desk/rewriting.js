// A passage rewritten in place: the marker moves while one types, and the source's words fade as they go.
const rewriting = (() => {
  "use strict";
  const { make, scale, measures, facing, key, takenFrom } = drawing;
  let field = null;
  let original = "";

  /** The source's words, each lit as long as the rewrite holds it. */
  const words = (box, passage) => {
    if (box.children.length !== passage.length) {
      box.replaceChildren();
      for (const [word] of passage) box.append(make("span", "", word), " ");
    }
    passage.forEach(([, held], at) => box.children[at].classList.toggle("held", held === 1));
  };

  /** Draws where a rewrite stands; `asked` gives the answer for a text. Only the newest text is asked about. */
  const live = (area, { where, why, lit, pairs }, asked) => {
    let busy = false;
    let again = false;
    const look = async () => {
      if (busy) {
        again = true;
        return;
      }
      busy = true;
      const from = performance.now();
      try {
        const text = area.value;
        const one = text.trim() ? await asked(text) : { none: "type a rewrite, and its place is shown here" };
        draw(one);
      } catch (error) {
        desk.wrong(error.message);
      }
      performance.measure("marker", { start: from });
      busy = false;
      if (again) {
        again = false;
        look();
      }
    };
    const draw = (one) => {
      if (one.none) {
        where.replaceChildren(make("p", "none", one.none[0].toUpperCase() + one.none.slice(1) + "."));
        why.textContent = "";
        pairs.replaceChildren();
        return;
      }
      where.replaceChildren(scale(one.scale));
      why.textContent = one.reason;
      if (lit) words(lit, one.passage);
      const passage = one.passage.map(([word]) => word).join(" ");
      pairs.replaceChildren(facing(one.facing, takenFrom(passage)), key(one.facing), measures(one.scale));
      where.dataset.degree = one.degree;
    };
    area.addEventListener("input", look);
    look();
  };

  const copy = async () => {
    try {
      await navigator.clipboard.writeText(field.value);
    } catch {
      field.select();
      document.execCommand("copy");
    }
    desk.say("The rewrite is copied. Paste it into your draft.");
  };

  /** The box on the panel of a finding. */
  const box = (one, at) => {
    field = null;
    if (!one.canRewrite) return "";
    original = one.passage.split(/\s+/).join(" ").trim();
    const box = make("section", "rewrite");
    const area = make("textarea", "");
    area.id = "rewrite";
    area.rows = Math.min(10, Math.max(4, Math.ceil(original.length / 60)));
    area.value = original;
    area.spellcheck = true;
    const label = make("label", "", "Rewrite it here ", make("kbd", "", "r"));
    label.htmlFor = "rewrite";
    const why = make("p", "reason");
    why.setAttribute("aria-live", "polite");
    const parts = { where: make("div", "where"), why, lit: make("p", "lit"), pairs: make("div", "pairs") };
    const details = make("details", "", make("summary", "", "Word by word"), parts.pairs);
    const take = make("button", "", "Copy the rewrite ", make("kbd", "", "Ctrl Enter"));
    take.type = "button";
    take.addEventListener("click", copy);
    const back = make("button", "", "As it was");
    back.type = "button";
    back.addEventListener("click", () => {
      area.value = original;
      area.dispatchEvent(new Event("input"));
    });
    area.addEventListener("keydown", (event) => {
      if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) {
        event.preventDefault();
        copy();
      }
    });
    box.append(make("h3", "", label), make("p", "key", "The source's words that it still holds are lit:"), parts.lit, area, parts.where, parts.why,
      make("div", "buttons", take, back), details);
    field = area;
    live(area, parts, (text) => engine.ask({ ask: "place", at, text }));
    return box;
  };

  /** What was typed and not yet taken. */
  const typed = () => (field && field.isConnected && field.value !== original ? field.value : "");

  const retype = (text) => {
    if (!field) return;
    field.value = text;
    field.dispatchEvent(new Event("input"));
  };

  return { box, live, typed, retype };
})();
