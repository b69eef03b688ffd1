// Where each piece stands on the bench at each moment: lying flat and apart at first, in its place in the end.

import { Matrix4, Quaternion } from "three";
import type { Piece, Scene, Solid, Vector } from "../answer";
import { Course, type Moment } from "./course";
import { applied, held, posed, standing, type Pose } from "./pose";

const GAP = 1.12; // of the room that the largest piece takes

interface Copy {
  piece: number;
  stand: number;
  final: Pose;
  turn: Quaternion; // from lying to standing
  lying: Vector; // where the held point of the root lies
  apart: Vector; // how far it is off its place
}

export class Bench {
  readonly course: Course;
  readonly copies: Copy[];
  readonly floor: number; // height of the bench
  together = true;

  constructor(private readonly scene: Scene) {
    this.course = new Course(scene);
    const boxes = scene.pieces.map((piece) => finishedBox(piece));
    const cells = gridOf(scene.pieces, boxes);
    this.floor = Math.min(...boxes.map((box) => box.low[2])) - scene.thickness / 2;
    this.copies = scene.pieces.flatMap((piece, number) =>
      piece.solid.stands.map((stand, place) => {
        const final = standing(stand);
        const turn = new Quaternion().setFromRotationMatrix(matrixOf(final.r));
        const lying = lyingAt(piece, boxes[number]!, stand.at);
        return { piece: number, stand: place, final, turn, lying, apart: cells.next() };
      }),
    );
  }

  // The pose of every panel of every copy.
  at(value: number): Pose[][] {
    const moment = this.course.at(value);
    return this.copies.map((copy) => this.copyAt(copy, moment));
  }

  private copyAt(copy: Copy, moment: Moment): Pose[] {
    const { solid } = this.scene.pieces[copy.piece]!;
    const risen = moment.risen[copy.piece]!;
    const stand = solid.stands[copy.stand]!;
    let root = copy.final;
    if (risen < 1) {
      const turned = new Quaternion().slerp(copy.turn, risen);
      const place = mixed(copy.lying, stand.origin, risen);
      root = held(rowsOf(turned), stand.at, place);
    }
    const poses = posed(solid, root, moment.bends[copy.piece]!);
    const [dx, dy, dz] = this.off(copy, moment);
    // Until it is gathered, a piece stands on the bench and not in the air.
    const lift = this.loose(copy, moment) * (this.floor - lowest(solid, poses, this.scene.thickness));
    return poses.map(({ r, o }) => ({ r, o: [o[0] + dx, o[1] + dy, o[2] + dz + lift] }));
  }

  private off(copy: Copy, moment: Moment): Vector {
    if (!this.course.isGathered(copy.piece, copy.stand)) return [0, 0, 0];
    const part = this.together ? moment.gathered(copy.piece, copy.stand) : 0;
    const way = this.course.lastWay(copy.piece, copy.stand);
    if (!way) return mixed(copy.apart, [0, 0, 0], part);
    return part < 0.5 ? mixed(copy.apart, way, 2 * part) : mixed(way, [0, 0, 0], 2 * part - 1);
  }

  private loose(copy: Copy, moment: Moment): number {
    if (!this.together) return 1;
    if (this.course.isGathered(copy.piece, copy.stand)) return 1 - Math.min(2 * moment.gathered(copy.piece, copy.stand), 1);
    const others = this.copies.filter((other) => this.course.isGathered(other.piece, other.stand));
    return 1 - Math.max(0, ...others.map((other) => Math.min(2 * moment.gathered(other.piece, other.stand), 1)));
  }
}

type Box = { low: Vector; high: Vector };

function finishedBox(piece: Piece): Box {
  const { solid } = piece;
  const bends = solid.folds.map((fold) => [fold.angle, fold.shift] as const);
  const poses = posed(solid, standing(solid.stands[0]!), bends);
  const box: Box = { low: [Infinity, Infinity, Infinity], high: [-Infinity, -Infinity, -Infinity] };
  solid.panels.forEach((panel, i) => eachCorner(panel.outline, poses[i]!, (place) => widen(box, place)));
  return box;
}

function eachCorner(outline: number[], { r, o }: Pose, seen: (place: Vector) => void): void {
  for (let i = 0; i < outline.length; i += 2) {
    const [x, y, z] = applied(r, outline[i]!, outline[i + 1]!, 0);
    seen([x + o[0], y + o[1], z + o[2]]);
  }
}

function widen(box: Box, place: Vector): void {
  for (const axis of [0, 1, 2] as const) {
    box.low[axis] = Math.min(box.low[axis], place[axis]);
    box.high[axis] = Math.max(box.high[axis], place[axis]);
  }
}

// Height of the lowest corner; board thickness counted.
function lowest(solid: Solid, poses: Pose[], thickness: number): number {
  let least = Infinity;
  solid.panels.forEach(({ outline }, i) => {
    const { r, o } = poses[i]!;
    const half = (Math.abs(r[8]!) * thickness) / 2;
    for (let k = 0; k < outline.length; k += 2)
      least = Math.min(least, r[6]! * outline[k]! + r[7]! * outline[k + 1]! + o[2] - half);
  });
  return least;
}

// Where a point of the blank lies when the blank lies flat under the middle of its finished box.
function lyingAt(piece: Piece, box: Box, at: [number, number]): Vector {
  const flat: Box = { low: [Infinity, Infinity, 0], high: [-Infinity, -Infinity, 0] };
  const identity: Pose = { r: [1, 0, 0, 0, 1, 0, 0, 0, 1], o: [0, 0, 0] };
  for (const panel of piece.solid.panels) eachCorner(panel.outline, identity, (place) => widen(flat, place));
  const middle = (low: Vector, high: Vector, axis: 0 | 1) => (low[axis] + high[axis]) / 2;
  return [
    at[0] + middle(box.low, box.high, 0) - middle(flat.low, flat.high, 0),
    at[1] + middle(box.low, box.high, 1) - middle(flat.low, flat.high, 1),
    0,
  ];
}

// Places beside the first piece, row by row, each with room for the largest flat blank or box.
function gridOf(pieces: Piece[], boxes: Box[]): { next: () => Vector } {
  const room = (axis: 0 | 1) =>
    GAP * Math.max(...pieces.map((piece, i) => Math.max(boxes[i]!.high[axis] - boxes[i]!.low[axis], axis ? piece.height : piece.width)));
  const count = pieces.reduce((sum, piece) => sum + piece.solid.stands.length, 0);
  const columns = Math.max(Math.ceil(Math.sqrt(count)), Math.round(Math.sqrt((2 * count * room(1)) / room(0))));
  let number = -1;
  return {
    next: () => {
      number += 1;
      return [(number % columns) * room(0), Math.floor(number / columns) * room(1), 0];
    },
  };
}

function mixed(a: Vector, b: Vector, part: number): Vector {
  return [a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part, a[2] + (b[2] - a[2]) * part];
}

function matrixOf(r: number[]): Matrix4 {
  return new Matrix4().set(r[0]!, r[1]!, r[2]!, 0, r[3]!, r[4]!, r[5]!, 0, r[6]!, r[7]!, r[8]!, 0, 0, 0, 0, 1);
}

function rowsOf(turn: Quaternion): number[] {
  const e = new Matrix4().makeRotationFromQuaternion(turn).elements;
  return [e[0]!, e[4]!, e[8]!, e[1]!, e[5]!, e[9]!, e[2]!, e[6]!, e[10]!];
}
