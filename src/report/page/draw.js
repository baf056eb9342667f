// What is drawn: two wordings word by word, the scale with its marker, the measures. The page and the desk share it.
// Words are put in as text only.
const drawing = (() => {
  "use strict";
  const DEGREES = ["verbatim", "near copy", "light revision", "heavy revision", "restructured"];
  const MEASURES = [
    "words", "string_share", "longest_string", "content_words", "kept_content", "swapped", "order", "sequence",
    "stretch", "unique_share",
  ];
  const SVG = "http://www.w3.org/2000/svg";

  /** An element with a class, and text or children. */
  const make = (name, className, ...children) => {
    const element = document.createElement(name);
    if (className) element.className = className;
    element.append(...children);
    return element;
  };

  const cell = (className, words, letter) => {
    const span = make("span", letter ? className + " moved" : className, words);
    if (letter) span.append(make("sup", "", letter));
    return span;
  };

  const column = (how, up, down) =>
    make("span", "col k" + how, cell("up", up[0], up[1]), cell("down", down[0], down[1]));

  /** The words of pieces, each with its letter where it was moved (the letter at the last word only). */
  const wordsOf = (pieces, taken) => pieces.flatMap((piece) => {
    const [text, letter] = Array.isArray(piece) ? piece : [piece, null];
    return taken(text).split(" ").map((word) => [word, letter]);
  });

  /** Gives the source's next words where only their number is known; below zero they share a column. */
  const takenFrom = (source) => {
    const words = source.trim().split(/\s+/);
    let next = 0;
    return (value) => {
      if (typeof value !== "number") return value;
      const some = words.slice(next, next + Math.abs(value));
      next += some.length;
      return some.join(value < 0 ? "\u00a0" : " ");
    };
  };

  const facing = (parts, taken) => {
    const box = make("div", "facing", make("span", "col names", make("span", "", "source"), make("span", "", "draft")));
    for (const [how, source, draft] of parts) {
      if (how === 3) {
        const [up, down] = [wordsOf(source, taken), wordsOf(draft, taken)];
        for (let at = 0; at < Math.max(up.length, down.length); at += 1) {
          box.append(column(3, up[at] || [""], down[at] || [""]));
        }
      } else {
        const up = taken(source).split(" ");
        const down = draft === 0 ? up : draft.split(" ").map((word, at) => word || up[at]);
        up.forEach((word, at) => box.append(column(how, [word], [down[at] || ""])));
      }
    }
    box.setAttribute("aria-hidden", "true"); // the leaf says the same in words
    return box;
  };

  const sample = (how, up, text) => {
    const item = make("li", "");
    const column = make("span", "col k" + how, make("span", "up", up));
    column.style.display = "inline-flex";
    item.append(column, " " + text);
    return item;
  };

  const key = (parts) => {
    const list = make("ul", "how");
    const has = (how) => parts.some((part) => part[0] === how);
    const moved = parts.some((part) => part[0] === 3 && part[2].some((piece) => typeof piece !== "string"));
    if (has(0)) list.append(sample(0, "abc", "kept in a row"));
    if (has(1)) list.append(sample(1, "abc", "one word kept, in any form"));
    if (has(2)) list.append(sample(2, "abc", "swapped for a synonym"));
    if (moved) {
      const item = make("li", "", cell("up", "abc", "a"), " moved: the same letter in both lines");
      list.append(item);
    }
    list.setAttribute("aria-hidden", "true");
    return list;
  };

  const scale = ([degree, share]) => {
    const list = make("ol", "scale");
    list.setAttribute("aria-label", "Scale from verbatim copy to restructured wording");
    DEGREES.forEach((name, at) => {
      const item = make("li", "", name);
      if (at === degree) {
        item.setAttribute("aria-current", "true");
        const svg = document.createElementNS(SVG, "svg");
        svg.setAttribute("aria-hidden", "true");
        const place = document.createElementNS(SVG, "svg");
        place.setAttribute("x", 100 * share + "%");
        place.setAttribute("overflow", "visible");
        const path = document.createElementNS(SVG, "path");
        path.setAttribute("d", "M0 1 7 13 -7 13z");
        place.append(path);
        svg.append(place);
        item.append(svg);
      }
      list.append(item);
    });
    return list;
  };

  const measures = ([, , position, ...values]) => {
    const list = make("dl", "measures");
    const add = (name, value) => list.append(make("div", "", make("dt", "", name), make("dd", "", value)));
    add("position", position.toFixed(2));
    MEASURES.forEach((name, at) => {
      const value = values[at];
      if (value === null) return;
      add(name.replace("_", " "), Number.isInteger(value) && !/share|kept|order|sequence/.test(name) ? String(value) : value.toFixed(2));
    });
    return list;
  };

  /** Draws the two wordings and the scale on a leaf; either is 0 where there is none. */
  const onLeaf = (leaf, scaled, parts) => {
    const before = leaf.querySelector(".src");
    if (parts && before) {
      const from = make("p", "from", leaf.querySelector(".from").textContent + ", with the draft below it");
      leaf.insertBefore(make("div", "drawn", from, facing(parts, takenFrom(before.textContent)), key(parts)), before.previousElementSibling);
    }
    const said = leaf.querySelector("dd.close");
    if (scaled && said) {
      said.prepend(scale(scaled));
      said.append(measures(scaled));
    }
  };

  /** A map is one stop for the keyboard; arrows move within it. */
  const arrows = (map) => {
    const lines = [...map.querySelectorAll(".line")].map((line) => [...line.querySelectorAll("a.b")]);
    const filled = lines.filter((line) => line.length);
    filled.flat().forEach((bar, at) => bar.setAttribute("tabindex", at ? "-1" : "0"));
    map.addEventListener("keydown", (event) => {
      const bar = event.target.closest("a.b");
      const row = filled.findIndex((line) => line.includes(bar));
      if (row < 0) return;
      const seen = (line) => line.filter((bar) => !bar.classList.contains("off"));
      const line = seen(filled[row]);
      const at = line.indexOf(bar);
      const x = (bar) => bar.getBoundingClientRect().x;
      const near = (line) => seen(line || []).sort((a, b) => Math.abs(x(a) - x(bar)) - Math.abs(x(b) - x(bar)))[0];
      const to = {
        ArrowRight: () => line[at + 1], ArrowLeft: () => line[at - 1], Home: () => line[0], End: () => line[line.length - 1],
        ArrowDown: () => near(filled[row + 1]), ArrowUp: () => near(filled[row - 1]),
      }[event.key];
      if (!to) return;
      event.preventDefault();
      const next = to();
      if (!next) return;
      bar.setAttribute("tabindex", "-1");
      next.setAttribute("tabindex", "0");
      next.focus();
    });
  };

  /** Puts each note of a row at the height of its passage, where the margin is beside the text. */
  const align = (row) => {
    const beside = [...row.querySelectorAll(".n")];
    for (const note of beside) note.style.marginTop = "";
    const margin = row.querySelector(".margin");
    if (margin.getBoundingClientRect().left < row.querySelector(".t").getBoundingClientRect().right) return;
    for (const note of beside) {
      if (note.classList.contains("off")) continue;
      const begin = row.querySelector('.r[href="' + note.getAttribute("href") + '"]');
      const own = note.getBoundingClientRect();
      const push = begin ? Math.max(0, begin.getBoundingClientRect().top - 6 - own.top) : 0;
      if (push > 1) note.style.marginTop = push + "px";
    }
  };

  const alignFold = (fold) => {
    for (const margin of fold.querySelectorAll(".margin")) align(margin.parentElement);
  };

  /** Rows are aligned when they come near, since those far away have no height yet. */
  const alignRows = (within) => {
    const near = new Set();
    const watch = new IntersectionObserver((seen) => {
      for (const { target, isIntersecting } of seen) {
        if (isIntersecting) {
          near.add(target);
          alignFold(target);
        } else near.delete(target);
      }
    }, { rootMargin: "300px" });
    for (const fold of within.querySelectorAll(".fold")) watch.observe(fold);
    addEventListener("resize", () => near.forEach(alignFold));
    return { again: () => near.forEach(alignFold), end: () => watch.disconnect() };
  };

  return { arrows, alignRows, DEGREES, make, takenFrom, facing, key, scale, measures, onLeaf };
})();
