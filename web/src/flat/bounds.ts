// The box round a path of straight lines and arcs, from its text: asking the browser would make it lay out the page.

import type { Box } from "./zoom";

const PART = /([MLHVAZ])([^MLHVAZ]*)/gi;
const NUMBER = /-?\d*\.?\d+(?:e[+-]?\d+)?/gi;

// Arcs are taken by their ends: it is names that are placed by this, and none of them lies on an edge.
export function boundsOf(d: string): Box {
  const across: number[] = [];
  const along: number[] = [];
  for (const [, command, text] of d.matchAll(PART)) {
    const numbers = (text!.match(NUMBER) ?? []).map(Number);
    if (command === "H") across.push(...numbers);
    else if (command === "V") along.push(...numbers);
    else if (command === "A") for (let i = 5; i + 1 < numbers.length; i += 7) place(numbers[i]!, numbers[i + 1]!);
    else for (let i = 0; i + 1 < numbers.length; i += 2) place(numbers[i]!, numbers[i + 1]!);
  }
  const [x, y] = [Math.min(...across), Math.min(...along)];
  return { x, y, width: Math.max(...across) - x, height: Math.max(...along) - y };

  function place(x: number, y: number): void {
    across.push(x);
    along.push(y);
  }
}
