// A field for one parameter of the style, as the style declares it.

import type { FormField, Value } from "../answer";
import { button, make } from "../element";
import { fieldText, lengthText, readLength, readNumber, round, type Unit } from "../measure";
import { field, put, selectEntry, textEntry, type Field } from "./field";

export interface Option {
  name: string;
  field: Field;
  show: (declared: FormField, asked: Value | undefined, unit: Unit) => void;
}

// set is called with what was typed; undefined goes back to what is usual.
export function option(declared: FormField, set: (name: string, value: Value | undefined, typed: boolean) => void): Option {
  const { name, kind } = declared;
  let now = declared;
  let unit: Unit = "mm";
  const label = name.replaceAll("_", " ");
  const back = button("usual", () => set(name, undefined, false), { class: "back", "aria-label": `${label}: back to what is usual` });
  const units = make("span", { class: "unit" });
  const tell = (value: Value | undefined, typed: boolean) => set(name, value, typed);

  const entry =
    kind === "choice"
      ? selectEntry((value) => tell(value, false))
      : kind === "switch"
        ? make("input", { type: "checkbox", change: () => tell((entry as HTMLInputElement).checked, false) })
        : textEntry(
            (text) => tell(read(text, kind, unit), true),
            (way) => tell(step(entry as HTMLInputElement, way, now, unit), true),
          );
  if (kind === "choice") for (const { value, words } of declared.choices) entry.append(make("option", { value }, words));
  if (kind !== "choice" && kind !== "switch") entry.addEventListener("blur", () => put(entry, entry.dataset.settled ?? ""));
  const made = field(label, entry, make("span", { class: "after" }, units, back));

  return {
    name,
    field: made,
    show: (fresh, asked, inUnit) => {
      [now, unit] = [fresh, inUnit];
      back.hidden = asked === undefined;
      const unitWord = kind === "length" ? unit : kind === "angle" ? "°" : "";
      if (units.textContent !== unitWord) units.textContent = unitWord;
      made.hint(hintOf(fresh, unit));
      made.element.classList.toggle("is-asked", asked !== undefined);
      const value = asked ?? fresh.default;
      if (kind === "switch") (entry as HTMLInputElement).checked = value === true;
      else {
        entry.dataset.settled = textOf(value, kind, unit);
        put(entry, entry.dataset.settled);
      }
    },
  };
}

function read(text: string, kind: FormField["kind"], unit: Unit): Value | undefined {
  if (text.trim() === "") return undefined;
  return (kind === "length" ? readLength(text, unit) : readNumber(text)) ?? text;
}

function textOf(value: Value, kind: FormField["kind"], unit: Unit): string {
  return kind === "length" && typeof value === "number" ? fieldText(value, unit) : String(value);
}

// One step of the arrow keys: 1 mm, 1/16 in, or 1; never out of the range.
function step(entry: HTMLInputElement, way: 1 | -1, { kind, low, high }: FormField, unit: Unit): Value | undefined {
  const now = read(entry.value, kind, unit);
  if (typeof now !== "number") return now;
  const one = kind === "length" && unit === "in" ? 25.4 / 16 : 1;
  const next = round(Math.min(Math.max(now + way * one, low ?? -Infinity), high ?? Infinity), 6);
  entry.value = textOf(next, kind, unit);
  return next;
}

function hintOf({ kind, help, low, high, default: usual }: FormField, unit: Unit): string {
  if (kind === "choice" || kind === "switch") return help;
  const shown = (value: number) => (kind === "length" ? lengthText(value, unit) : String(round(value, 2)));
  const unitWord = kind === "length" ? ` ${unit}` : kind === "angle" ? "°" : "";
  const range =
    low !== null && high !== null
      ? `${shown(low)} to ${shown(high)}${unitWord}`
      : low !== null
        ? `from ${shown(low)}${unitWord}`
        : high !== null
          ? `up to ${shown(high)}${unitWord}`
          : "";
  const common = typeof usual === "number" ? `usual ${shown(usual)}` : "";
  return [help, [range, common].filter(Boolean).join(", ")].filter(Boolean).join(" ");
}
