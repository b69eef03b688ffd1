// Zoom, pan and fit of a drawing: wheel and drag, two fingers, buttons and keys.

export interface Box {
  x: number;
  y: number;
  width: number;
  height: number;
}

const CLOSEST = 60; // times the fitted size
const STEP = 1.25;

export class Zoom {
  private content: Box = { x: 0, y: 0, width: 100, height: 100 };
  private centre: [number, number] = [50, 50];
  private scale = 0; // pixels per mm; 0 until fitted
  private fitted = true;
  private readonly held = new Map<number, [number, number]>();
  size: [number, number] = [600, 400]; // pixels; measured as soon as it is seen
  moved = false; // whether the pointer that is held has been dragged: then it picks nothing

  constructor(
    private readonly svg: SVGSVGElement,
    private readonly changed: () => void,
  ) {
    svg.addEventListener("wheel", (event) => this.wheeled(event), { passive: false });
    svg.addEventListener("pointerdown", (event) => this.down(event));
    svg.addEventListener("pointermove", (event) => this.move(event));
    for (const end of ["pointerup", "pointercancel", "lostpointercapture"] as const)
      svg.addEventListener(end, (event) => this.held.delete(event.pointerId));
    new ResizeObserver(() => this.resized()).observe(svg);
  }

  get mmPerPixel(): number {
    return 1 / (this.scale || 1);
  }

  // What there is to see; the view stays where it is unless it showed everything.
  see(content: Box): void {
    this.content = content;
    if (this.fitted) this.fit();
    else this.apply();
  }

  fit(): void {
    const [width, height] = this.size;
    this.scale = Math.min(width / this.content.width, height / this.content.height);
    this.centre = [this.content.x + this.content.width / 2, this.content.y + this.content.height / 2];
    this.fitted = true;
    this.apply();
  }

  by(times: number): void {
    const [width, height] = this.size;
    this.about(times > 0 ? STEP ** times : 1 / STEP ** -times, width / 2, height / 2);
  }

  pan(dx: number, dy: number): void {
    this.centre = [this.centre[0] + dx / this.scale, this.centre[1] + dy / this.scale];
    this.fitted = false;
    this.apply();
  }

  // Brings a place into the middle, near enough to be looked at.
  bring(x: number, y: number, across: number): void {
    const [width] = this.size;
    this.centre = [x, y];
    this.scale = Math.max(this.scale, Math.min(width / across, this.least() * CLOSEST));
    this.fitted = false;
    this.apply();
  }

  private least(): number {
    const [width, height] = this.size;
    return Math.min(width / this.content.width, height / this.content.height);
  }

  private resized(): void {
    const place = this.svg.getBoundingClientRect();
    this.size = [Math.max(place.width, 1), Math.max(place.height, 1)];
    if (this.fitted || !this.scale) this.fit();
    else this.apply();
  }

  private about(times: number, px: number, py: number): void {
    const [width, height] = this.size;
    const least = this.least();
    const scale = Math.min(Math.max(this.scale * times, least / 2), least * CLOSEST);
    const x = this.centre[0] + (px - width / 2) / this.scale;
    const y = this.centre[1] + (py - height / 2) / this.scale;
    this.centre = [x - (px - width / 2) / scale, y - (py - height / 2) / scale];
    this.scale = scale;
    this.fitted = false;
    this.apply();
  }

  private apply(): void {
    const [width, height] = this.size;
    const [w, h] = [width / this.scale, height / this.scale];
    this.svg.setAttribute("viewBox", `${this.centre[0] - w / 2} ${this.centre[1] - h / 2} ${w} ${h}`);
    this.changed();
  }

  private wheeled(event: WheelEvent): void {
    event.preventDefault();
    const place = this.svg.getBoundingClientRect();
    this.about(Math.exp(-event.deltaY / 400), event.clientX - place.x, event.clientY - place.y);
  }

  private down(event: PointerEvent): void {
    this.held.set(event.pointerId, [event.clientX, event.clientY]);
    this.moved = false;
  }

  private move(event: PointerEvent): void {
    const before = this.held.get(event.pointerId);
    if (!before) return;
    const [dx, dy] = [event.clientX - before[0], event.clientY - before[1]];
    if (!this.moved && Math.hypot(dx, dy) < 4) return;
    if (!this.moved) this.svg.setPointerCapture(event.pointerId);
    this.moved = true;
    if (this.held.size === 2) this.pinched(event, before);
    else this.pan(-dx, -dy);
    this.held.set(event.pointerId, [event.clientX, event.clientY]);
  }

  private pinched(event: PointerEvent, before: [number, number]): void {
    const other = [...this.held].find(([id]) => id !== event.pointerId)![1];
    const was = Math.hypot(before[0] - other[0], before[1] - other[1]);
    const is = Math.hypot(event.clientX - other[0], event.clientY - other[1]);
    const place = this.svg.getBoundingClientRect();
    if (was > 0) this.about(is / was, (event.clientX + other[0]) / 2 - place.x, (event.clientY + other[1]) / 2 - place.y);
  }
}
