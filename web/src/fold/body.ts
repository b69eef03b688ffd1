// All panels as one body of triangles at true thickness, moved on the processor: a few thousand corners cost less than
// a hundred separate draws.

import { BufferAttribute, BufferGeometry, Color, ShapeUtils, Vector2 } from "three";
import type { Scene } from "../answer";
import { same, type Picked } from "../workshop";
import type { Pose } from "./pose";
import { edgesOf, type Edge } from "./edges";

export interface Tints {
  inside: Color;
  outside: Color;
  edge: Color;
  picked: Color;
  hovered: Color;
  line: Color;
}

interface Part {
  copy: number;
  panel: number;
  shown: Picked;
  first: number; // of its corners
  end: number;
  firstLine: number;
  endLine: number;
}

const LIGHT = [0.36, -0.48, 0.8] as const; // from the front right, above
const FILL = [-0.7, 0.5, 0.5] as const;
const LIFT = 0.12; // mm that a line lies above the board, so that it is seen

export class Body {
  readonly faces = new BufferGeometry();
  readonly lines = new BufferGeometry();
  readonly parts: Part[] = [];
  private readonly corners: number[] = []; // x, y, z in the blank
  private readonly normals: number[] = [];
  private readonly index: number[] = [];
  private readonly ends: number[] = []; // of lines, x, y, z in the blank
  private readonly bends: { copy: number; edge: Edge; first: number }[] = [];
  private readonly turned: Float32Array;

  constructor(
    private readonly scene: Scene,
    copies: { piece: number }[],
  ) {
    copies.forEach(({ piece }, copy) => this.addCopy(piece, copy));
    copies.forEach(({ piece }, copy) => this.addBends(piece, copy));
    const count = this.corners.length / 3;
    this.turned = new Float32Array(this.normals.length);
    this.faces.setAttribute("position", new BufferAttribute(new Float32Array(3 * count), 3));
    this.faces.setAttribute("color", new BufferAttribute(new Float32Array(3 * count), 3));
    this.faces.setIndex(this.index);
    this.lines.setAttribute("position", new BufferAttribute(new Float32Array(this.ends.length), 3));
  }

  dispose(): void {
    this.faces.dispose();
    this.lines.dispose();
  }

  // Which panel a corner belongs to.
  panelAt(corner: number): Picked | null {
    return this.parts.find((part) => corner >= part.first && corner < part.end)?.shown ?? null;
  }

  move(poses: Pose[][]): void {
    const places = this.faces.getAttribute("position").array as Float32Array;
    const lines = this.lines.getAttribute("position").array as Float32Array;
    for (const part of this.parts) {
      const pose = poses[part.copy]![part.panel]!;
      carry(this.corners, places, part.first, part.end, pose, true);
      carry(this.normals, this.turned, part.first, part.end, pose, false);
      carry(this.ends, lines, part.firstLine, part.endLine, pose, true);
    }
    for (const bend of this.bends) this.moveBend(bend, poses, places);
    this.faces.getAttribute("position").needsUpdate = true;
    this.lines.getAttribute("position").needsUpdate = true;
  }

  // Colours with light and shade; call after each move and each pick.
  shade(tints: Tints, picked: Picked | null, hovered: Picked | null): void {
    const colours = this.faces.getAttribute("color").array as Float32Array;
    for (const part of this.parts) {
      const tint = picked && same(part.shown, picked) ? tints.picked : hovered && same(part.shown, hovered) ? tints.hovered : null;
      for (let i = part.first; i < part.end; i++) {
        const side = this.normals[3 * i + 2]!;
        const colour = side > 0.5 ? tints.inside : side < -0.5 ? tints.outside : tints.edge;
        this.light(colours, i, colour, tint);
      }
    }
    for (const bend of this.bends) for (let i = bend.first; i < bend.first + 8; i++) this.light(colours, i, tints.outside, null);
    this.faces.getAttribute("color").needsUpdate = true;
  }

  private light(colours: Float32Array, i: number, colour: Color, tint: Color | null): void {
    const n = this.turned;
    const [x, y, z] = [n[3 * i]!, n[3 * i + 1]!, n[3 * i + 2]!];
    const key = Math.max(0, x * LIGHT[0] + y * LIGHT[1] + z * LIGHT[2]);
    const fill = Math.max(0, x * FILL[0] + y * FILL[1] + z * FILL[2]);
    const bright = 0.52 + 0.42 * key + 0.14 * fill;
    const mix = tint ? 0.62 : 0;
    const to = tint ?? colour;
    colours[3 * i] = bright * (colour.r + (to.r - colour.r) * mix);
    colours[3 * i + 1] = bright * (colour.g + (to.g - colour.g) * mix);
    colours[3 * i + 2] = bright * (colour.b + (to.b - colour.b) * mix);
  }

  private addCopy(piece: number, copy: number): void {
    const { solid } = this.scene.pieces[piece]!;
    const half = this.scene.thickness / 2;
    const edges = edgesOf(solid);
    solid.panels.forEach((panel, number) => {
      const first = this.corners.length / 3;
      const firstLine = this.ends.length / 3;
      const outline = points(panel.outline, false);
      const holes = panel.holes.map((hole) => points(hole, true));
      this.addFaces(outline, holes, half);
      for (const ring of [outline, ...holes]) {
        this.addSides(ring, half);
        this.addRing(ring, half, edges.hidden[number]!);
      }
      for (const mark of panel.marks) this.addLine(mark.line, half);
      this.parts.push({
        copy,
        panel: number,
        shown: { piece, panel: panel.shown },
        first,
        end: this.corners.length / 3,
        firstLine,
        endLine: this.ends.length / 3,
      });
    });
  }

