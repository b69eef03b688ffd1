// Where every panel stands when the blank is folded: rigid poses down the fold tree, by the rules of the fold proof.
// A panel turns about its crease, which lies in the middle of the board, and then leaves it by the shift along its own
// outward normal.

import type { Solid, SolidFold, Stand, Vector } from "../answer";

// Rows of a rotation and an offset: a blank point p stands at r · p + o.
export interface Pose {
  r: number[];
  o: Vector;
}

export type Bend = readonly [angle: number, shift: number];

export function posed(solid: Solid, root: Pose, bends: readonly Bend[]): Pose[] {
  const poses: Pose[] = new Array<Pose>(solid.panels.length);
  poses[0] = root;
  solid.folds.forEach((fold, i) => (poses[fold.child] = folded(fold, poses[fold.parent]!, bends[i]!)));
  return poses;
}

function folded(fold: SolidFold, parent: Pose, [angle, shift]: Bend): Pose {
  const [px, py, qx, qy] = fold.line;
  const length = Math.hypot(qx - px, qy - py);
  const r = product(parent.r, turn((qx - px) / length, (qy - py) / length, angle));
  const [hx, hy, hz] = applied(parent.r, px, py, 0);
  const [cx, cy, cz] = applied(r, px, py, shift);
  return { r, o: [parent.o[0] + hx - cx, parent.o[1] + hy - cy, parent.o[2] + hz - cz] };
}

// The server gives each crease so that its child lies left of it: a positive turn lifts it to the inside.
function turn(ux: number, uy: number, degrees: number): number[] {
  const radians = (degrees * Math.PI) / 180;
  const [c, s] = [Math.cos(radians), Math.sin(radians)];
  const one = 1 - c;
  return [c + ux * ux * one, ux * uy * one, uy * s, ux * uy * one, c + uy * uy * one, -ux * s, -uy * s, ux * s, c];
}

export function standing(stand: Stand): Pose {
  const [[ux, uy, uz], [vx, vy, vz]] = [stand.u, stand.v];
  const r = [ux, vx, uy * vz - uz * vy, uy, vy, uz * vx - ux * vz, uz, vz, ux * vy - uy * vx];
  return held(r, stand.at, stand.origin);
}

// The pose with a rotation that brings a blank point to a place.
export function held(r: number[], at: [number, number], place: Vector): Pose {
  const [ax, ay, az] = applied(r, at[0], at[1], 0);
  return { r, o: [place[0] - ax, place[1] - ay, place[2] - az] };
}

export function applied(r: number[], x: number, y: number, z: number): Vector {
  return [
    r[0]! * x + r[1]! * y + r[2]! * z,
    r[3]! * x + r[4]! * y + r[5]! * z,
    r[6]! * x + r[7]! * y + r[8]! * z,
  ];
}

function product(a: number[], b: number[]): number[] {
  const out = new Array<number>(9);
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++)
      out[3 * i + j] = a[3 * i]! * b[j]! + a[3 * i + 1]! * b[3 + j]! + a[3 * i + 2]! * b[6 + j]!;
  return out;
}
