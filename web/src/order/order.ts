// The order: what box is wanted. Every change is drawn at once.

import type { JobData, Problem } from "../answer";
import type { Drawer } from "../drawer";
import { make, refill } from "../element";
import type { Workshop } from "../workshop";
import { Basics, sentence } from "./basics";
import { Options } from "./options";

const OPTION = "options.";

export function orderForm(shop: Workshop, drawer: Drawer): HTMLElement {
  const change = (job: JobData, typed: boolean) => drawer.change(job, typed ? "typed" : "chosen");
  const basics = new Basics(shop, change, (job, problem) => drawer.refuse(job, problem));
  const options = new Options(shop, change);
  const general = make("div", { class: "general", role: "alert" });
  const show = () => {
    basics.show();
    options.show();
  };
  const explain = () => {
    const wrong = new Map<string, string>();
    const rest: Problem[] = [];
    for (const problem of shop.problems) {
      const name = problem.where.startsWith(OPTION) ? problem.where.slice(OPTION.length) : "";
      if (options.has(name)) wrong.set(name, [wrong.get(name), sentence(problem)].filter(Boolean).join(" "));
      else if (!/^(size|board|style)/.test(problem.where)) rest.push(problem);
    }
    basics.explain(shop.problems);
    options.explain(wrong);
    refill(general, ...rest.map((problem) => make("p", { class: "wrong" }, told(problem))));
  };
  shop.on("form", show);
  shop.on("unit", show);
  shop.on("catalogue", () => basics.stock());
  shop.on("problems", explain);
  const more = make("details", { open: true }, make("summary", {}, "More about this box"), options.element);
  if (matchMedia("(max-width: 60rem)").matches) more.open = false;
  const form = make("form", { class: "order", "aria-label": "order", autocomplete: "off" }, general, basics.element, more);
  form.addEventListener("submit", (event) => event.preventDefault());
  return form;
}

function told({ text, where, line, ...problem }: Problem): string {
  if (line !== null && line !== undefined) return `line ${line}: ${text}`;
  return where ? `${where}: ${sentence({ text, where, line, ...problem })}` : sentence({ text, where, line, ...problem });
}
