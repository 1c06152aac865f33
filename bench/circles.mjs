// A general-purpose circle packing (d3-hierarchy's packSiblings) of the blend, cropped to the strip:
// whole circles only, each grown by half the gap on every side while it is packed.
import { packSiblings } from "d3-hierarchy";

const GAP_MM = 0.1;
const STRIP_MM = [235, 120];
const BLEND = [[2.8, 0.4], [2.4, 0.3], [2.0, 0.3]];

let state = 7;
const chance = () => {
  // Numerical Recipes' linear congruential generator.
  state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
  return state / 2 ** 32;
};
const diameter = () => {
  let left = chance();
  for (const [mm, share] of BLEND) {
    left -= share;
    if (left < 0) return mm;
  }
  return BLEND[BLEND.length - 1][0];
};

const circles = Array.from({ length: 11000 }, () => ({ r: (diameter() + GAP_MM) / 2 }));
const start = performance.now();
packSiblings(circles);
const seconds = (performance.now() - start) / 1000;
const [wide, high] = STRIP_MM;
const whole = circles.filter(({ x, y, r }) => {
  const bare = r - GAP_MM / 2;
  return Math.abs(x) + bare <= wide / 2 && Math.abs(y) + bare <= high / 2;
});
const covered = whole.reduce((sum, { r }) => sum + Math.PI * (r - GAP_MM / 2) ** 2, 0);
console.log(
  `strip    blend  d3-hierarchy 3.1.3 packSiblings, 11000 circles, cropped: ${whole.length} stones  ` +
    `${(covered / (wide * high)).toFixed(4)} covered  ${seconds.toFixed(3)} s`,
);
