// One field of the order: its label, its entry, what it is for, and what is wrong with it.

import { freshId, make, refill } from "../element";

export interface Field {
  element: HTMLElement;
  entry: HTMLInputElement | HTMLSelectElement;
  hint: (words: string) => void;
  wrong: (words: string) => void;
}

export function field(label: string, entry: HTMLInputElement | HTMLSelectElement, after: Node | null = null): Field {
  const id = freshId();
  entry.id = id;
  const hint = make("p", { class: "hint", id: `${id}h` });
  const wrong = make("p", { class: "wrong", id: `${id}w` });
  const check = entry instanceof HTMLInputElement && entry.type === "checkbox";
  const name = make("label", { for: id }, label);
  const row = make("div", { class: check ? "entry check" : "entry" }, entry, check ? name : after);
  const element = make("div", { class: "field" }, check ? null : name, row, hint, wrong);
  const describe = () => entry.setAttribute("aria-describedby", `${id}w ${id}h`);
  describe();
  return {
    element,
    entry,
    hint: (words) => tell(hint, words),
    wrong: (words) => {
      tell(wrong, words);
      element.classList.toggle("is-wrong", words !== "");
      if (words) entry.setAttribute("aria-invalid", "true");
      else entry.removeAttribute("aria-invalid");
    },
  };
}

// What stays the same is left alone, so that the page is not laid out anew.
function tell(element: HTMLElement, words: string): void {
  if (element.textContent !== words) refill(element, words);
}

// Puts a text into an entry, unless somebody is just typing there.
export function put(entry: HTMLInputElement | HTMLSelectElement, text: string): void {
  if (entry.value !== text && (entry !== document.activeElement || entry instanceof HTMLSelectElement)) entry.value = text;
}

export function textEntry(typed: (text: string) => void, stepped: (way: 1 | -1) => void): HTMLInputElement {
  const entry = make("input", { type: "text", inputmode: "decimal", autocomplete: "off", spellcheck: "false" });
  entry.addEventListener("input", () => typed(entry.value));
  entry.addEventListener("keydown", (event) => {
    if (event.key !== "ArrowUp" && event.key !== "ArrowDown") return;
    event.preventDefault();
    stepped(event.key === "ArrowUp" ? 1 : -1);
  });
  return entry;
}

export function selectEntry(chosen: (value: string) => void): HTMLSelectElement {
  const entry = make("select");
  entry.addEventListener("change", () => chosen(entry.value));
  return entry;
}
