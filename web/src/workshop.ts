// What every part of the page looks at: the job, its last good drawing, what is wrong with it, what is picked.

import type { Answer, Catalogue, FileText, FormData, JobData, Problem } from "./answer";
import type { Unit } from "./measure";

export interface Picked {
  piece: number;
  panel: string;
  at?: [number, number];
}

export type Topic = "drawn" | "form" | "problems" | "picked" | "hovered" | "unit" | "catalogue" | "words";

export class Workshop {
  job: JobData;
  answer: Answer | null = null;
  form: FormData | null = null;
  catalogue: Catalogue | null = null;
  problems: Problem[] = [];
  picked: Picked | null = null;
  hovered: Picked | null = null;
  unit: Unit = "mm";
  words = "";
  files: FileText[] = [];

  private readonly listeners = new Map<Topic, (() => void)[]>();

  constructor(
    readonly live: boolean,
    job: JobData,
  ) {
    this.job = job;
  }

  on(topic: Topic, run: () => void): void {
    this.listeners.set(topic, [...(this.listeners.get(topic) ?? []), run]);
  }

  tell(topic: Topic): void {
    for (const run of this.listeners.get(topic) ?? []) run();
  }

  pick(picked: Picked | null): void {
    this.picked = picked;
    this.tell("picked");
  }

  hover(hovered: Picked | null): void {
    if (same(hovered, this.hovered)) return;
    this.hovered = hovered;
    this.tell("hovered");
  }

  // What is said to everyone, also to a screen reader.
  say(words: string): void {
    this.words = words;
    this.tell("words");
  }

  fail(problems: Problem[]): void {
    this.problems = problems;
    this.tell("problems");
  }

  show(answer: Answer): void {
    this.answer = answer;
    this.form = answer.form;
    this.problems = [];
    if (this.picked && !hasPanel(answer, this.picked)) this.picked = null;
    this.hovered = null;
    this.tell("drawn");
    this.tell("form");
    this.tell("problems");
    this.tell("picked");
  }
}

export function same(a: Picked | null, b: Picked | null): boolean {
  return a?.piece === b?.piece && a?.panel === b?.panel;
}

function hasPanel(answer: Answer, picked: Picked): boolean {
  const piece = answer.scene.pieces[picked.piece];
  return Boolean(piece && (picked.panel === "" || piece.panels.some((panel) => panel.name === picked.panel)));
}
