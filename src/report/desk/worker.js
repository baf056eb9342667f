// Runs the engine: WebAssembly, unpacked from the text of the page. Files and requests come in as messages.
"use strict";
let engine;

const told = new TextDecoder();
const written = new TextEncoder();

const bytesAt = (at, length) => new Uint8Array(engine.memory.buffer, at, length);

/** Puts bytes where the engine finds them. */
const given = (bytes) => {
  const at = engine.room(bytes.length);
  bytesAt(at, bytes.length).set(bytes);
  return [at, bytes.length];
};

const start = async (text) => {
  const packed = Uint8Array.from(atob(text.trim()), (c) => c.charCodeAt(0));
  const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream("gzip"));
  const module = await WebAssembly.compile(await new Response(stream).arrayBuffer());
  // A library for zip packages names functions for random numbers that nothing here asks for: they are there and can't be called.
  const given = {};
  for (const { module: from, name } of WebAssembly.Module.imports(module)) {
    given[from] ??= {};
    given[from][name] = () => {
      throw new Error(from + "." + name + " was called");
    };
  }
  given.desk.say = (at, length) => postMessage({ say: told.decode(bytesAt(at, length)) });
  engine = (await WebAssembly.instantiate(module, given)).exports;
};

const answer = () => {
  const json = JSON.parse(told.decode(bytesAt(engine.answer(), engine.answer_length())));
  if (json && json.error !== undefined) throw new Error(json.error);
  const length = engine.file_length();
  if (!length) return json;
  return { ...json, bytes: bytesAt(engine.file(), length).slice().buffer };
};

const done = {
  start: ({ start: text }) => start(text),
  hold: ({ hold, bytes }) => engine.hold(...given(written.encode(hold)), ...given(new Uint8Array(bytes))),
  put: () => {
    engine.put();
    return answer();
  },
  ask: ({ ask }) => {
    engine.ask(...given(written.encode(ask)));
    return answer();
  },
};

let last = Promise.resolve();
onmessage = ({ data }) => {
  const what = Object.keys(done).find((name) => name in data);
  last = last.then(() => done[what](data)).then(
    (result) => postMessage({ id: data.id, answer: result }),
    (error) => {
      const stopped = error instanceof WebAssembly.RuntimeError || error instanceof RangeError;
      postMessage({ id: data.id, error: stopped ? "The engine has stopped over these files. Reload the page, and leave out the file you put down last." : error.message });
    },
  );
};
