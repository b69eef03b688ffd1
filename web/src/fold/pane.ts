// The box beside the blank: folded, turned and tilted by hand.

import { button, freshId, make } from "../element";
import { same, type Workshop } from "../workshop";
import { toggle } from "../flat/pane";
import { Motion } from "./motion";
import { FoldedView } from "./view";

const TURN_PER_PIXEL = 0.4; // degrees

export function foldedPane(shop: Workshop): HTMLElement {
  const head = make("div", { class: "head" }, make("h2", {}, "Beside it"));
  const element = make("section", { class: "pane box", "aria-label": "folded box" }, head);
  // The blank is seen first: starting WebGL takes longer than all the rest.
  requestAnimationFrame(() => setTimeout(() => begin(shop, element, head)));
  return element;
}

function begin(shop: Workshop, element: HTMLElement, head: HTMLElement): void {
  let view: FoldedView;
  try {
    view = new FoldedView(shop, () => ready());
  } catch {
    element.append(make("p", { class: "none" }, "This browser cannot show the folded box: it has no WebGL."));
    return;
  }
  const motion = new Motion(shop, view);
  const turn = slider("Turn", -180, 180, view.eye.turn, (value) => (view.eye.turn = value));
  const tilt = slider("Tilt", -89, 89, view.eye.tilt, (value) => (view.eye.tilt = value));
  const together = toggle("Pieces together", true, (on) => (view.together = on));
  const measured = toggle("Inside size", false, (on) => (view.measured = on));
  const ready = () => {
    together.hidden = view.bench!.copies.length < 2;
    motion.refresh();
  };
  const look = () => {
    turn.entry.value = String(view.eye.turn);
    tilt.entry.value = String(view.eye.tilt);
    view.ask();
  };
  const zoom = (times: number) => {
    view.eye.zoom(times);
    view.ask();
  };
  for (const { entry } of [turn, tilt]) entry.addEventListener("input", () => view.ask());
  byHand(shop, view, look, zoom);
  const reset = () => {
    view.eye.reset();
    look();
  };
  const tools = make(
    "div",
    { class: "tools", role: "group", "aria-label": "box" },
    button("−", () => zoom(1 / 1.25), { "aria-label": "farther" }),
    button("+", () => zoom(1.25), { "aria-label": "nearer" }),
    button("Fit", reset, { "aria-label": "look from the front right" }),
    measured,
    together,
  );
  head.append(tools);
  const rest = make("div", { class: "turning" }, turn.element, tilt.element);
  element.append(view.element, motion.element, rest);
  if (shop.answer) view.rebuild();
}

function slider(name: string, low: number, high: number, value: number, set: (value: number) => void) {
  const id = freshId();
  const entry = make("input", { type: "range", id, min: low, max: high, step: 1, value });
  entry.addEventListener("input", () => set(Number(entry.value)));
  entry.addEventListener("input", () => entry.setAttribute("aria-valuetext", `${entry.value} degrees`));
  return { entry, element: make("div", { class: "slider" }, make("label", { for: id }, name), entry) };
}

// Drag turns and tilts, the wheel goes nearer, a click picks a panel.
function byHand(shop: Workshop, view: FoldedView, look: () => void, zoom: (times: number) => void): void {
  const { canvas, eye } = view;
  let held: [number, number] | null = null;
  let dragged = false;
  canvas.addEventListener("pointerdown", (event) => {
    [held, dragged] = [[event.clientX, event.clientY], false];
    canvas.setPointerCapture(event.pointerId);
  });
  canvas.addEventListener("pointermove", (event) => {
    if (!held) return shop.hover(view.panelAt(event.clientX, event.clientY));
    const [dx, dy] = [event.clientX - held[0], event.clientY - held[1]];
    if (!dragged && Math.hypot(dx, dy) < 4) return;
    [held, dragged] = [[event.clientX, event.clientY], true];
    eye.turn = ((((eye.turn - dx * TURN_PER_PIXEL + 180) % 360) + 360) % 360) - 180;
    eye.tilt = Math.min(Math.max(eye.tilt + dy * TURN_PER_PIXEL, -89), 89);
    look();
  });
  canvas.addEventListener("pointerup", (event) => {
    held = null;
    if (dragged) return;
    const picked = view.panelAt(event.clientX, event.clientY);
    shop.pick(same(picked, shop.picked) ? null : picked);
  });
  canvas.addEventListener("pointerleave", () => shop.hover(null));
  canvas.addEventListener("pointercancel", () => (held = null));
  canvas.addEventListener("wheel", (event) => {
    event.preventDefault();
    zoom(Math.exp(-event.deltaY / 500));
  }, { passive: false });
}
