// The table: the blank and what is to hand around it.

import { button, make } from "../element";
import type { Workshop } from "../workshop";
import { legend } from "./legend";
import { FlatView } from "./view";

export function flatPane(shop: Workshop): { element: HTMLElement; view: FlatView } {
  const view = new FlatView(shop);
  const turn = button("Print side up", () => {
    view.side = view.side === "inside" ? "print" : "inside";
    turn.setAttribute("aria-pressed", String(view.side === "print"));
    side.textContent = view.side === "print" ? "seen from the print side" : "seen from the inside";
    view.redraw();
  });
  turn.setAttribute("aria-pressed", "false");
  const side = make("span", { class: "side" }, "seen from the inside");
  const sizes = toggle("Dimensions", false, (on) => {
    view.withDimensions = on;
    view.fit();
  });
  const names = toggle("Names", true, (on) => {
    view.withNames = on;
    view.relayer();
  });
  const tools = make(
    "div",
    { class: "tools", role: "group", "aria-label": "blank" },
    button("−", () => view.zoom.by(-1), { "aria-label": "smaller", title: "smaller (−)" }),
    button("+", () => view.zoom.by(1), { "aria-label": "larger", title: "larger (+)" }),
    button("Fit", () => view.fit(), { title: "all of it (0)" }),
    turn,
    sizes,
    names,
  );
  const head = make("div", { class: "head" }, make("h2", {}, "On the table"), side, tools);
  const element = make("section", { class: "pane table", "aria-label": "blank on the table" }, head, view.svg, legend(shop, view));
  return { element, view };
}

export function toggle(words: string, on: boolean, flip: (on: boolean) => void): HTMLElement {
  const box = make("input", { type: "checkbox" });
  box.checked = on;
  box.addEventListener("change", () => flip(box.checked));
  return make("label", { class: "toggle" }, box, words);
}
