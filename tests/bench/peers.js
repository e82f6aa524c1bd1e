// What libraries of npm reach: `scatter SIDE DISTANCE` spreads points over a square, `pairs FILE` finds the overlapping
// pairs of discs that a file of doubles holds (x, y, radius). Prints "seconds count" of the best of some runs.
"use strict";
const fs = require("fs");
const path = require("path");

const best = (runs, work) => {
  let least = Infinity, count = 0;
  for (let run = 0; run < runs; run++) {
    const start = process.cpuUsage();
    count = work();
    const used = process.cpuUsage(start);
    least = Math.min(least, (used.user + used.system) / 1e6);
  }
  console.log(least, count);
};

const scatter = (side, distance) => {
  const Sampling = require("fast-2d-poisson-disk-sampling");
  best(3, () => new Sampling({ shape: [side, side], radius: distance }).fill().length);
};

const pairs = async (file) => {
  const { default: Index } = await import(path.resolve(process.env.NODE_PATH, "kdbush/index.js"));
  const bytes = fs.readFileSync(file);
  const discs = new Float64Array(bytes.buffer, bytes.byteOffset, bytes.length / 8);
  const number = discs.length / 3;
  const largest = discs.reduce((most, value, at) => (at % 3 === 2 ? Math.max(most, value) : most), 0);
  best(3, () => {
    const index = new Index(number);
    let found = 0;
    for (let i = 0; i < number; i++) index.add(discs[3 * i], discs[3 * i + 1]);
    index.finish();
    for (let i = 0; i < number; i++) {
      const x = discs[3 * i], y = discs[3 * i + 1], radius = discs[3 * i + 2];
      for (const other of index.within(x, y, radius + largest))
        if (other > i && Math.hypot(discs[3 * other] - x, discs[3 * other + 1] - y) < radius + discs[3 * other + 2] - 2e-4)
          found++;
    }
    return found;
  });
};

const [what, ...given] = process.argv.slice(2);
if (what === "scatter") scatter(Number(given[0]), Number(given[1]));
if (what === "pairs") pairs(given[0]);
