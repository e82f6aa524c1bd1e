// The length of each drawing of a folder, in its own units: its paths by svg-path-properties, basic shapes by their formulas.
// Prints "name length" a line. A drawing that holds anything else is left out.
"use strict";
const fs = require("fs");
const path = require("path");
const { svgPathProperties } = require("svg-path-properties");

const attribute = (text, name, fallback) => {
  const found = new RegExp(`\\s${name}="([^"]*)"`).exec(text);
  return found ? found[1] : fallback;
};
const number = (text, name) => Number(attribute(text, name, "0"));
const along = (data) => new svgPathProperties(data).getTotalLength();

const lengths = {
  path: (text) => along(attribute(text, "d", "")),
  polyline: (text) => along("M" + attribute(text, "points", "")),
  polygon: (text) => along("M" + attribute(text, "points", "") + "Z"),
  line: (text) => Math.hypot(number(text, "x2") - number(text, "x1"), number(text, "y2") - number(text, "y1")),
  circle: (text) => 2 * Math.PI * number(text, "r"),
  rect: (text) => {
    const r = Number(attribute(text, "rx", attribute(text, "ry", "0")));
    return 2 * (number(text, "width") + number(text, "height")) - 8 * r + 2 * Math.PI * r;
  },
};

const folder = process.argv[2];
for (const name of fs.readdirSync(folder).sort()) {
  const text = fs.readFileSync(path.join(folder, name), "utf8");
  const elements = [...text.matchAll(/<(\w+)([^>]*)>/g)].filter((found) => found[1] !== "svg");
  if (elements.every((found) => lengths[found[1]]))
    console.log(name, elements.reduce((sum, found) => sum + lengths[found[1]](found[2]), 0));
}
