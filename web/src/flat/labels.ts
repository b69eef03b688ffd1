// The names of the panels, each in its panel as long as it fits there.

import { draw, refill } from "../element";

const SIZE = 11; // px
const CHARACTER = 5.9; // px, on average

interface Label {
  text: SVGTextElement;
  words: string;
  at: [number, number];
  width: number;
  height: number;
}

export class Labels {
  readonly group = draw("g", { class: "names", "aria-hidden": "true" });
  private labels: Label[] = [];
  private titles: Label[] = [];

  clear(): void {
    this.labels = [];
    this.titles = [];
    refill(this.group);
  }

  add(words: string, at: [number, number], width: number, height: number): void {
    const text = draw("text", { "text-anchor": "middle" }, words);
    this.labels.push({ text, words, at, width, height });
    this.group.append(text);
  }

  title(words: string, place: { x: number; y: number }, piece: { width: number; height: number }): void {
    const text = draw("text", { class: "title" }, words);
    this.titles.push({ text, words, at: [place.x, place.y], width: piece.width, height: piece.height });
    this.group.append(text);
  }

  // u is mm per pixel.
  show(shown: boolean, u: number): void {
    for (const { text, words, at, width, height } of this.labels) {
      const long = words.length * CHARACTER + 4;
      const level = shown && width / u > long && height / u > SIZE + 2;
      const upright = shown && !level && height / u > long && width / u > SIZE + 2;
      text.classList.toggle("hidden", !level && !upright);
      text.setAttribute("font-size", String(SIZE * u));
      text.setAttribute("transform", `translate(${at[0]} ${at[1]})${upright ? " rotate(-90)" : ""} translate(0 ${SIZE * 0.35 * u})`);
    }
    for (const { text, at } of this.titles) {
      text.setAttribute("font-size", String((SIZE + 1) * u));
      text.setAttribute("transform", `translate(${at[0]} ${at[1] - 4 * u})`);
    }
  }
}
