// The options of a style, those of one thing together: lap width, lap bevel … stand under "lap".

import type { FormField, JobData, Value } from "../answer";
import { make, refill } from "../element";
import type { Workshop } from "../workshop";
import { option, type Option } from "./option";

export class Options {
  readonly element = make("div", { class: "options" });
  private made: Option[] = [];
  private kind = "";

  constructor(
    private readonly shop: Workshop,
    private readonly change: (job: JobData, typed: boolean) => void,
  ) {}

  // Shows the form as it is now; fields stay in place as long as the style does, so that typing goes on.
  show(): void {
    const form = this.shop.form;
    if (!form) return;
    const kind = JSON.stringify(form.fields.map(({ name, kind, choices }) => [name, kind, choices]));
    if (kind !== this.kind) this.rebuild(form.fields);
    this.kind = kind;
    const asked = this.shop.job.options ?? {};
    form.fields.forEach((declared, i) => this.made[i]!.show(declared, asked[declared.name], this.shop.unit));
  }

  // Puts each problem beside its field and gives back those that have none here.
  explain(wrong: Map<string, string>): void {
    for (const { name, field } of this.made) field.wrong(wrong.get(name) ?? "");
  }

  has(name: string): boolean {
    return this.made.some((one) => one.name === name);
  }

  private rebuild(fields: FormField[]): void {
    this.made = fields.map((declared) => option(declared, (name, value, typed) => this.set(name, value, typed)));
    refill(this.element, ...grouped(this.made));
  }

  private set(name: string, value: Value | undefined, typed: boolean): void {
    const options = { ...this.shop.job.options };
    if (value === undefined) delete options[name];
    else options[name] = value;
    const job: JobData = { ...this.shop.job, options };
    if (!Object.keys(options).length) delete job.options;
    this.change(job, typed);
  }
}

function grouped(made: Option[]): HTMLElement[] {
  const groups: Option[][] = [];
  for (const one of made) {
    const last = groups.at(-1);
    if (last && wordsOf(last[0]!)[0] === wordsOf(one)[0]) last.push(one);
    else groups.push([one]);
  }
  return groups.map((group) =>
    group.length === 1
      ? group[0]!.field.element
      : make("fieldset", {}, make("legend", {}, topic(group)), ...group.map((one) => one.field.element)),
  );
}

// The words of a name; "vents" and "vent count" are of one thing.
function wordsOf({ name }: Option): string[] {
  return name.split("_").map((word) => word.replace(/s$/, ""));
}

// The words with which all names of a group begin.
function topic(group: Option[]): string {
  const [first, ...others] = group.map(wordsOf);
  let count = 1;
  while (count < first!.length && others.every((words) => words[count] === first![count])) count += 1;
  return first!.slice(0, count).join(" ");
}
