// The whole job in the address bar, so that a link reopens it: #style=0201&size=300x200x150&board=C&options.lap_width=40

import type { JobData, Value } from "./answer";

export function addressOf(job: JobData): string {
  const parts = new URLSearchParams();
  for (const [key, value] of Object.entries(job)) {
    if (key === "options") for (const [name, option] of Object.entries(job.options ?? {})) parts.set(`options.${name}`, word(option));
    else if (typeof value === "object" && value !== null) parts.set(key, JSON.stringify(value));
    else if (TEXTS.has(key)) parts.set(key, quoted(String(value)));
    else if (value !== undefined && value !== null) parts.set(key, word(value as Value));
  }
  // Readable where it may be: these need no escape behind a #.
  return "#" + parts.toString().replaceAll("%2F", "/").replaceAll("%2C", ",").replaceAll("%3A", ":");
}

// The job that an address holds; null if it holds none.
export function jobAt(hash: string): JobData | null {
  const parts = new URLSearchParams(hash.replace(/^#/, ""));
  const job: JobData = { style: "", size: "", board: "" };
  const options: Record<string, Value> = {};
  for (const [key, text] of parts) {
    if (key.startsWith("options.")) options[key.slice("options.".length)] = valueOf(text);
    else job[key] = TEXTS.has(key) ? plain(text) : JSON_START.test(text) ? parsed(text) : valueOf(text);
  }
  if (Object.keys(options).length) job.options = options;
  return job.style && job.size && job.board ? job : null;
}

const TEXTS = new Set(["style", "size", "board", "size_is", "unit", "name", "revision", "note"]);
const JSON_START = /^[[{]/;
const NUMBER = /^[+-]?\d+(\.\d+)?$/;

// Text stands as it is, unless it would be taken for something else.
function word(value: Value): string {
  if (typeof value !== "string") return String(value);
  return typeof valueOf(value) === "string" ? quoted(value) : JSON.stringify(value);
}

function quoted(text: string): string {
  return text.startsWith('"') ? JSON.stringify(text) : text;
}

function valueOf(text: string): Value {
  if (text === "true" || text === "false") return text === "true";
  if (NUMBER.test(text)) return Number(text);
  return plain(text);
}

function plain(text: string): string {
  if (!text.startsWith('"')) return text;
  const value = parsed(text);
  return typeof value === "string" ? value : text;
}

function parsed(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return text;
  }
}
