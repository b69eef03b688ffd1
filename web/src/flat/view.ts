// The blanks on the table, at true proportions.

import type { FlatPanel, Piece, Scene } from "../answer";
import { draw, refill } from "../element";
import { lengthText } from "../measure";
import { same, type Picked, type Workshop } from "../workshop";
import { boundsOf } from "./bounds";
import { dimensions, REACH } from "./dimensions";
import { Labels } from "./labels";
import { lay, type Place } from "./layout";
import { nextPanel } from "./walk";
import { Zoom, type Box } from "./zoom";

const MARGIN = 14; // px round the blanks
const TITLE = 10; // px above them for their names, where there are several
const DASH = 1.3; // px on the screen for a mm of a dash

export interface Panels {
  picked: Picked;
  shape: SVGPathElement;
  centre: [number, number]; // as seen on the table
}

export class FlatView {
  readonly svg: SVGSVGElement;
  readonly zoom: Zoom;
  side: "inside" | "print" = "inside";
  withDimensions = false;
  withNames = true;
  readonly hidden = new Set<string>();

  private readonly table = draw("g");
  private readonly marks = draw("g", { "aria-hidden": "true" });
  private readonly lines = draw("g", { "aria-hidden": "true" });
  private readonly labels = new Labels();
  private places: Place[] = [];
  private panels: Panels[] = [];

  constructor(private readonly shop: Workshop) {
    this.svg = draw("svg", { class: "flat", role: "group", "aria-label": "blank" }, this.table, this.labels.group, this.lines, this.marks);
    this.zoom = new Zoom(this.svg, () => this.rescaled());
    this.svg.addEventListener("keydown", (event) => this.pressed(event));
    this.svg.addEventListener("pointerleave", () => this.shop.hover(null));
    shop.on("drawn", () => this.redraw());
    shop.on("unit", () => this.rescaled());
    for (const topic of ["picked", "hovered"] as const) shop.on(topic, () => this.light());
  }

  private get scene(): Scene | undefined {
    return this.shop.answer?.scene;
  }

  redraw(): void {
    const scene = this.scene;
    if (!scene) return;
    const focused = this.panels.find((panel) => panel.shape === document.activeElement)?.picked;
    const [width, height] = this.zoom.size;
    const { places, content } = lay(scene.pieces, width / height);
    this.places = places;
    this.panels = [];
    refill(this.table, ...scene.pieces.map((piece, number) => this.piece(scene, piece, number)));
    this.svg.setAttribute("aria-label", this.summary(scene));
    this.measurePanels();
    this.zoom.see(this.padded(content));
    this.light();
    this.panels.find((panel) => focused && same(panel.picked, focused))?.shape.focus();
  }

  relayer(): void {
    for (const group of this.table.querySelectorAll<SVGGElement>("[data-meaning]"))
      group.classList.toggle("hidden", this.hidden.has(group.dataset.meaning!));
    this.rescaled();
  }

  fit(): void {
    const scene = this.scene;
    if (!scene) return;
    this.zoom.fit(); // so that the margins are right for the scale
    const [width, height] = this.zoom.size;
    const { content } = lay(scene.pieces, width / height);
    this.zoom.see(this.padded(content));
  }

  // Shows where something is.
  bring(spot: Picked): void {
    const found = this.panels.find((panel) => same(panel.picked, spot));
    const piece = this.scene?.pieces[spot.piece];
    const place = this.places[spot.piece];
    if (!piece || !place) return;
    const at: [number, number] = spot.at
      ? [place.x + this.turned(piece, spot.at[0]), place.y + spot.at[1]]
      : (found?.centre ?? [place.x + piece.width / 2, place.y + piece.height / 2]);
    refill(this.marks, spot.at ? draw("circle", { class: "spot", cx: at[0], cy: at[1], r: 1 }) : null);
    if (spot.at) this.zoom.bring(...at, Math.max(piece.width, piece.height) / 3);
    else this.rescaled();
  }

  private turned(piece: Piece, x: number): number {
    return this.side === "print" ? piece.width - x : x;
  }

  private padded(content: Box): Box {
    const reach = this.withDimensions ? REACH : 0;
    const title = this.places.length > 1 ? TITLE : 0;
    const [w, h] = this.zoom.size;
    // The margins are in pixels, so the scale that is left for the blanks must be found first.
    const scale = Math.min((w - 2 * MARGIN - reach) / content.width, (h - 2 * MARGIN - reach - title) / content.height);
    const u = 1 / Math.max(scale, 0.001);
    return {
      x: content.x - (MARGIN + reach) * u,
      y: content.y - (MARGIN + title) * u,
      width: content.width + (2 * MARGIN + reach) * u,
      height: content.height + (2 * MARGIN + reach + title) * u,
    };
  }

  private piece(scene: Scene, piece: Piece, number: number): SVGGElement {
    const place = this.places[number]!;
    const flip = this.side === "print" ? ` translate(${piece.width} 0) scale(-1 1)` : "";
    const group = draw("g", { transform: `translate(${place.x} ${place.y})${flip}`, class: `blank ${this.side}` });
    for (const panel of piece.panels) group.append(this.panel(panel, number));
    for (const look of scene.looks) {
      const glue = look.meaning === "glue";
      const parts = glue ? piece.zones : piece.strokes.filter((stroke) => stroke.meaning === look.meaning);
      group.append(
        draw("path", {
          d: parts.map((part) => part.d).join(""),
          "data-meaning": look.meaning,
          class: `${glue ? "zone" : "stroke"}${this.hidden.has(look.meaning) ? " hidden" : ""}`,
          stroke: look.colour,
          fill: glue ? look.colour : "none",
          "stroke-dasharray": look.dash.map((mm) => mm * DASH).join(" ") || null,
          "aria-hidden": "true",
        }),
      );
    }
    return group;
  }

