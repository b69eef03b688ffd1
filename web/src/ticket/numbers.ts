// The numbers of the box: what it measures, weighs and takes to make.

import type { Answer } from "../answer";
import { make, refill } from "../element";
import { areaText, massText, timesText, wayText, type Unit } from "../measure";
import type { Workshop } from "../workshop";

export function numbers(shop: Workshop): HTMLElement {
  const list = make("dl", { class: "numbers" });
  const show = () => {
    if (!shop.answer) return;
    refill(list, ...entries(shop.answer, shop.unit).flatMap(([name, value]) => [make("dt", {}, name), make("dd", {}, value)]));
  };
  shop.on("drawn", show);
  shop.on("unit", show);
  return list;
}

function entries({ report, grammage }: Answer, unit: Unit): [string, string][] {
  const lbh = ({ L, B, H }: { L?: number; B?: number; H?: number }) => `${timesText([L, B, H], unit)} ${unit}`;
  const all = (of: (piece: (typeof report.pieces)[number]) => number) =>
    report.pieces.reduce((sum, piece) => sum + piece.count * of(piece), 0);
  const area = all((piece) => piece.blank.area);
  const lengths: [string, number][] = [
    ["cut length", all((piece) => piece.cut_length)],
    ["crease length", all((piece) => piece.crease_length)],
    ["perforation length", all((piece) => piece.perforation_length)],
    ["cut-crease length", all((piece) => piece.cut_crease_length)],
  ];
  return [
    ["inside, as measured when folded", lbh(report.fold.inside)],
    ["clear space, laps counted", lbh(report.fold.clear)],
    ["outside", lbh(report.outside)],
    ...report.pieces.map(({ name, count, blank }): [string, string] => [
      report.pieces.length > 1 ? `blank of the ${name}${count > 1 ? `, ${count} of it` : ""}` : "blank",
      `${timesText([blank.width, blank.height], unit)} ${unit}`,
    ]),
    ["board area", areaText(area, unit)],
    ["mass", grammage === null ? "not known: this board has no grammage" : massText((area * grammage) / 1000, unit)],
    ...lengths.filter(([, length]) => length > 0).map(([name, length]): [string, string] => [name, wayText(length, unit)]),
  ];
}
