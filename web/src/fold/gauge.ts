// The inside size as measured on the folded boards: three edges of the free space, each with its length.

import { BufferGeometry, Float32BufferAttribute, LineBasicMaterial, LineSegments, Vector3, type Camera } from "three";
import type { Lengths } from "../answer";
import { make } from "../element";
import { withUnit, type Unit } from "../measure";

const LETTERS = ["L", "B", "H"] as const;

export class Gauge {
  shown = false;
  readonly lines: LineSegments;
  private readonly words = LETTERS.map(() => make("span", { class: "gauge", "aria-hidden": "true" }));
  private readonly pen = new LineBasicMaterial({ color: "#b3261e", depthTest: false });

  constructor(private readonly stage: HTMLElement) {
    this.lines = new LineSegments(new BufferGeometry(), this.pen);
    this.lines.renderOrder = 1;
    this.lines.frustumCulled = false;
    stage.append(...this.words);
  }

  place(inside: Lengths, unit: Unit, camera: Camera, width: number, height: number): void {
    const { L = 0, B = 0, H = 0 } = inside;
    const some = this.shown && (inside.L ?? inside.B ?? inside.H) !== undefined;
    this.lines.visible = some;
    // Along the length in front, along the breadth on the right, up the height at the front left corner.
    const edges: [Vector3, Vector3][] = [
      [new Vector3(0, 0, 0), new Vector3(L, 0, 0)],
      [new Vector3(L, 0, 0), new Vector3(L, B, 0)],
      [new Vector3(0, 0, 0), new Vector3(0, 0, H)],
    ];
    const flat = edges.filter((_, i) => inside[LETTERS[i]!] !== undefined).flatMap(([a, b]) => [...a.toArray(), ...b.toArray()]);
    if (some) this.lines.geometry.setAttribute("position", new Float32BufferAttribute(flat, 3));
    edges.forEach(([a, b], i) => {
      const measure = inside[LETTERS[i]!];
      const word = this.words[i]!;
      word.hidden = !some || measure === undefined;
      if (word.hidden) return;
      const middle = a.clone().add(b).multiplyScalar(0.5).project(camera);
      word.textContent = `${LETTERS[i]} ${withUnit(measure!, unit)}`;
      word.style.transform = `translate(${((middle.x + 1) / 2) * width}px, ${((1 - middle.y) / 2) * height}px) translate(-50%, -50%)`;
    });
  }

  dispose(): void {
    this.words.forEach((word) => this.stage.removeChild(word));
  }
}
