// The head of the page: which box this is, whether it is good, and in which unit it is told.

import type { Given } from "./answer";
import { make, refill } from "./element";
import { timesText, type Unit } from "./measure";
import type { Workshop } from "./workshop";

export function header(shop: Workshop, given: Given): HTMLElement {
  const title = make("h1");
  const summary = make("p", { class: "summary" });
  const state = make("p", { class: "state" });
  const words = make("p", { class: "words", role: "status" });
  const show = () => {
    if (!shop.answer) {
      refill(title, "No box yet");
      return;
    }
    const { job, style, report } = shop.answer;
    const size = timesText([report.inside.L, report.inside.B, report.inside.H], shop.unit);
    refill(title, job.name ? `${job.name} – ` : null, `${job.style} ${style.title}`);
    summary.title = style.summary;
    refill(summary, `${size} ${shop.unit} inside, board ${report.board.name}. ${style.summary}`);
    document.title = `${job.name || job.style} ${job.size} – dieline`;
  };
  const judge = () => {
    const good = shop.answer?.report.ok ?? false;
    const wrong = shop.problems.length > 0;
    const last = shop.answer ? "The order cannot be made like this; the last good drawing stays." : "The order cannot be made like this.";
    state.className = `state ${wrong || !good ? "bad" : "good"}`;
    refill(state, wrong ? last : good ? "Folds, closes and measures what was asked for" : "Does not pass its proofs: see the findings");
  };
  for (const topic of ["drawn", "unit"] as const) shop.on(topic, show);
  shop.on("problems", judge);
  shop.on("words", () => refill(words, shop.words));
  const watched = given.watching && given.name ? make("p", { class: "watched" }, `follows ${given.name}`) : null;
  show();
  return make("header", {}, make("div", { class: "name" }, title, summary), make("div", { class: "side" }, state, watched, units(shop)), words);
}

function units(shop: Workshop): HTMLElement {
  const choice = (unit: Unit, words: string) => {
    const entry = make("input", { type: "radio", name: "unit", value: unit });
    entry.checked = shop.unit === unit;
    entry.addEventListener("change", () => {
      shop.unit = unit;
      shop.tell("unit");
    });
    return make("label", { class: "toggle" }, entry, words);
  };
  return make("fieldset", { class: "units" }, make("legend", { class: "quiet" }, "lengths in"), choice("mm", "mm"), choice("in", "inches"));
}
