// What the server answers with; /api/openapi.json tells the same. Lengths are in mm, seen from the inside.

export type Value = number | string | boolean;

export interface JobData {
  style: string;
  size: string;
  board: string;
  size_is?: string;
  unit?: string;
  name?: string;
  options?: Record<string, Value>;
  [more: string]: unknown;
}

export interface Problem {
  where: string;
  what: string;
  must: string;
  cure: string;
  line: number | null;
  text: string;
}

export interface Failure {
  error: { status: number; kind: string; problems: Problem[] };
}

export interface Look {
  meaning: string;
  words: string;
  colour: string;
  dash: number[];
}

export interface FlatPanel {
  name: string;
  d: string;
  width: number;
  height: number;
  role: string;
  face: string;
  boards: number;
  across: number | null;
  along: number | null;
}

export interface SolidPanel {
  name: string;
  shown: string;
  outline: number[];
  holes: number[][];
  marks: { meaning: string; line: number[] }[];
  face: string;
  intrudes: boolean;
}

export interface SolidFold {
  parent: number;
  child: number;
  line: [number, number, number, number];
  angle: number;
  shift: number;
  made: string;
}

export type Vector = [number, number, number];

export interface Stand {
  at: [number, number];
  origin: Vector;
  u: Vector;
  v: Vector;
}

export interface Solid {
  panels: SolidPanel[];
  folds: SolidFold[];
  stands: Stand[];
}

export interface Piece {
  name: string;
  width: number;
  height: number;
  flutes: string;
  strokes: { meaning: string; name: string; role: string; d: string }[];
  zones: { name: string; d: string }[];
  panels: FlatPanel[];
  stations: [number[], number[]];
  solid: Solid;
}

export interface Step {
  name: string;
  piece?: number;
  bends?: Record<string, [number, number]>;
  gather?: [number, number][];
  from?: Vector;
}

export interface Spot {
  piece: number;
  panel: string;
  at?: [number, number];
}

export interface Scene {
  thickness: number;
  looks: Look[];
  pieces: Piece[];
  steps: Step[];
  measures: string;
  spots: (Spot | null)[];
}

export type Lengths = Partial<Record<"L" | "B" | "H", number>>;

export interface Finding {
  check: string;
  severity: string;
  place: string;
  message: string;
  measured: number | null;
  limit: number | null;
  source: string;
}

export interface PieceReport {
  name: string;
  count: number;
  blank: { width: number; height: number; area: number };
  cut_length: number;
  crease_length: number;
  perforation_length: number;
  cut_crease_length: number;
}

export interface StackAnswer {
  verdict: string;
  required_N: number;
  available_N: number;
  compression_N: number;
  margin: number | null;
  margin_range: [number | null, number | null];
  chance: number | null;
  factors: { name: string; condition: string; factor: number }[];
  losses: { name: string; condition: string; factor: number }[];
  layers: number;
  per_layer: number | null;
  pallets: number;
  assumed: string[];
  findings: { severity: string; message: string }[];
  cautions: string[];
}

// What is said of the stack, or what the load leaves open.
export type Stack = StackAnswer | { asked: { where: string; text: string }[] };

export interface Report {
  style: string;
  name: string;
  ok: boolean;
  inside: Lengths;
  crease: Lengths;
  outside: Lengths;
  fourth: number | null;
  board: { name: string; wall: string; calliper: number; design_thickness: number };
  options: Record<string, Value>;
  pieces: PieceReport[];
  sizes: { name: string; value: number; derivation: string }[];
  fold: { inside: Lengths; clear: Lengths };
  failures: string[];
  findings: Finding[];
  stack?: Stack;
}

export interface FormField {
  name: string;
  kind: "length" | "angle" | "number" | "count" | "choice" | "switch";
  unit: string;
  help: string;
  why: string;
  source: string;
  default: Value;
  low: number | null;
  high: number | null;
  choices: { value: string; words: string }[];
  asked: Value | null;
}

export interface FormData {
  fourth: { name: string; help: string; default: number | null } | null;
  fields: FormField[];
}

export interface Board {
  name: string;
  wall: string;
  flutes: string;
  thickness: number;
  grammage: number | null;
  note: string;
}

export interface Answer {
  job: JobData;
  style: { code: string; title: string; summary: string; use: string; source: string };
  grammage: number | null;
  own_boards: Board[];
  report: Report;
  scene: Scene;
  form: FormData;
}

export interface StyleEntry {
  code: string;
  title: string;
  group: string;
  example: string;
  thickness: [number, number];
  tops: string[];
}

export interface Catalogue {
  styles: StyleEntry[];
  broken: { code: string; reason: string }[];
  boards: Board[];
  formats: Record<string, string>;
}

export interface FileText {
  name: string;
  kind: string;
  media: string;
  text: string;
}

export interface Watched {
  watching: boolean;
  seen: string;
  name?: string;
  job?: JobData | null;
  error?: Failure["error"];
}

// What the server, or the one-file page, starts the page with.
export interface Given {
  live: boolean;
  watching?: boolean;
  seen?: string;
  name?: string;
  job?: JobData | null;
  answer?: Answer;
  error?: Failure["error"];
  files?: FileText[];
}
