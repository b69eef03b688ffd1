// The edges at which panels hang together: where the board bends, and which of them nobody should see.

import type { Vector2 } from "three";
import type { Solid } from "../answer";

export interface Edge {
  parent: number;
  child: number;
  line: [number, number, number, number];
}

const NEAR = 0.02; // mm

export function edgesOf(solid: Solid): { bends: Edge[]; hidden: ((a: Vector2, b: Vector2) => boolean)[] } {
  const unseen: Edge["line"][][] = solid.panels.map(() => []);
  for (const fold of solid.folds)
    if (fold.made === "") for (const panel of [fold.parent, fold.child]) unseen[panel]!.push(fold.line);
  return {
    bends: solid.folds.map(({ parent, child, line }) => ({ parent, child, line })),
    hidden: unseen.map((lines) => (a, b) => lines.some((line) => near(a, line) && near(b, line))),
  };
}

// Whether a corner lies on a line.
function near({ x, y }: Vector2, [px, py, qx, qy]: Edge["line"]): boolean {
  const length = Math.hypot(qx - px, qy - py) || 1;
  const off = ((qx - px) * (y - py) - (qy - py) * (x - px)) / length;
  const along = ((qx - px) * (x - px) + (qy - py) * (y - py)) / length;
  return Math.abs(off) < NEAR && along > -NEAR && along < length + NEAR;
}
