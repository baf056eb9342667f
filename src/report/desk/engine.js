// The engine behind the page: in a worker inside the page, or the program on this machine that serves it. Both answer the
// same requests. HTML in an answer was written and escaped by the engine; this is the only place where any is put in.
const engine = (() => {
  "use strict";
  const same = (text) => text;
  const policy = globalThis.trustedTypes
    ? trustedTypes.createPolicy("ownwords", { createHTML: same, createScriptURL: same })
    : { createHTML: same, createScriptURL: same };
  const inside = document.getElementById("module");
  let say = () => {};

  const fill = (element, html) => {
    element.innerHTML = policy.createHTML(html);
  };

  /** The engine in a worker. */
  const worker = () => {
    const code = document.getElementById("worker").textContent;
    const address = URL.createObjectURL(new Blob([code], { type: "text/javascript" }));
    const works = new Worker(policy.createScriptURL(address));
    const waiting = new Map();
    let next = 0;
    works.onmessage = ({ data }) => {
      if (data.say !== undefined) return say(data.say);
      const { done, refuse } = waiting.get(data.id);
      waiting.delete(data.id);
      if (data.error !== undefined) refuse(new Error(data.error));
      else done(data.answer);
    };
    works.onerror = (event) => {
      event.preventDefault();
      for (const { refuse } of waiting.values()) refuse(new Error("The engine has stopped. Reload the page and put your files down again."));
      waiting.clear();
    };
    const send = (what, parts = []) => new Promise((done, refuse) => {
      next += 1;
      waiting.set(next, { done, refuse });
      works.postMessage({ id: next, ...what }, parts);
    });
    send({ start: inside.textContent });
    inside.remove();
    return {
      ask: (request) => send({ ask: JSON.stringify(request) }),
      put: async (files) => {
        for (const { name, bytes } of files) await send({ hold: name, bytes }, [bytes]);
        return send({ put: true });
      },
      changes: null,
    };
  };

  /** The program that serves the page. */
  const program = () => {
    const call = async (address, body) => {
      let answer;
      try {
        answer = await fetch(address, { method: "POST", body });
      } catch {
        throw new Error("ownwords does not answer any more. Start the desk again, and reload this page.");
      }
      const name = answer.headers.get("X-Name");
      if (name) return { name: decodeURIComponent(name), kind: answer.headers.get("Content-Type"), bytes: await answer.arrayBuffer() };
      const json = await answer.json();
      if (json && json.error !== undefined) throw new Error(json.error);
      return json;
    };
    /** Tells what is being done as long as something is. */
    const tell = async (work) => {
      let done = false;
      const end = work.finally(() => { done = true; });
      for (let wait = 400; !done; wait = 400) {
        await Promise.race([end.catch(() => {}), new Promise((later) => setTimeout(later, wait))]);
        if (!done) say(await call("doing", "").catch(() => ""));
      }
      return end;
    };
    return {
      ask: (request) => call("ask", JSON.stringify(request)),
      put: async (files) => {
        for (const { name, bytes } of files) await call("hold?" + encodeURIComponent(name), bytes);
        return tell(call("put", ""));
      },
      changes: (since) => call("changes?" + since, ""),
    };
  };

  const chosen = inside ? worker() : program();
  return { ...chosen, fill, isInside: Boolean(inside), hear: (hearer) => { say = hearer; } };
})();
