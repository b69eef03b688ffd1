// The ticket that goes with the box.

import { make } from "../element";
import type { Workshop } from "../workshop";
import { findingsCount, findingsList } from "./findings";
import { numbers } from "./numbers";
import { panelsTable, sizesTable } from "./sizes";
import { stack } from "./stack";
import { takeAway } from "./take";

export function ticket(shop: Workshop, bring: () => void): HTMLElement[] {
  const count = make("span", { class: "count" });
  shop.on("drawn", () => (count.textContent = findingsCount(shop.answer!)));
  return [
    part("To take away", takeAway(shop)),
    part("Numbers", numbers(shop)),
    stack(shop),
    part("Findings", findingsList(shop, bring), count),
    part("Sizes", sizesTable(shop)),
    part("Panels", panelsTable(shop)),
  ];
}

function part(name: string, content: HTMLElement, count: HTMLElement | null = null): HTMLElement {
  return make("section", { class: "part" }, make("h3", {}, name, count ? " " : null, count), content);
}
