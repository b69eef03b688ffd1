// The legend under the blank: each kind of line with its house colour, and a switch for it.

import type { Look } from "../answer";
import { draw, make, refill } from "../element";
import type { Workshop } from "../workshop";
import type { FlatView } from "./view";

export function legend(shop: Workshop, view: FlatView): HTMLElement {
  const list = make("fieldset", { class: "legend" });
  let shown = "";
  shop.on("drawn", () => {
    const { looks } = shop.answer!.scene;
    const now = JSON.stringify(looks);
    if (now === shown) return;
    shown = now;
    refill(list, make("legend", { class: "quiet" }, "lines shown"), ...looks.map((look) => entry(look, view)));
  });
  return list;
}

function entry(look: Look, view: FlatView): HTMLElement {
  const box = make("input", { type: "checkbox", "data-switch": look.meaning });
  box.checked = !view.hidden.has(look.meaning);
  box.addEventListener("change", () => {
    if (box.checked) view.hidden.delete(look.meaning);
    else view.hidden.add(look.meaning);
    view.relayer();
  });
  const line = draw("line", { x1: 1, y1: 6, x2: 33, y2: 6, stroke: look.colour, "stroke-width": 2.5 });
  if (look.dash.length) line.setAttribute("stroke-dasharray", look.dash.map((mm) => mm * 1.3).join(" "));
  const sample = draw("svg", { viewBox: "0 0 34 12", width: 34, height: 12, "aria-hidden": "true", class: "sample" }, line);
  return make("label", {}, box, sample, look.words);
}
