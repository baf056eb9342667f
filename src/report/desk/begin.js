// The first screen: files are put down, each is recognised or asked about, and what can't be read is said beside it.
const begin = (() => {
  "use strict";
  const { make } = drawing;
  const $ = (id) => document.getElementById(id);
  const ROLES = [
    ["draft", "draft"], ["source", "source"], ["notes", "notes"], ["references", "references"],
    ["earlier", "earlier version"], ["unused", "leave aside"],
  ];
  const watched = new Map(); // name -> what is kept of a file to read it again
  let changed = () => {};

  /** The files of a folder that the browser keeps hold of. */
  const within = async function* within(folder, path) {
    for await (const [name, one] of folder.entries()) {
      if (name.startsWith(".")) continue;
      if (one.kind === "directory") yield* within(one, path + name + "/");
      else yield { name: path + name, handle: one };
    }
  };

  /** The same where it does not. */
  const entries = async function* entries(entry, path) {
    if (entry.isFile) {
      yield { name: path + entry.name, file: await new Promise((done, refuse) => entry.file(done, refuse)) };
      return;
    }
    const reader = entry.createReader();
    for (;;) {
      const some = await new Promise((done, refuse) => reader.readEntries(done, refuse));
      if (!some.length) return;
      for (const one of some) yield* entries(one, path + entry.name + "/");
    }
  };

  const read = async ({ name, handle, file }) => {
    const now = handle ? await handle.getFile() : file;
    if (handle) watched.set(name, { handle, at: now.lastModified });
    return { name, bytes: await now.arrayBuffer() };
  };

  const put = async (found) => {
    const files = [];
    for (const one of found) {
      desk.say("taking in " + one.name);
      try {
        files.push(await read(one));
      } catch {
        desk.wrong(one.name + " could not be opened. Close it in other programs, or choose it again.");
      }
    }
    if (files.length) changed(await engine.put(files));
  };

  const dropped = async (event) => {
    const items = [...event.dataTransfer.items].filter((item) => item.kind === "file");
    const kept = items.map((item) => (item.getAsFileSystemHandle ? item.getAsFileSystemHandle() : null));
    const plain = items.map((item) => item.webkitGetAsEntry && item.webkitGetAsEntry());
    const loose = [...event.dataTransfer.files];
    const found = [];
    for (let at = 0; at < items.length; at += 1) {
      const handle = await Promise.resolve(kept[at]).catch(() => null);
      if (handle && handle.kind === "directory") for await (const one of within(handle, handle.name + "/")) found.push(one);
      else if (handle) found.push({ name: handle.name, handle });
      else if (plain[at]) for await (const one of entries(plain[at], "")) found.push(one);
    }
    return found.length ? found : loose.map((file) => ({ name: file.name, file }));
  };

  /** What the browser keeps hold of is read again when it was saved. */
  const look = async () => {
    const anew = [];
    for (const [name, one] of watched) {
      try {
        const file = await one.handle.getFile();
        if (file.lastModified !== one.at) {
          one.at = file.lastModified;
          anew.push({ name, bytes: await file.arrayBuffer() });
        }
      } catch {
        // It is being saved, or was moved; the next look tells.
      }
    }
    if (anew.length) changed(await engine.put(anew));
    setTimeout(look, 700);
  };

  const row = (file) => {
    const line = make("tr", file.asked ? "asked" : "");
    const name = make("th", "", file.shown);
    name.scope = "row";
    const select = make("select", "");
    select.setAttribute("aria-label", file.shown + " is");
    for (const [value, text] of ROLES) {
      const option = make("option", "", text);
      option.value = value;
      option.selected = value === file.role;
      select.append(option);
    }
    select.addEventListener("change", () => desk.does(async () => {
      changed(await engine.ask({ ask: "role", name: file.name, role: select.value }));
    }));
    const about = make("td", "", file.read || "");
    if (file.asked) about.append(make("strong", "", " Is this your draft? If not, say what it is. "));
    if (file.why) about.append(make("span", "why", (file.read ? "; " : "") + file.why));
    const remove = make("button", "small", "Remove");
    remove.type = "button";
    remove.setAttribute("aria-label", "Remove " + file.shown);
    remove.addEventListener("click", () => desk.does(async () => {
      watched.delete(file.name);
      changed(await engine.ask({ ask: "remove", name: file.name }));
    }));
    line.append(name, make("td", "", select), about, make("td", "", remove));
    return line;
  };

  const next = (overview) => {
    const has = (role) => overview.files.some((file) => file.role === role);
    if (overview.drafts.length) {
      const open = overview.drafts.reduce((sum, draft) => sum + draft.mend + draft.look, 0);
      const link = make("a", "go-on", open ? "Go to the " + (open === 1 ? "place" : open + " places") + " to look at" : "Go to the draft");
      link.href = "#draft";
      return make("p", "next", link);
    }
    if (!overview.files.length) return "";
    if (!has("draft")) return make("p", "next", "Now add the draft that you want to look through.");
    return make("p", "next", "Now add what you have read for it: sources or notes.");
  };

  const show = (overview) => {
    const box = $("on-desk");
    box.replaceChildren();
    if (overview.folder) {
      $("begin-name").textContent = "Your files";
      box.append(make("p", "", "The desk is open on the folder ", make("strong", "", overview.folder), "."),
        make("p", "", "What you save there is looked at within a second. " + (overview.review ? overview.review.sources + " sources, " + overview.review.entries + " entries of notes, " + overview.review.references + " references." : "")));
      $("drop").hidden = true;
    }
    box.append(next(overview));
    if (overview.closed) box.append(make("p", "remark", overview.closed));
    if (overview.files.length) {
      const table = make("table", "files");
      const head = make("tr", "");
      for (const name of ["File", "What it is", "What was read of it", ""]) {
        const cell = make(name ? "th" : "td", "", name);
        if (name) cell.scope = "col";
        head.append(cell);
      }
      const body = make("tbody", "");
      overview.files.forEach((file) => body.append(row(file)));
      table.append(make("thead", "", head), body);
      const wide = make("div", "wide", table);
      box.append(make("h2", "", "On the desk"), wide);
      const clear = make("button", "", "Clear the desk");
      clear.type = "button";
      clear.addEventListener("click", () => desk.does(async () => {
        watched.clear();
        changed(await engine.ask({ ask: "clear" }));
      }));
      box.append(clear);
    }
    if (overview.leftOut.length) {
      const list = make("ul", "");
      for (const { what, why } of overview.leftOut) list.append(make("li", "", make("strong", "", what), ": " + why));
      box.append(make("h2", "", "Left out, or read in a way you should know about"), list);
    }
  };

  const start = (onChange) => {
    changed = onChange;
    const pick = (input) => desk.does(async () => {
      const found = [...input.files].map((file) => ({ name: file.webkitRelativePath || file.name, file }));
      await put(found);
      input.value = "";
    });
    $("files").addEventListener("change", () => pick($("files")));
    $("folder").addEventListener("change", () => pick($("folder")));
    $("pick").addEventListener("click", () => $("files").click());
    $("pick-folder").addEventListener("click", () => desk.does(async () => {
      if (!globalThis.showDirectoryPicker) return $("folder").click();
      let folder;
      try {
        folder = await showDirectoryPicker();
      } catch (error) {
        if (error.name !== "AbortError") $("folder").click();
        return undefined;
      }
      const found = [];
      for await (const one of within(folder, folder.name + "/")) found.push(one);
      return put(found);
    }));
    $("demo").addEventListener("click", () => desk.does(async () => {
      changed(await engine.ask({ ask: "demo" }), true);
    }));
    addEventListener("dragover", (event) => {
      event.preventDefault();
      $("drop").classList.add("over");
    });
    addEventListener("dragleave", () => $("drop").classList.remove("over"));
    addEventListener("drop", (event) => {
      event.preventDefault();
      $("drop").classList.remove("over");
      const found = dropped(event);
      if (!document.querySelector("#class[hidden]")) return desk.does(async () => classroom.take(await found));
      desk.show("begin");
      return desk.does(async () => put(await found));
    });
    if (engine.isInside) setTimeout(look, 700);
  };

  return { start, show, read };
})();
