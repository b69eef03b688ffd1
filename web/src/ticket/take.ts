// What can be taken away: drawings, the job as a file, and the whole page as one file.

import { askFiles, Refused } from "../ask";
import type { FileText } from "../answer";
import { button, make, refill } from "../element";
import type { Workshop } from "../workshop";

const KINDS: [string, string, string][] = [
  ["dxf", "DXF", "for the table or the die maker"],
  ["svg", "SVG", "the drawing with its dimensions, for people"],
  ["cut-svg", "cut SVG", "the lines alone"],
  ["folded-svg", "folded SVG", "a picture of the folded box"],
  ["job", "job file", "draws the same box again"],
  ["page", "one-file page", "this page, to send by mail"],
];

export function takeAway(shop: Workshop): HTMLElement {
  const wrong = make("div", { class: "wrong", role: "alert" });
  const shelf = make("ul", { class: "take" });
  const take = async (kind: string, pressed: HTMLButtonElement) => {
    refill(wrong);
    pressed.disabled = true;
    try {
      const files = shop.live ? await askFiles(shop.answer!.job, kind) : shop.files.filter((file) => file.kind === kind);
      files.forEach(save);
      shop.say(`taken: ${files.map((file) => file.name).join(", ")}`);
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      refill(wrong, ...error.problems.map((problem) => make("p", {}, problem.text)));
    } finally {
      pressed.disabled = false;
      pressed.focus();
    }
  };
  const offered = KINDS.filter(([kind]) => shop.live || shop.files.some((file) => file.kind === kind));
  for (const [kind, words, use] of offered) {
    const press: HTMLButtonElement = button(words, () => void take(kind, press), { "data-kind": kind });
    shelf.append(make("li", {}, press, make("span", {}, use)));
  }
  return make("div", {}, shelf, wrong);
}

function save(file: FileText): void {
  const address = URL.createObjectURL(new Blob([file.text], { type: file.media }));
  make("a", { href: address, download: file.name }).click();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
