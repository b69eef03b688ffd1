// The page: the order on the left, the bench in the middle, the ticket on the right.

import "./look/bench.css";
import "./look/order.css";
import "./look/ticket.css";
import "./look/print.css";
import { jobAt } from "./address";
import type { Given } from "./answer";
import { askCatalogue, Refused } from "./ask";
import { Drawer } from "./drawer";
import { make } from "./element";
import { flatPane } from "./flat/pane";
import { foldedPane } from "./fold/pane";
import { header } from "./header";
import { panelNote } from "./note";
import { orderForm } from "./order/order";
import { orderTold } from "./order/told";
import { printing } from "./printing";
import { ticket } from "./ticket/ticket";
import { watch } from "./watch";
import { Workshop } from "./workshop";

const NO_JOB = { style: "", size: "", board: "" };

function start(): void {
  const given = JSON.parse(document.getElementById("given")!.textContent!) as Given;
  const linked = given.live ? jobAt(location.hash) : null;
  const shop = new Workshop(given.live, linked ?? given.answer?.job ?? given.job ?? NO_JOB);
  shop.files = given.files ?? [];
  const drawer = new Drawer(shop);
  build(shop, drawer, given);
  if (given.answer) {
    const job = shop.job;
    shop.show(given.answer);
    shop.job = job;
  }
  if (given.error && !linked) shop.fail(given.error.problems);
  if (!given.live) return;
  if (linked) drawer.change(linked, "address");
  window.addEventListener("popstate", () => {
    const job = jobAt(location.hash) ?? given.answer?.job ?? given.job;
    if (job) drawer.change(job, "address");
  });
  if (given.watching) watch(shop, drawer, given.seen ?? "");
  void stock(shop);
}

function build(shop: Workshop, drawer: Drawer, given: Given): void {
  const order = given.live ? orderForm(shop, drawer) : orderTold(shop);
  const flat = flatPane(shop);
  const folded = foldedPane(shop);
  const bring = () => {
    flat.element.scrollIntoView({ block: "nearest" });
    if (shop.picked) flat.view.bring(shop.picked);
  };
  const left = make("section", { class: "left", "aria-label": "order" }, make("h2", {}, "Order"), order);
  const bench = make("div", { class: "bench" }, flat.element, folded, panelNote(shop));
  const right = make("section", { class: "right", "aria-label": "ticket" }, make("h2", {}, "Ticket"), ...ticket(shop, bring));
  document.body.append(header(shop, given), make("main", {}, left, bench, right));
  printing(shop, flat.view);
  shop.on("drawn", () => (document.body.dataset.drawn = String(Number(document.body.dataset.drawn ?? 0) + 1)));
}

async function stock(shop: Workshop): Promise<void> {
  try {
    shop.catalogue = await askCatalogue();
    shop.tell("catalogue");
  } catch (error) {
    if (!(error instanceof Refused)) throw error;
    shop.fail(error.problems);
  }
}

start();
