// The head of the order: style, board and size.

import type { Board, JobData, Problem, StyleEntry } from "../answer";
import { button, make, refill } from "../element";
import { fieldText, lengthText, readLength, round } from "../measure";
import type { Workshop } from "../workshop";
import { field, put, selectEntry, textEntry, type Field } from "./field";
import { partAt, PARTS, partsOf, sizeOf, type Part } from "./size";

const LABELS: Record<Part, string> = { length: "L, length", breadth: "B, breadth", height: "H, height", fourth: "fourth size" };

const KINDS: Record<string, string> = {
  inside: "the inside",
  crease: "crease to crease",
  outside: "the outside",
};

export class Basics {
  readonly element: HTMLElement;
  private readonly style: Field;
  private readonly top: Field;
  private readonly board: Field;
  private readonly sizeIs: Field;
  private readonly sizes = new Map<Part, Field>();
  private readonly sizeLegend = make("legend");
  private readonly sizeWrong = make("p", { class: "wrong" });
  private stocked = ""; // what the lists to pick from were made for
  private readonly cure = make("p", { class: "cure" });

  constructor(
    private readonly shop: Workshop,
    private readonly change: (job: JobData, typed: boolean) => void,
    private readonly refuse: (job: JobData, problem: Problem) => void,
  ) {
    this.style = field("style", selectEntry((code) => this.choose(code)));
    this.top = field("top", selectEntry((top) => this.chooseTop(top)));
    this.board = field("board", selectEntry((board) => this.change({ ...this.shop.job, board }, false)));
    this.sizeIs = field("measured over", selectEntry((kind) => this.chooseKind(kind)));
    for (const [value, words] of Object.entries(KINDS)) this.sizeIs.entry.append(make("option", { value }, words));
    for (const part of PARTS) this.sizes.set(part, this.sizeField(part));
    const sizes = make("fieldset", { class: "sizes" }, this.sizeLegend);
    sizes.append(...[...this.sizes.values()].map((one) => one.element), this.sizeIs.element, this.sizeWrong);
    const parts = [this.style.element, this.top.element, this.cure, this.board.element, sizes];
    this.element = make("div", { class: "basics" }, ...parts);
  }

  // Fills the pickers once it is known what there is to pick.
  stock(): void {
    const catalogue = this.shop.catalogue;
    if (!catalogue) return;
    const words = (style: StyleEntry) => make("option", { value: style.code }, `${style.code} – ${style.title}`);
    const broken = catalogue.broken.map(({ code, reason }) =>
      make("option", { value: code, disabled: true }, `${code} – broken: ${reason}`),
    );
    const group = broken.length ? make("optgroup", { label: "cannot be loaded" }, ...broken) : null;
    refill(this.style.entry, ...inGroups(catalogue.styles, (style) => style.group, words), group);
    this.show();
  }

  show(): void {
    const { shop } = this;
    const { job } = shop;
    const [bottom = "", top = ""] = job.style.split("/");
    const entry = shop.catalogue?.styles.find((style) => style.code === bottom);
    choose(this.style.entry, bottom);
    const picked = JSON.stringify([job.style, job.board, shop.unit, shop.answer?.own_boards, shop.catalogue !== null]);
    if (picked !== this.stocked) {
      this.showTops(entry, top);
      this.showBoards(entry);
    }
    this.stocked = picked;
    choose(this.sizeIs.entry, job.size_is ?? "inside");
    this.showSize();
  }

  explain(problems: Problem[]): void {
    const about = (start: string) => problems.filter((one) => one.where.startsWith(start)).map(sentence).join(" ");
    this.style.wrong(about("style"));
    this.board.wrong(about("board"));
    const sizes = problems.filter((one) => one.where.startsWith("size"));
    for (const [part, one] of this.sizes) one.wrong(sizes.filter(({ where }) => partAt(where) === part).map(sentence).join(" "));
    refill(this.sizeWrong, sizes.filter(({ where }) => partAt(where) === null).map(sentence).join(" "));
    this.offerExample(sizes.length > 0);
  }

  private showTops(entry: StyleEntry | undefined, top: string): void {
    const tops = entry?.tops ?? [];
    this.top.element.hidden = !tops.length && !top;
    const words = (code: string) => this.shop.catalogue?.styles.find((style) => style.code === code)?.title ?? "";
    refill(
      this.top.entry,
      make("option", { value: "" }, "as the style has it"),
      ...tops.map((code) => make("option", { value: code }, `${code} – ${words(code)}`)),
    );
    choose(this.top.entry, top);
  }

