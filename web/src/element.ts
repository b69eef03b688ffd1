// Elements made in one call. Nothing here takes markup: the page is never given any to interpret.

type Child = Node | string | null | undefined | false;
type Attributes = Record<string, string | number | boolean | null | undefined | ((event: never) => void)>;

const SVG = "http://www.w3.org/2000/svg";

export function make<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: Child[]
): HTMLElementTagNameMap[K] {
  return fill(document.createElement(tag), attributes, children);
}

export function draw<K extends keyof SVGElementTagNameMap>(
  tag: K,
  attributes: Attributes = {},
  ...children: Child[]
): SVGElementTagNameMap[K] {
  return fill(document.createElementNS(SVG, tag), attributes, children);
}

function fill<E extends Element>(element: E, attributes: Attributes, children: Child[]): E {
  for (const [name, value] of Object.entries(attributes)) set(element, name, value);
  for (const child of children) if (child) element.append(child);
  return element;
}

function set(element: Element, name: string, value: Attributes[string]): void {
  if (typeof value === "function") element.addEventListener(name, value as EventListener);
  else if (value === true) element.setAttribute(name, "");
  else if (value !== false && value !== null && value !== undefined) element.setAttribute(name, String(value));
}

// Puts children in place of what was there.
export function refill(element: Element, ...children: Child[]): void {
  element.replaceChildren(...children.filter((child): child is Node | string => Boolean(child)));
}

export function button(words: string, action: () => void, attributes: Attributes = {}): HTMLButtonElement {
  return make("button", { type: "button", click: action, ...attributes }, words);
}

let last = 0;

// An id that no other element has.
export function freshId(): string {
  last += 1;
  return `n${last}`;
}
