// Has jobs drawn: the newest one always, none twice, and never more than one at a time.

import type { JobData, Problem } from "./answer";
import { addressOf } from "./address";
import { askDraw, askForm, Refused } from "./ask";
import type { Workshop } from "./workshop";

// How a change came about decides what the address bar remembers of it.
export type Cause = "typed" | "chosen" | "address" | "file";

const PATIENCE = 1500; // ms after which a drawing that nobody waits for any more is given up
const FORMLESS = new Set(["gone", "busy", "time", "server", "guest"]); // then asking for the form helps nobody
const PAUSE = 1200; // ms of typing that the back button undoes at once

export class Drawer {
  private busy = false;
  private begun = 0;
  private next: Cause | null = null;
  private stop = new AbortController();
  private pushed = 0;

  constructor(private readonly shop: Workshop) {}

  change(job: JobData, cause: Cause): void {
    this.shop.job = job;
    this.next = cause;
    if (!this.busy) void this.work();
    else if (performance.now() - this.begun > PATIENCE) this.stop.abort();
  }

  // What need not be asked: the page itself sees that it cannot be.
  refuse(job: JobData, problem: Problem): void {
    this.shop.job = job;
    this.next = null;
    this.shop.fail([problem]);
  }

  private async work(): Promise<void> {
    this.busy = true;
    document.body.dataset.busy = "yes";
    while (this.next) {
      const cause = this.next;
      this.next = null;
      this.begun = performance.now();
      this.stop = new AbortController();
      await this.drawn(this.shop.job, cause);
    }
    this.busy = false;
    delete document.body.dataset.busy;
  }

  private async drawn(job: JobData, cause: Cause): Promise<void> {
    try {
      const answer = await askDraw(job, this.stop.signal);
      if (this.shop.job !== job && !this.next) return; // refused since
      if (!this.next) this.shop.job = answer.job; // the same job, in its shortest form
      this.shop.show(answer);
      this.remember(answer.job, cause);
    } catch (error) {
      if (!(error instanceof Refused)) {
        if (error instanceof DOMException && error.name === "AbortError") return;
        throw error;
      }
      await this.explain(job, error);
    }
  }

  // The form of a style can be shown although its options or its size are still wrong.
  private async explain(job: JobData, refused: Refused): Promise<void> {
    if (FORMLESS.has(refused.kind)) return this.shop.fail(refused.problems);
    try {
      this.shop.form = await askForm(job, this.stop.signal);
      this.shop.tell("form");
    } catch (error) {
      if (!(error instanceof Refused)) return; // given up: something newer is asked for
    }
    this.shop.fail(refused.problems);
  }

  private remember(job: JobData, cause: Cause): void {
    const address = addressOf(job);
    if (cause === "address" || address === location.hash) return;
    const now = performance.now();
    if (cause === "typed" && now - this.pushed < PAUSE) history.replaceState(null, "", address);
    else history.pushState(null, "", address);
    this.pushed = now;
  }
}