  private addFaces(outline: Vector2[], holes: Vector2[][], half: number): void {
    const all = [outline, ...holes].flat();
    const triangles = ShapeUtils.triangulateShape(outline, holes);
    for (const side of [1, -1]) {
      const base = this.corners.length / 3;
      for (const { x, y } of all) this.corner(x, y, side * half, 0, 0, side);
      for (const [a, b, c] of triangles as [number, number, number][])
        if (side > 0) this.index.push(base + a, base + b, base + c);
        else this.index.push(base + a, base + c, base + b);
    }
  }

  private addSides(ring: Vector2[], half: number): void {
    ring.forEach((a, i) => {
      const b = ring[(i + 1) % ring.length]!;
      const length = Math.hypot(b.x - a.x, b.y - a.y) || 1;
      const [nx, ny] = [(b.y - a.y) / length, -(b.x - a.x) / length];
      const base = this.corners.length / 3;
      for (const { x, y, z } of [
        { ...xy(a), z: -half },
        { ...xy(b), z: -half },
        { ...xy(b), z: half },
        { ...xy(a), z: half },
      ])
        this.corner(x, y, z, nx, ny, 0);
      this.index.push(base, base + 1, base + 2, base, base + 2, base + 3);
    });
  }

  private addRing(ring: Vector2[], half: number, hidden: (a: Vector2, b: Vector2) => boolean): void {
    ring.forEach((a, i) => {
      const b = ring[(i + 1) % ring.length]!;
      if (!hidden(a, b)) this.addLine([a.x, a.y, b.x, b.y], half);
    });
  }

  private addLine(line: number[], half: number): void {
    for (let i = 0; i + 3 < line.length; i += 2)
      for (const z of [half + LIFT, -half - LIFT]) this.ends.push(line[i]!, line[i + 1]!, z, line[i + 2]!, line[i + 3]!, z);
  }

  // Across a crease the board bends: a strip on either side closes the wedge between the two panels.
  private addBends(piece: number, copy: number): void {
    for (const edge of edgesOf(this.scene.pieces[piece]!.solid).bends) {
      const first = this.corners.length / 3;
      for (let i = 0; i < 8; i++) this.corner(0, 0, 0, 0, 0, 0);
      const f = first;
      this.index.push(f, f + 1, f + 2, f, f + 2, f + 3, f + 4, f + 6, f + 5, f + 4, f + 7, f + 6);
      this.bends.push({ copy, edge, first });
    }
  }

  private moveBend({ copy, edge, first }: { copy: number; edge: Edge; first: number }, poses: Pose[][], places: Float32Array): void {
    const half = this.scene.thickness / 2;
    const [parent, child] = [poses[copy]![edge.parent]!, poses[copy]![edge.child]!];
    const [px, py, qx, qy] = edge.line;
    [-half, half].forEach((z, side) => {
      const f = first + 4 * side;
      put(places, f, parent, px, py, z);
      put(places, f + 1, parent, qx, qy, z);
      put(places, f + 2, child, qx, qy, z);
      put(places, f + 3, child, px, py, z);
      this.squareUp(f, parent, child, z < 0 ? -1 : 1);
    });
  }

  // The strip looks midway between its two panels.
  private squareUp(first: number, parent: Pose, child: Pose, side: number): void {
    const n = [2, 5, 8].map((k) => side * (parent.r[k]! + child.r[k]!));
    const length = Math.hypot(n[0]!, n[1]!, n[2]!) || 1;
    for (let i = first; i < first + 4; i++) for (let k = 0; k < 3; k++) this.turned[3 * i + k] = n[k]! / length;
  }

  private corner(x: number, y: number, z: number, nx: number, ny: number, nz: number): void {
    this.corners.push(x, y, z);
    this.normals.push(nx, ny, nz);
  }
}

function xy({ x, y }: Vector2): { x: number; y: number } {
  return { x, y };
}

function points(flat: number[], clockwise: boolean): Vector2[] {
  const ring: Vector2[] = [];
  for (let i = 0; i < flat.length; i += 2) ring.push(new Vector2(flat[i], flat[i + 1]));
  if (ring.length > 1 && ring[0]!.distanceTo(ring[ring.length - 1]!) < 1e-6) ring.pop();
  return ShapeUtils.isClockWise(ring) === clockwise ? ring : ring.reverse();
}

function put(places: Float32Array, i: number, { r, o }: Pose, x: number, y: number, z: number): void {
  for (let k = 0; k < 3; k++) places[3 * i + k] = r[3 * k]! * x + r[3 * k + 1]! * y + r[3 * k + 2]! * z + o[k]!;
}

function carry(from: number[], to: Float32Array, first: number, end: number, { r, o }: Pose, whole: boolean): void {
  const [a, b, c, d, e, f, g, h, k] = r as [number, number, number, number, number, number, number, number, number];
  const [ox, oy, oz] = whole ? o : [0, 0, 0];
  for (let i = 3 * first; i < 3 * end; i += 3) {
    const [x, y, z] = [from[i]!, from[i + 1]!, from[i + 2]!];
    to[i] = a * x + b * y + c * z + ox;
    to[i + 1] = d * x + e * y + f * z + oy;
    to[i + 2] = g * x + h * y + k * z + oz;
  }
}