  private panel(panel: FlatPanel, piece: number): SVGPathElement {
    const picked = { piece, panel: panel.name };
    const shape = draw("path", { d: panel.d, class: "panel", role: "button", tabindex: -1, "aria-pressed": "false" });
    shape.addEventListener("pointerenter", () => this.shop.hover(picked));
    shape.addEventListener("focus", () => this.shop.hover(picked));
    shape.addEventListener("blur", () => this.shop.hover(null));
    shape.addEventListener("click", () => {
      if (!this.zoom.moved) this.shop.pick(same(picked, this.shop.picked) ? null : picked);
    });
    this.panels.push({ picked, shape, centre: [0, 0] });
    return shape;
  }

  private measurePanels(): void {
    const pieces = this.scene!.pieces;
    this.labels.clear();
    for (const entry of this.panels) {
      const piece = pieces[entry.picked.piece]!;
      const place = this.places[entry.picked.piece]!;
      const box = boundsOf(entry.shape.getAttribute("d")!);
      entry.centre = [place.x + this.turned(piece, box.x + box.width / 2), place.y + box.y + box.height / 2];
      this.labels.add(entry.picked.panel, entry.centre, box.width, box.height);
    }
    if (pieces.length > 1) pieces.forEach((piece, i) => this.labels.title(this.nameOf(piece, i), this.places[i]!, piece));
    this.panels[0]?.shape.setAttribute("tabindex", "0");
    this.name();
  }

  private nameOf(piece: Piece, number: number): string {
    const count = this.shop.answer!.report.pieces[number]!.count;
    return count > 1 ? `${piece.name} (${count} of it)` : piece.name;
  }

  private name(): void {
    for (const { picked, shape } of this.panels) {
      const panel = this.scene!.pieces[picked.piece]!.panels.find((one) => one.name === picked.panel)!;
      const size = `${lengthText(panel.width, this.shop.unit)} by ${lengthText(panel.height, this.shop.unit)} ${this.shop.unit}`;
      shape.setAttribute("aria-label", `${panel.name}, ${size}`);
    }
  }

  private summary(scene: Scene): string {
    const sizes = scene.pieces.map((piece) => `${lengthText(piece.width, "mm")} by ${lengthText(piece.height, "mm")} mm`);
    return `blank seen from the ${this.side === "inside" ? "inside" : "print side"}, ${sizes.join(" and ")}`;
  }

  private rescaled(): void {
    const scene = this.scene;
    if (!scene) return;
    const u = this.zoom.mmPerPixel;
    this.labels.show(this.withNames, u);
    for (const spot of this.marks.children) spot.setAttribute("r", String(11 * u));
    const shown = this.withDimensions && !this.hidden.has("note");
    refill(this.lines, ...(shown ? scene.pieces.map((piece, number) => dimensions(this.placed(piece, number), u, this.shop.unit)) : []));
    this.name();
  }

  private placed(piece: Piece, number: number) {
    const across = piece.stations[0].map((x) => this.turned(piece, x)).sort((a, b) => a - b);
    const stations: [number[], number[]] = [across, piece.stations[1]];
    return { ...this.places[number]!, width: piece.width, height: piece.height, stations };
  }

  private light(): void {
    const { picked, hovered } = this.shop;
    for (const entry of this.panels) {
      const chosen = picked !== null && same(entry.picked, picked);
      entry.shape.classList.toggle("picked", chosen);
      entry.shape.classList.toggle("hovered", hovered !== null && same(entry.picked, hovered));
      entry.shape.setAttribute("aria-pressed", String(chosen));
    }
    if (!picked?.at) refill(this.marks);
  }

  private pressed(event: KeyboardEvent): void {
    const from = this.panels.find((panel) => panel.shape === event.target);
    if (!from || event.ctrlKey || event.metaKey || event.altKey) return;
    if (event.key === "Enter" || event.key === " ") this.shop.pick(same(from.picked, this.shop.picked) ? null : from.picked);
    else if (event.key === "+" || event.key === "=") this.zoom.by(1);
    else if (event.key === "-") this.zoom.by(-1);
    else if (event.key === "0") this.fit();
    else if (event.key === "Escape") this.shop.pick(null);
    else if (event.key.startsWith("Arrow") && event.shiftKey) this.zoom.pan(...STEPS[event.key]!);
    else if (event.key.startsWith("Arrow")) this.walk(from, event.key);
    else return;
    event.preventDefault();
  }

  private walk(from: Panels, key: string): void {
    const to = nextPanel(this.panels, from, STEPS[key]!);
    if (!to) return;
    from.shape.setAttribute("tabindex", "-1");
    to.shape.setAttribute("tabindex", "0");
    to.shape.focus();
  }
}

const STEPS: Record<string, [number, number]> = {
  ArrowLeft: [-60, 0],
  ArrowRight: [60, 0],
  ArrowUp: [0, -60],
  ArrowDown: [0, 60],
};
