// What the checks found; choosing one shows its place.

import type { Answer, Finding } from "../answer";
import { button, make, refill } from "../element";
import type { Workshop } from "../workshop";

const MARKS: Record<string, string> = { error: "!", warning: "?", note: "i" };

export function findingsList(shop: Workshop, bring: () => void): HTMLElement {
  const list = make("ul", { class: "findings" });
  shop.on("drawn", () => {
    const answer = shop.answer!;
    const failures = answer.report.failures.map((words) => entry("error", words, "proof", null));
    const found = answer.report.findings.map((finding, i) => entry(finding.severity, finding.message, finding.place, place(shop, answer, i, bring), finding));
    const none = make("li", { class: "none" }, "Nothing to say: this box folds, closes and can be made.");
    refill(list, ...(failures.length + found.length ? [...failures, ...found] : [none]));
  });
  return list;
}

export function findingsCount({ report }: Answer): string {
  const count = (severity: string) => report.findings.filter((finding) => finding.severity === severity).length;
  const errors = count("error") + report.failures.length;
  const parts = [
    [errors, "error"],
    [count("warning"), "warning"],
    [count("note"), "note"],
  ] as const;
  return parts.filter(([number]) => number > 0).map(([number, word]) => `${number} ${word}${number > 1 ? "s" : ""}`).join(", ") || "no findings";
}

function place(shop: Workshop, { scene }: Answer, i: number, bring: () => void): (() => void) | null {
  const spot = scene.spots[i];
  if (!spot) return null;
  return () => {
    shop.pick({ ...spot });
    bring();
  };
}

function entry(severity: string, words: string, where: string, show: (() => void) | null, finding?: Finding): HTMLElement {
  const mark = make("span", { class: "mark", "aria-hidden": "true" }, MARKS[severity] ?? "i");
  const told = make("span", { class: "told" }, make("span", { class: "severity" }, `${severity}: `), `${where} – ${words}`);
  const source = finding?.source ? make("small", {}, finding.source) : null;
  const item = make("li", { class: severity }, mark, make("div", {}, told, source));
  if (show) item.lastElementChild!.append(button("Show where", show, { class: "show", "aria-label": `Show where: ${where}` }));
  return item;
}
