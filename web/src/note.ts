// The note on the panel under the finger, or else on the one that is picked: name, size and how the size came about.

import type { FlatPanel, Report } from "./answer";
import { make, refill } from "./element";
import { lengthText } from "./measure";
import type { Workshop } from "./workshop";

export function panelNote(shop: Workshop): HTMLElement {
  const note = make("div", { class: "slip", "aria-live": "polite" });
  const show = () => {
    const { answer } = shop;
    const at = shop.hovered ?? shop.picked;
    const piece = at && answer?.scene.pieces[at.piece];
    const panel = piece && piece.panels.find(({ name }) => name === at.panel);
    if (!answer || !piece) return refill(note, make("p", { class: "quiet" }, "Point at a panel, or walk to it with Tab and the arrow keys."));
    const several = answer.scene.pieces.length > 1;
    if (!panel) return refill(note, make("p", {}, make("strong", {}, piece.name)));
    const size = `${lengthText(panel.width, shop.unit)} × ${lengthText(panel.height, shop.unit)} ${shop.unit}`;
    const name = several ? `${piece.name}: ${panel.name}` : panel.name;
    const derived = derivations(panel, answer.report).map((line) => make("p", { class: "derived" }, line));
    refill(note, make("p", {}, make("strong", {}, name), ` ${size}`, place(panel)), ...derived);
  };
  for (const topic of ["drawn", "unit", "picked", "hovered"] as const) shop.on(topic, show);
  return note;
}

function place(panel: FlatPanel): string {
  if (!panel.face) return "";
  const boards = panel.boards === 0 ? "next to the goods" : `${panel.boards} board${panel.boards === 1 ? "" : "s"} out`;
  return ` – makes the ${panel.face}, ${boards}`;
}

function derivations(panel: FlatPanel, { sizes }: Report): string[] {
  const told = (way: string, line: number | null) => {
    const size = line === null ? null : sizes[line]!;
    return size ? [`${way} ${lengthText(size.value, "mm")} = ${size.derivation} (${size.name})`] : [];
  };
  return [...told("across", panel.across), ...told("along", panel.along)];
}
