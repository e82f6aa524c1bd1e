// What libraries of npm reach with shapes. `lengths FILE OUT` reads and measures the path data of each line and writes
// the lengths, `points FILE OUT` finds the points at the lengths that FILE's second line holds along the path of its
// first and writes x, y. Prints "seconds count" of the best of some runs.
"use strict";
const fs = require("fs");
const [what, file, out] = process.argv.slice(2);
const lines = fs.readFileSync(file, "utf8").trim().split("\n");

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

const lengths = () => {
  const { svgPathProperties } = require("svg-path-properties");
  const found = new Array(lines.length);
  best(5, () => {
    lines.forEach((line, i) => (found[i] = new svgPathProperties(line).getTotalLength()));
    return found.length;
  });
  fs.writeFileSync(out, found.join("\n") + "\n");
};

const points = async () => {
  const kit = await require("canvaskit-wasm")();
  const wanted = lines[1].split(" ").map(Number);
  const contour = new kit.ContourMeasureIter(kit.Path.MakeFromSVGString(lines[0]), false, 1).next();
  const at = new Float32Array(4), found = new Float64Array(2 * wanted.length);
  best(9, () => {
    for (let i = 0; i < wanted.length; i++) {
      contour.getPosTan(wanted[i], at);
      found[2 * i] = at[0];
      found[2 * i + 1] = at[1];
    }
    return wanted.length;
  });
  fs.writeFileSync(out, Array.from(found).join("\n") + "\n");
};

if (what === "lengths") lengths();
if (what === "points") points();