  private showBoards(entry: StyleEntry | undefined): void {
    const own = this.shop.answer?.own_boards ?? [];
    const all = [...own, ...(this.shop.catalogue?.boards ?? []).filter((one) => !own.some(({ name }) => name === one.name))];
    const [low, high] = entry?.thickness ?? [0, Infinity];
    const words = (board: Board) => {
      const fits = board.thickness >= low && board.thickness <= high;
      const thick = lengthText(board.thickness, this.shop.unit);
      const text = `${board.name} – ${thick} ${this.shop.unit}${fits ? "" : ", not for this style"}`;
      return make("option", { value: board.name }, text);
    };
    refill(this.board.entry, ...inGroups(all, (board) => (own.includes(board) ? "own boards" : `${board.wall} wall`), words));
    choose(this.board.entry, this.shop.job.board);
  }

  private showSize(): void {
    this.sizeLegend.textContent = `size, ${this.shop.unit}`;
    const parts = partsOf(this.shop.job.size);
    const fourth = this.shop.form?.fourth ?? null;
    for (const [part, one] of this.sizes) {
      const mm = Number(parts[part]);
      const text = parts[part] === "" || Number.isNaN(mm) ? parts[part] : fieldText(mm, this.shop.unit);
      put(one.entry, text);
    }
    const last = this.sizes.get("fourth")!;
    last.element.hidden = !fourth && !parts.fourth;
    if (!fourth) return;
    last.element.querySelector("label")!.textContent = fourth.name;
    last.hint(fourth.help);
    if (!parts.fourth && fourth.default !== null) put(last.entry, fieldText(fourth.default, this.shop.unit));
  }

  private sizeField(part: Part): Field {
    const entry = textEntry(
      (text) => this.typed(part, text),
      (way) => {
        const one = this.shop.unit === "in" ? 25.4 / 16 : 1;
        const now = readLength(entry.value, this.shop.unit);
        if (now === null) return;
        entry.value = fieldText(Math.max(round(now + way * one, 6), one), this.shop.unit);
        this.typed(part, entry.value);
      },
    );
    entry.addEventListener("blur", () => this.show());
    return field(LABELS[part], entry);
  }

  private typed(part: Part, text: string): void {
    const mm = readLength(text, this.shop.unit);
    const parts = { ...partsOf(this.shop.job.size), [part]: mm === null ? text.trim() : String(mm) };
    const empty = part === "fourth" && text.trim() === ""; // then it is what the style has it
    const job: JobData = { ...this.shop.job, size: sizeOf(parts) };
    delete job.unit; // the parts are in mm now
    if (!empty && !(mm !== null && mm > 0)) return this.refuse(job, noLength(part, text));
    this.change(job, true);
  }

  private chooseKind(kind: string): void {
    const job: JobData = { ...this.shop.job, size_is: kind };
    if (kind === "inside") delete job.size_is;
    this.change(job, false);
  }

  // Another style has other options, panels and perhaps no fourth size.
  private choose(style: string): void {
    const { size, board, name } = this.shop.job;
    const plain = sizeOf({ ...partsOf(size), fourth: "" });
    const kept = ["size_is", "revision", "note", "contents", "files", "output"].filter((key) => key in this.shop.job);
    const rest = Object.fromEntries(kept.map((key) => [key, this.shop.job[key]]));
    this.change({ style, size: plain, board, ...(name ? { name } : {}), ...rest }, false);
  }

  private chooseTop(top: string): void {
    const bottom = this.shop.job.style.split("/")[0]!;
    this.choose(top ? `${bottom}/${top}` : bottom);
  }

  private offerExample(wrong: boolean): void {
    const code = this.shop.job.style.split("/")[0];
    const entry = this.shop.catalogue?.styles.find((style) => style.code === code);
    const size = entry?.example ?? "";
    const offer = wrong && entry && size !== this.shop.job.size;
    refill(
      this.cure,
      offer ? button(`Take ${size} mm, a size that ${entry.code} is made in`, () => this.change({ ...this.shop.job, size }, false)) : null,
    );
  }
}

function noLength(part: Part, text: string): Problem {
  const facts = { where: `size, ${part}`, what: `'${text}' is no length`, must: "it must be more than 0" };
  return { ...facts, cure: "write 300, 30 cm or 12 1/2 in", line: null, text: "" };
}

export function sentence({ what, must, cure }: Problem): string {
  return [what, must, cure].filter(Boolean).join(" – ") + ".";
}

// A job may ask for something that the list does not have: it is shown all the same.
function choose(entry: HTMLInputElement | HTMLSelectElement, value: string): void {
  if (value && entry instanceof HTMLSelectElement && ![...entry.options].some((one) => one.value === value))
    entry.append(make("option", { value }, value));
  entry.value = value;
}

function inGroups<T>(items: T[], nameOf: (item: T) => string, made: (item: T) => HTMLOptionElement): HTMLOptGroupElement[] {
  const groups = new Map<string, HTMLOptGroupElement>();
  for (const item of items) {
    const name = nameOf(item);
    if (!groups.has(name)) groups.set(name, make("optgroup", { label: name }));
    groups.get(name)!.append(made(item));
  }
  return [...groups.values()];
}
