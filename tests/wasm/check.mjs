// Puts the files of a folder into the module, has the drafts checked, and prints the report.
// node check.mjs MODULE FOLDER

import { readFileSync, readdirSync, writeSync } from "node:fs";
import { join } from "node:path";

const [module, folder] = process.argv.slice(2);
const compiled = new WebAssembly.Module(readFileSync(module));
// A library for zip packages names functions of a browser's glue, for random numbers that nothing here asks for. So
// they are there and can't be called.
const named = {};
for (const { module, name } of WebAssembly.Module.imports(compiled)) {
  named[module] ??= {};
  named[module][name] = () => {
    throw new Error(`${module}.${name} was called`);
  };
}
const { exports } = new WebAssembly.Instance(compiled, named);
const { memory, room, put, check, answer } = exports;

function given(bytes) {
  const at = room(bytes.length);
  // The memory may have grown, and then it lies elsewhere.
  new Uint8Array(memory.buffer).set(bytes, at);
  return at;
}

let files = 0;
function give(inside) {
  for (const entry of readdirSync(join(folder, inside), { withFileTypes: true })) {
    const path = inside ? `${inside}/${entry.name}` : entry.name;
    if (entry.isDirectory()) {
      give(path);
    } else if (entry.isFile()) {
      const name = new TextEncoder().encode(path);
      const bytes = readFileSync(join(folder, path));
      put(given(name), name.length, given(bytes), bytes.length);
      files += 1;
    }
  }
}

give("");
const start = performance.now();
const length = check();
const took = Math.round(performance.now() - start);
const from = answer() >>> 0;
const all = new Uint8Array(memory.buffer);
const report = all.subarray(from, length > 0 ? from + length : all.indexOf(0, from));
if (length === 0) {
  console.error(`check.mjs: ${new TextDecoder().decode(report)}`);
  process.exit(1);
}
for (let written = 0; written < report.length; ) {
  written += writeSync(1, report, written);
}
const megabytes = (memory.buffer.byteLength / 1e6).toFixed(0);
console.error(`${files} files, checked in ${took} ms, ${megabytes} MB of memory`);
