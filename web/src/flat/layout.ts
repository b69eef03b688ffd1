// Where each blank lies on the table: side by side or one below the other, whichever fills the pane better.

import type { Piece } from "../answer";
import type { Box } from "./zoom";

export interface Place {
  x: number;
  y: number;
}

const GAP = 0.09; // of the largest blank

export function lay(pieces: Piece[], aspect: number): { places: Place[]; content: Box } {
  const gap = GAP * Math.max(...pieces.map((piece) => Math.max(piece.width, piece.height)));
  const row = inLine(pieces, gap, "width");
  const column = inLine(pieces, gap, "height");
  const better = fill(row.content, aspect) >= fill(column.content, aspect) ? row : column;
  return better;
}

function inLine(pieces: Piece[], gap: number, way: "width" | "height"): { places: Place[]; content: Box } {
  const side = way === "width" ? "height" : "width";
  const breadth = Math.max(...pieces.map((piece) => piece[side]));
  const places: Place[] = [];
  let along = 0;
  for (const piece of pieces) {
    const aside = (breadth - piece[side]) / 2;
    places.push(way === "width" ? { x: along, y: aside } : { x: aside, y: along });
    along += piece[way] + gap;
  }
  along -= gap;
  const [width, height] = way === "width" ? [along, breadth] : [breadth, along];
  return { places, content: { x: 0, y: 0, width, height } };
}

function fill(box: Box, aspect: number): number {
  return Math.min(aspect / box.width, 1 / box.height);
}
