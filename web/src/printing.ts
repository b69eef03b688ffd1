// Printing prints the drawing: all of it, with its dimensions, and a line that says what it is.

import { make, refill } from "./element";
import type { FlatView } from "./flat/view";
import { timesText } from "./measure";
import type { Workshop } from "./workshop";

export function printing(shop: Workshop, view: FlatView): void {
  const line = make("p", { class: "printed" });
  document.body.append(line);
  let before = view.withDimensions;
  let box: string | null = null;
  window.addEventListener("beforeprint", () => {
    if (!shop.answer) return;
    const { report, job, style } = shop.answer;
    before = view.withDimensions;
    box = view.svg.getAttribute("viewBox");
    view.withDimensions = true;
    view.fit();
    const blanks = report.pieces.map(({ name, blank }) => `${name} ${timesText([blank.width, blank.height], shop.unit)} ${shop.unit}`);
    const side = view.side === "inside" ? "seen from the inside" : "seen from the print side";
    refill(line, `${job.name ?? job.style} – ${style.title}, ${job.size} mm on ${report.board.name}; ${blanks.join("; ")}; ${side}; not to scale`);
  });
  window.addEventListener("afterprint", () => {
    view.withDimensions = before;
    view.fit();
    if (box) view.svg.setAttribute("viewBox", box);
  });
}
