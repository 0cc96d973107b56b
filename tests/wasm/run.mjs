// Calls the library as a browser would, and says how long it takes: node run.mjs FILE.wasm

import { readFileSync } from "node:fs";

const CALLS = 200;

const bytes = readFileSync(process.argv[2]);
const { instance } = await WebAssembly.instantiate(bytes, {});
const call = () => {
  const status = instance.exports.main(0, 0);
  if (status !== 0) throw new Error(`the example ended with status ${status}`);
};

const before = performance.now();
call();
const first = performance.now() - before;
const times = Array.from({ length: CALLS }, () => {
  const start = performance.now();
  call();
  return performance.now() - start;
});
times.sort((one, other) => one - other);
console.log(
  `${(bytes.length / 1e6).toFixed(1)} MB; the first call ${first.toFixed(0)} ms, then ${times[CALLS / 2].toFixed(2)} ms ` +
    `each (the middle of ${CALLS}): a brief solved, its proof checked, a sheet written`,
);
