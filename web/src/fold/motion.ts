// The slider from flat to closed, and the hand that moves it.

import { button, freshId, make } from "../element";
import type { Workshop } from "../workshop";
import type { FoldedView } from "./view";

const SECONDS = 0.9; // for one step
const MOST_SECONDS = 8; // for all of them

export class Motion {
  readonly element: HTMLElement;
  private readonly entry = make("input", { type: "range", min: 0, max: 0, step: 0.01, value: 0, class: "way" });
  private readonly words = make("output", { class: "step" });
  private readonly hands: HTMLButtonElement[];
  private readonly play = button("Fold it", () => this.run(), { class: "play" });
  private running = 0;

  constructor(
    private readonly shop: Workshop,
    private readonly view: FoldedView,
  ) {
    this.entry.id = freshId();
    this.words.setAttribute("for", this.entry.id);
    this.entry.addEventListener("input", () => {
      const value = Number(this.entry.value);
      this.halt();
      this.move(value);
    });
    const back = button("‹", () => this.step(-1), { "aria-label": "one step back" });
    const on = button("›", () => this.step(1), { "aria-label": "one step on" });
    this.hands = [this.play, back, on];
    const label = make("label", { for: this.entry.id }, "Flat to closed");
    this.element = make("div", { class: "motion" }, make("div", { class: "slider" }, label, this.entry), make("div", { class: "steps" }, this.play, back, on, this.words));
  }

  // After a redraw: the slider has as many steps as the box now has.
  refresh(): void {
    this.entry.max = String(this.view.last);
    for (const hand of [this.entry, ...this.hands]) hand.disabled = this.view.last === 0;
    this.tell();
  }

  private move(value: number): void {
    this.view.move(value);
    this.tell();
  }

  private step(way: 1 | -1): void {
    this.halt();
    const { value, last } = this.view;
    const next = way > 0 ? Math.floor(value + 1e-6) + 1 : Math.ceil(value - 1e-6) - 1;
    this.move(Math.min(Math.max(next, 0), last));
  }

  private tell(): void {
    const { view } = this;
    this.entry.value = String(view.value);
    const words = view.bench?.course.wordsAt(view.value) ?? "";
    const count = view.value > 0 && view.value < view.last ? ` (step ${Math.ceil(view.value)} of ${view.last})` : "";
    this.words.textContent = words + count;
    this.entry.setAttribute("aria-valuetext", words + count);
    this.play.textContent = this.running ? "Stop" : "Fold it";
    const title = this.shop.answer?.style.title ?? "box";
    view.canvas.setAttribute("aria-label", `${title}, ${words}`);
  }

  private run(): void {
    if (this.running) return this.halt();
    const { last, value } = this.view;
    if (matchMedia("(prefers-reduced-motion: reduce)").matches) return this.move(value >= last ? 0 : last);
    if (value >= last) this.move(0); // once more from the flat blank
    const speed = last / Math.min(last * SECONDS, MOST_SECONDS);
    let before = performance.now();
    const tick = (now: number) => {
      const next = Math.min(this.view.value + ((now - before) / 1000) * speed, last);
      before = now;
      this.running = next < last ? requestAnimationFrame(tick) : 0;
      this.move(next);
    };
    this.running = requestAnimationFrame(tick);
    this.tell();
  }

  private halt(): void {
    cancelAnimationFrame(this.running);
    this.running = 0;
    this.tell();
  }
}
