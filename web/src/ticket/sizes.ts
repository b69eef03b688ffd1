// Every named dimension with its derivation, and the panels with their sizes.

import { button, make, refill } from "../element";
import { lengthText } from "../measure";
import { same, type Picked, type Workshop } from "../workshop";

export function sizesTable(shop: Workshop): HTMLElement {
  const body = make("tbody");
  const unit = make("th", { scope: "col", class: "figure" });
  const show = () => {
    if (!shop.answer) return;
    unit.textContent = shop.unit;
    const rows = shop.answer.report.sizes.map(({ name, value, derivation }) =>
      make(
        "tr",
        {},
        make("th", { scope: "row" }, name),
        make("td", { class: "figure" }, lengthText(value, shop.unit)),
        make("td", {}, derivation),
      ),
    );
    refill(body, ...rows);
    light();
  };
  const light = () => {
    const lines = linesOf(shop, shop.picked);
    [...body.rows].forEach((row, i) => row.classList.toggle("lit", lines.includes(i)));
  };
  for (const topic of ["drawn", "unit"] as const) shop.on(topic, show);
  shop.on("picked", light);
  const head = make("tr", {}, make("th", { scope: "col" }, "dimension"), unit, make("th", { scope: "col" }, "how it comes about, in mm"));
  return scrolled("sizes and how they come about", make("table", {}, make("thead", {}, head), body));
}

function linesOf(shop: Workshop, picked: Picked | null): number[] {
  const panel = picked && shop.answer?.scene.pieces[picked.piece]?.panels.find(({ name }) => name === picked.panel);
  return panel ? [panel.across, panel.along].filter((line) => line !== null) : [];
}

export function panelsTable(shop: Workshop): HTMLElement {
  const body = make("tbody");
  const made: { picked: Picked; pick: HTMLButtonElement; row: HTMLTableRowElement }[] = [];
  const unit = make("th", { scope: "col", class: "figure" });
  const show = () => {
    if (!shop.answer) return;
    made.length = 0;
    unit.textContent = `across × along, ${shop.unit}`;
    const { pieces } = shop.answer.scene;
    pieces.forEach((piece, number) =>
      piece.panels.forEach((panel) => {
        const picked = { piece: number, panel: panel.name };
        const words = pieces.length > 1 ? `${piece.name}: ${panel.name}` : panel.name;
        const pick = button(words, () => shop.pick(same(picked, shop.picked) ? null : picked), { class: "plain" });
        const size = `${lengthText(panel.width, shop.unit)} × ${lengthText(panel.height, shop.unit)}`;
        const cells = [make("th", { scope: "row" }, pick), make("td", { class: "figure" }, size), make("td", {}, panel.face || "–")];
        made.push({ picked, pick, row: make("tr", {}, ...cells) });
      }),
    );
    refill(body, ...made.map(({ row }) => row));
    light();
  };
  const light = () => {
    for (const { picked, pick, row } of made) {
      const chosen = shop.picked !== null && same(picked, shop.picked);
      pick.setAttribute("aria-pressed", String(chosen));
      row.classList.toggle("lit", chosen);
    }
  };
  for (const topic of ["drawn", "unit"] as const) shop.on(topic, show);
  shop.on("picked", light);
  const head = make("tr", {}, make("th", { scope: "col" }, "panel"), unit, make("th", { scope: "col" }, "makes the"));
  return scrolled("panels", make("table", {}, make("thead", {}, head), body));
}

// A table that may be wider than its column is scrolled by itself, also with the keyboard.
function scrolled(name: string, table: HTMLTableElement): HTMLElement {
  return make("div", { class: "scrolled", tabindex: 0, role: "region", "aria-label": name }, table);
}
