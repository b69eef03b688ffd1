// Looks whether the job file was saved, and shows it anew; keeps quiet while nobody looks at the page.

import { askWatched, Refused } from "./ask";
import type { Drawer } from "./drawer";
import type { Workshop } from "./workshop";

const EVERY = 400; // ms
const WHEN_GONE = 2000; // ms

export function watch(shop: Workshop, drawer: Drawer, seen: string): void {
  let mark = seen;
  const look = async () => {
    let wait = EVERY;
    try {
      const found = await askWatched(mark);
      mark = found.seen;
      if (found.error) shop.fail(found.error.problems);
      else if (found.job) {
        drawer.change(found.job, "file");
        shop.say(`${found.name ?? "the job file"} was saved: drawn anew`);
      }
    } catch (error) {
      if (!(error instanceof Refused)) throw error;
      wait = WHEN_GONE;
    }
    setTimeout(next, wait);
  };
  const next = () => {
    if (document.hidden) document.addEventListener("visibilitychange", () => void look(), { once: true });
    else void look();
  };
  setTimeout(next, EVERY);
}
