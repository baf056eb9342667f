// The page's only script. It opens a leaf when its passage is chosen, draws the two wordings and the scale on
// it, goes from finding to finding, and chooses which are shown. Words are put in as text only. Without it
// everything is there to read.
(() => {
  "use strict";
  const { make, onLeaf, arrows, alignRows } = drawing;
  const root = document.documentElement;
  root.classList.add("js");

  const [KIND, WEIGHT, SOURCE, SETTLED, SCALE, FACING] = [0, 1, 2, 3, 4, 5];

  let rows, notes, leaves, byAddress;
  let marked = null; // everything with a finding's number, looked up when first needed
  let current = -1; // the open leaf
  let last = -1; // where next and previous go on from
  let shown = []; // for each finding whether it is shown

  const $ = (id) => document.getElementById(id);

  const draw = (at) => {
    const leaf = leaves[at];
    if (leaf.dataset.drawn) return;
    leaf.dataset.drawn = "yes";
    const row = rows[at];
    leaf.querySelector(".lead").tabIndex = -1;
    const close = make("button", "close-leaf", "Close");
    close.type = "button";
    close.addEventListener("click", () => shut(true));
    leaf.prepend(close);
    onLeaf(leaf, row[SCALE], row[FACING]);
  };

  /* Opening and closing */

  const all = () => {
    if (!marked) {
      marked = new Map();
      for (const element of document.querySelectorAll("[data-f]")) {
        const at = Number(element.dataset.f);
        if (!marked.has(at)) marked.set(at, []);
        marked.get(at).push(element);
      }
    }
    return marked;
  };

  const highlight = (at, on) => {
    for (const element of document.querySelectorAll('[data-f="' + at + '"]')) element.classList.toggle("on", on);
  };

  const remember = (address) => {
    try {
      history.replaceState(null, "", address ? "#" + address : location.pathname + location.search);
    } catch {
      // A page opened from a file may not be allowed to; nothing is lost but the address.
    }
  };

  const shut = (goBack) => {
    if (current < 0) return;
    const at = current;
    current = -1;
    leaves[at].setAttribute("hidden", "until-found");
    notes[at].setAttribute("aria-expanded", "false");
    highlight(at, false);
    if (goBack) {
      remember("");
      notes[at].focus();
    }
  };

  /** What is scrolled to stays clear of the tools, which keep to the top where there is room. */
  const clearTools = () => {
    const isSticky = getComputedStyle($("tools")).position === "sticky";
    root.style.scrollPaddingTop = isSticky ? $("tools").offsetHeight + 16 + "px" : "1rem";
  };

  const open = (at, focus) => {
    if (at !== current) {
      shut(false);
      current = at;
      last = at;
      leaves[at].removeAttribute("hidden");
      draw(at);
      notes[at].setAttribute("aria-expanded", "true");
      highlight(at, true);
    }
    if (!focus) return;
    remember(leaves[at].id);
    leaves[at].querySelector(".lead").focus({ preventScroll: true });
    const show = () => {
      clearTools();
      const passage = document.querySelector('.text a.r[data-f="' + at + '"]') || notes[at];
      // The passage stays in sight above its leaf where both fit.
      const height = leaves[at].getBoundingClientRect().bottom - passage.getBoundingClientRect().top;
      const target = height < innerHeight - $("tools").offsetHeight - 32 ? passage : leaves[at];
      target.scrollIntoView({ block: "start" });
    };
    show();
    requestAnimationFrame(show); // rows that were not laid out before have their height now
  };

  const step = (by) => {
    const count = rows.length;
    for (let tries = 1, at = last; tries <= count; tries += 1) {
      at = (at + by + count) % count;
      if (at < 0) at = count - 1;
      if (shown[at]) {
        open(at, true);
        return;
      }
    }
  };

  /* Choosing */

  const choose = () => {
    const kind = $("kind").value;
    const source = $("source").value;
    const weights = new Set([...document.querySelectorAll("[name=weight]:checked")].map((box) => Number(box.value)));
    const settled = $("settled") ? $("settled").checked : true;
    let count = 0;
    rows.forEach((row, at) => {
      const is = (kind === "" || row[KIND] === Number(kind)) && (source === "" || row[SOURCE] === Number(source)) &&
        weights.has(row[WEIGHT]) && (settled || !row[SETTLED]);
      if (is) count += 1;
      if (is === shown[at]) return;
      shown[at] = is;
      if (!is && at === current) shut(false);
      notes[at].classList.toggle("off", !is);
      leaves[at].classList.toggle("off", !is);
      for (const element of all().get(at) || []) element.classList.toggle("off", !is);
    });
    $("shown").textContent = count + " of " + rows.length + (rows.length === 1 ? " finding shown" : " findings shown");
  };

  /* Keys and clicks */

  const onKey = (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey || event.isComposing) return;
    if (event.key === "Escape" && current >= 0) {
      shut(true);
      return;
    }
    if (!$("keys").checked || event.target.closest("input, select, textarea")) return;
    const by = { n: 1, j: 1, p: -1, k: -1 }[event.key];
    if (!by) return;
    event.preventDefault();
    step(by);
  };

  const onClick = (event) => {
    if (event.defaultPrevented || event.button !== 0 || event.ctrlKey || event.metaKey || event.shiftKey) return;
    const link = event.target.closest("a");
    if (link) {
      const at = byAddress.get((link.getAttribute("href") || "").slice(1));
      if (at === undefined) return;
      event.preventDefault();
      if (link.classList.contains("n") && at === current) shut(true);
      else open(at, true);
      return;
    }
    const mark = event.target.closest(".m[data-f]:not(.off)");
    if (mark && getSelection().isCollapsed) open(Number(mark.dataset.f), true);
  };

  const follow = () => {
    const at = byAddress.get(decodeURIComponent(location.hash.slice(1)));
    if (at !== undefined) {
      if (!shown[at] && $("settled")) {
        $("settled").checked = true;
        choose();
      }
      open(at, true);
    }
  };

  const start = () => {
    rows = JSON.parse($("data").textContent);
    notes = [...document.querySelectorAll("a.n")];
    leaves = [...document.querySelectorAll(".leaf")];
    byAddress = new Map(leaves.map((leaf, at) => [leaf.id, at]));
    shown = rows.map(() => true);
    for (const leaf of leaves) leaf.setAttribute("hidden", "until-found");
    for (const note of notes) note.setAttribute("aria-expanded", "false");
    root.classList.add("ready");
    if (rows.length) $("tools").hidden = false;
    document.querySelectorAll(".map").forEach(arrows);
    $("next").addEventListener("click", () => step(1));
    $("previous").addEventListener("click", () => step(-1));
    $("tools").addEventListener("submit", (event) => event.preventDefault());
    for (const field of document.querySelectorAll(".choose select, .choose input")) field.addEventListener("change", choose);
    document.addEventListener("click", onClick);
    document.addEventListener("keydown", onKey);
    // The browser's own search found words on a leaf.
    document.addEventListener("beforematch", (event) => {
      const at = leaves.indexOf(event.target.closest(".leaf"));
      if (at >= 0) open(at, false);
    });
    let closed = [];
    addEventListener("beforeprint", () => {
      closed = [...document.querySelectorAll("footer details:not([open])")];
      closed.forEach((details) => { details.open = true; });
    });
    addEventListener("afterprint", () => closed.forEach((details) => { details.open = false; }));
    addEventListener("hashchange", follow);
    choose();
    alignRows(document);
    clearTools();
    $("tools").querySelector("details").addEventListener("toggle", clearTools);
    addEventListener("resize", clearTools);
    follow();
    // The browser looks for the address itself when all is loaded, and takes the focus away.
    addEventListener("load", () => setTimeout(follow));
  };

  document.addEventListener("DOMContentLoaded", start);
})();
