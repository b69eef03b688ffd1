// Whether the box holds its stack, where the job says how it is stacked.

import type { Stack, StackAnswer } from "../answer";
import { make, refill } from "../element";
import type { Workshop } from "../workshop";

export function stack(shop: Workshop): HTMLElement {
  const section = make("section", { class: "part", hidden: true });
  shop.on("drawn", () => {
    const said = shop.answer!.report.stack;
    section.hidden = !said;
    if (said) refill(section, make("h3", {}, "Will it hold?"), ...content(said));
  });
  return section;
}

function content(said: Stack): HTMLElement[] {
  if ("asked" in said) return [make("p", {}, "Not yet answered. The load leaves open:"), points(said.asked.map(({ text }) => text))];
  const cautions = make("div", { class: "caution", role: "note" }, ...said.cautions.map((words) => make("p", {}, words)));
  return [
    make("p", { class: "verdict" }, said.verdict),
    make("dl", { class: "numbers" }, ...figures(said).flatMap(([name, value]) => [make("dt", {}, name), make("dd", {}, value)])),
    ...said.findings.map(({ severity, message }) => make("p", {}, `${severity}: ${message}`)),
    make("p", {}, said.assumed.length ? "Assumed, as the job does not say:" : "Nothing is assumed."),
    points(said.assumed),
    cautions,
  ];
}

function figures(said: StackAnswer): [string, string][] {
  const [low, high] = said.margin_range;
  const stands = [
    plural(said.layers, "layer"),
    said.per_layer === null ? "" : `${said.per_layer} boxes each`,
    said.pallets > 1 ? `${said.pallets} pallets high` : "",
  ];
  return [
    ["margin", said.margin === null ? "nothing stands on it" : `${said.margin.toFixed(2)}${low === null || high === null ? "" : ` (${low.toFixed(2)} to ${high.toFixed(2)})`}`],
    ...(said.chance === null ? [] : [["holds, by scatter of formula and board alone", percent(said.chance)] as [string, string]]),
    ["required", `${Math.round(said.required_N)} N`],
    ["available", `${Math.round(said.available_N)} N`],
    ["new and dry", `${Math.round(said.compression_N)} N`],
    ...[...said.losses, ...said.factors].map(({ name, condition, factor }): [string, string] => [`× ${name}: ${condition}`, factor.toFixed(2)]),
    ["stack", stands.filter(Boolean).join(", ")],
  ];
}

function points(lines: string[]): HTMLElement {
  return make("ul", { class: "points" }, ...lines.map((line) => make("li", {}, line)));
}

function plural(count: number, word: string): string {
  return `${count} ${word}${count === 1 ? "" : "s"}`;
}

// Never a hundred: no formula is that sure.
function percent(chance: number): string {
  if (chance > 0.999) return "over 99.9 %";
  return chance < 0.001 ? "under 0.1 %" : `${(100 * chance).toFixed(1)} %`;
}
