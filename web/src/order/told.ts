// The order of a page that has no server to ask: told, not asked.

import { make, refill } from "../element";
import { timesText } from "../measure";
import type { Workshop } from "../workshop";

export function orderTold(shop: Workshop): HTMLElement {
  const list = make("dl", { class: "told" });
  const show = () => {
    const { report, style, job } = shop.answer!;
    const size = timesText([report.inside.L, report.inside.B, report.inside.H], shop.unit);
    const entries: [string, string][] = [
      ["style", `${job.style} – ${style.title}`],
      ["board", `${report.board.name}, ${report.board.wall} wall`],
      ["inside, L × B × H", `${size} ${shop.unit}`],
      ...Object.entries(job.options ?? {}).map(([name, value]): [string, string] => [name.replaceAll("_", " "), String(value)]),
    ];
    refill(list, ...entries.flatMap(([name, value]) => [make("dt", {}, name), make("dd", {}, value)]));
  };
  shop.on("drawn", show);
  shop.on("unit", show);
  return make("div", { class: "order" }, list);
}
