// The box beside the blank, folded by the slider. It is drawn only when something has changed.

import { Color, LineBasicMaterial, LineSegments, Mesh, MeshBasicMaterial } from "three";
import { Raycaster, Scene as Stage, Vector2, Vector3, WebGLRenderer } from "three";
import { make } from "../element";
import type { Picked, Workshop } from "../workshop";
import { Bench } from "./bench";
import { Body, type Tints } from "./body";
import { Eye, roomOf, type Room } from "./camera";
import { Gauge } from "./gauge";

const LOOKS = 4; // how often in each step the room that the box takes is measured
const MOST_PIXELS = 1.5; // per CSS pixel: more costs time and shows little

export class FoldedView {
  readonly canvas = make("canvas", { class: "folded", role: "img" });
  readonly element = make("div", { class: "stage" }, this.canvas);
  readonly eye = new Eye();
  value = 0;
  bench: Bench | null = null;
  frames = 0;

  private readonly renderer: WebGLRenderer;
  private readonly stage = new Stage();
  private readonly board = new MeshBasicMaterial({ vertexColors: true });
  private readonly pen = new LineBasicMaterial();
  private readonly gauge = new Gauge(this.element);
  private body: Body | null = null;
  private mesh: Mesh | null = null;
  private readonly rooms = new Map<number, Room>();
  private waiting = 0;
  private stale = { poses: true, shades: true };
  private sized = [0, 0];

  constructor(
    private readonly shop: Workshop,
    private readonly settled: () => void,
  ) {
    this.renderer = new WebGLRenderer({ canvas: this.canvas, antialias: true, alpha: true });
    this.stage.add(this.gauge.lines);
    new ResizeObserver(() => this.ask()).observe(this.element);
    shop.on("drawn", () => this.rebuild());
    for (const topic of ["picked", "hovered"] as const) shop.on(topic, () => this.restain());
    shop.on("unit", () => this.ask());
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => this.restain());
  }

  get last(): number {
    return this.bench?.course.length ?? 0;
  }

  get measured(): boolean {
    return this.gauge.shown;
  }

  set measured(shown: boolean) {
    this.gauge.shown = shown;
    this.ask();
  }

  set together(together: boolean) {
    if (this.bench) this.bench.together = together;
    this.rooms.clear();
    this.move(this.value);
  }

  move(value: number): void {
    this.value = value;
    this.stale.poses = true;
    this.ask();
  }

  // Draws before the next picture of the screen.
  ask(): void {
    if (!this.waiting) this.waiting = requestAnimationFrame(() => this.draw());
  }

  panelAt(clientX: number, clientY: number): Picked | null {
    if (!this.body || !this.mesh) return null;
    const place = this.canvas.getBoundingClientRect();
    const point = new Vector2(((clientX - place.x) / place.width) * 2 - 1, 1 - ((clientY - place.y) / place.height) * 2);
    const ray = new Raycaster();
    ray.setFromCamera(point, this.eye.camera);
    const hit = ray.intersectObject(this.mesh)[0];
    return hit?.face ? this.body.panelAt(hit.face.a) : null;
  }

  rebuild(): void {
    const scene = this.shop.answer!.scene;
    const end = this.value >= this.last; // also of the first box: it is shown closed
    const together = this.bench?.together ?? true;
    const steps = this.last;
    this.drop();
    this.bench = new Bench(scene);
    this.bench.together = together;
    this.body = new Body(scene, this.bench.copies);
    this.mesh = new Mesh(this.body.faces, this.board);
    const lines = new LineSegments(this.body.lines, this.pen);
    this.mesh.frustumCulled = lines.frustumCulled = false;
    this.stage.add(this.mesh, lines);
    this.rooms.clear();
    // A box that was closed stays closed, whatever the number of its steps.
    if (steps !== this.last) this.value = end ? this.last : Math.min(this.value, this.last);
    this.move(this.value);
    this.settled();
    document.body.dataset.folded = "yes";
  }

  private drop(): void {
    this.body?.dispose();
    this.stage.remove(...this.stage.children.filter((child) => child !== this.gauge.lines));
  }


  private restain(): void {
    this.stale.shades = true;
    this.ask();
  }

  private draw(): void {
    this.waiting = 0;
    const { body, bench } = this;
    const [width, height] = [this.element.clientWidth, this.element.clientHeight];
    if (!body || !bench || !width || !height) return;
    this.resize(width, height);
    const room = this.roomAt(this.value);
    if (this.stale.poses) body.move(bench.at(this.value));
    if (this.stale.poses || this.stale.shades) {
      const tints = tintsOf(this.element);
      this.pen.color.copy(tints.line);
      body.shade(tints, this.shop.picked, this.shop.hovered);
      if (this.stale.poses) body.faces.boundingSphere = null;
    }
    this.stale = { poses: false, shades: false };
    this.eye.look(room, width / height);
    const closed = this.value >= this.last && bench.together;
    this.gauge.place(closed ? this.shop.answer!.report.fold.inside : {}, this.shop.unit, this.eye.camera, width, height);
    this.renderer.render(this.stage, this.eye.camera);
    this.frames += 1;
  }

  private room(look: number): Room {
    const known = this.rooms.get(look);
    if (known) return known;
    this.body!.move(this.bench!.at(look / LOOKS));
    this.stale.poses = true;
    const room = roomOf(this.body!);
    this.rooms.set(look, room);
    return room;
  }

  private resize(width: number, height: number): void {
    if (this.sized[0] === width && this.sized[1] === height) return;
    this.sized = [width, height];
    this.renderer.setPixelRatio(Math.min(devicePixelRatio, MOST_PIXELS));
    this.renderer.setSize(width, height);
  }

  // The eye moves evenly from the room that one look finds to that of the next.
  private roomAt(value: number): Room {
    const look = Math.floor(value * LOOKS);
    const part = value * LOOKS - look;
    const a = this.room(look);
    if (part === 0) return a;
    const b = this.room(look + 1);
    return { low: new Vector3().lerpVectors(a.low, b.low, part), high: new Vector3().lerpVectors(a.high, b.high, part) };
  }
}

// The colours of the board stand in the style sheet, with those of everything else.
function tintsOf(element: HTMLElement): Tints {
  const style = getComputedStyle(element);
  const colour = (name: string) => new Color(style.getPropertyValue(`--${name}`).trim() || "#c09a6b");
  return {
    inside: colour("board-inside"),
    outside: colour("board-outside"),
    edge: colour("board-edge"),
    line: colour("board-line"),
    picked: colour("mark"),
    hovered: colour("mark-light"),
  };
}
