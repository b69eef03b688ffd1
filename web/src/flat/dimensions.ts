// Dimension lines beside a blank: where its creases and edges lie, and its whole size.

import { draw } from "../element";
import { lengthText, type Unit } from "../measure";

export interface Placed {
  x: number;
  y: number;
  width: number;
  height: number;
  stations: [number[], number[]]; // from the left, and from the top, as seen
}

const CHARACTER = 6.6; // px, at the size of the figures
const LANE = 20; // px between dimension lines

// How far the dimension lines reach out from the blank, px.
export const REACH = 3 * LANE + 8;

// The dimension lines of a blank. u is mm per pixel: they keep their size on the screen whatever the zoom.
export function dimensions(blank: Placed, u: number, unit: Unit): SVGGElement {
  const group = draw("g", { class: "dimensions", "aria-hidden": "true" });
  const [across, along] = blank.stations;
  const foot = blank.y + blank.height;
  const chain = (axis: 0 | 1, stations: number[], lane: number) => {
    const parts = stations.slice(1).map((end, i) => [stations[i]!, end] as const);
    for (const [a, b] of parts) group.append(...line(axis, blank, foot, a, b, lane, u, unit));
  };
  if (across.length > 2) chain(0, across, 1);
  if (along.length > 2) chain(1, along, 1);
  chain(0, [0, blank.width], across.length > 2 ? 2 : 1);
  chain(1, [0, blank.height], along.length > 2 ? 2 : 1);
  return group;
}

function line(
  axis: 0 | 1,
  blank: Placed,
  foot: number,
  a: number,
  b: number,
  lane: number,
  u: number,
  unit: Unit,
): SVGElement[] {
  const out = (lane * LANE + 4) * u;
  const tick = 4 * u;
  const words = lengthText(b - a, unit);
  const fits = (b - a) / u > words.length * CHARACTER + 8;
  const shown: SVGElement[] = [];
  if (axis === 0) {
    const y = foot + out;
    shown.push(draw("path", { d: `M${blank.x + a} ${y}H${blank.x + b}${ends(blank.x + a, y, tick)}${ends(blank.x + b, y, tick)}` }));
    if (fits) shown.push(figure(words, blank.x + (a + b) / 2, y - 3 * u, 0, u));
  } else {
    const x = blank.x - out;
    shown.push(draw("path", { d: `M${x} ${blank.y + a}V${blank.y + b}${ends(x, blank.y + a, tick)}${ends(x, blank.y + b, tick)}` }));
    if (fits) shown.push(figure(words, x - 3 * u, blank.y + (a + b) / 2, -90, u));
  }
  return shown;
}

function ends(x: number, y: number, tick: number): string {
  return `M${x - tick} ${y + tick}L${x + tick} ${y - tick}`;
}

function figure(words: string, x: number, y: number, turn: number, u: number): SVGTextElement {
  return draw("text", { "font-size": 11 * u, "text-anchor": "middle", transform: `translate(${x} ${y}) rotate(${turn})` }, words);
}
