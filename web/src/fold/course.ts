// The way from the flat blanks to the finished box: which fold stands how, and which piece is where, at each moment.

import type { Scene, Vector } from "../answer";
import type { Bend } from "./pose";

const RISEN = 0.5; // part of a piece's own steps after which it stands as it will

export interface Moment {
  bends: Bend[][]; // of each piece
  risen: number[]; // of each piece: 0 lies on the bench, 1 stands as in the box
  gathered: (piece: number, stand: number) => number; // 0 apart, 1 in its place
}

export class Course {
  readonly names: string[];
  private readonly ends: Bend[][][]; // after each step, of each piece
  private readonly spans: [number, number][]; // first and last step of each piece
  private readonly gathers = new Map<string, number>(); // step in which a piece comes to its place
  private readonly from = new Map<string, Vector>();

  constructor(private readonly scene: Scene) {
    this.names = scene.steps.map((step) => step.name);
    let now: Bend[][] = scene.pieces.map((piece) => piece.solid.folds.map(() => [0, 0]));
    this.ends = [now];
    scene.steps.forEach((step, number) => {
      if (step.bends && step.piece !== undefined) {
        const changed = [...now[step.piece]!];
        for (const [fold, bend] of Object.entries(step.bends)) changed[Number(fold)] = bend;
        now = now.map((bends, piece) => (piece === step.piece ? changed : bends));
      }
      for (const [piece, stand] of step.gather ?? []) {
        this.gathers.set(`${piece} ${stand}`, number);
        if (step.from) this.from.set(`${piece} ${stand}`, step.from);
      }
      this.ends.push(now);
    });
    this.spans = scene.pieces.map((_, piece) => this.span(piece));
  }

  get length(): number {
    return this.names.length;
  }

  // Where a piece comes from on its last way, seen from its place; null where it comes straight.
  lastWay(piece: number, stand: number): Vector | null {
    return this.from.get(`${piece} ${stand}`) ?? null;
  }

  isGathered(piece: number, stand: number): boolean {
    return this.gathers.has(`${piece} ${stand}`);
  }

  at(value: number): Moment {
    const step = Math.min(Math.floor(value), Math.max(this.length - 1, 0));
    const part = value - step;
    const [a, b] = [this.ends[step]!, this.ends[Math.min(step + 1, this.length)]!];
    return {
      bends: a.map((bends, piece) => (bends === b[piece] ? bends : bends.map((bend, i) => between(bend, b[piece]![i]!, part)))),
      risen: this.spans.map(([first, last]) => smooth((value - first) / Math.max((last + 1 - first) * RISEN, 1e-9))),
      gathered: (piece, stand) => {
        const number = this.gathers.get(`${piece} ${stand}`);
        return number === undefined ? 1 : clamp(value - number);
      },
    };
  }

  // What is being done at a moment, in words.
  wordsAt(value: number): string {
    if (this.length === 0) return "stays flat";
    if (value <= 0) return "flat";
    if (value >= this.length) return "closed";
    return this.names[Math.ceil(value) - 1]!;
  }

  private span(piece: number): [number, number] {
    const own = this.scene.steps.flatMap((step, i) => (step.piece === piece ? [i] : []));
    const steps = own.length ? own : [...this.gathers].filter(([name]) => name.startsWith(`${piece} `)).map(([, i]) => i);
    return steps.length ? [Math.min(...steps), Math.max(...steps)] : [-1, -1];
  }
}

function between(a: Bend, b: Bend, part: number): Bend {
  return [a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part];
}

export function clamp(value: number): number {
  return Math.min(Math.max(value, 0), 1);
}

function smooth(value: number): number {
  const part = clamp(value);
  return part * part * (3 - 2 * part);
}
