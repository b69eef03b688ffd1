// Questions to the server. Every refusal comes in one shape and is thrown as a Refused.

import type { Answer, Catalogue, Failure, FileText, FormData, JobData, Problem, Watched } from "./answer";

export class Refused extends Error {
  constructor(
    readonly kind: string,
    readonly problems: Problem[],
  ) {
    super(problems.map((problem) => problem.text).join("; "));
  }
}

export const askDraw = (job: JobData, signal: AbortSignal): Promise<Answer> => post("draw", job, signal);
export const askForm = (job: JobData, signal: AbortSignal): Promise<FormData> => post("form", job, signal);
export const askCatalogue = (): Promise<Catalogue> => get("catalogue");
export const askWatched = (seen: string): Promise<Watched> => get(`watched?seen=${encodeURIComponent(seen)}`);

export async function askFiles(job: JobData, kind: string): Promise<FileText[]> {
  const found = await post<{ files: FileText[] }>("files", { job, kind });
  return found.files;
}

export function problem(text: string, where = ""): Problem {
  return { where, what: text, must: "", cure: "", line: null, text };
}

function post<T>(verb: string, data: unknown, signal?: AbortSignal): Promise<T> {
  const body = JSON.stringify(data);
  return answered(`/api/${verb}`, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body,
    ...(signal ? { signal } : {}),
  });
}

function get<T>(place: string): Promise<T> {
  return answered(`/api/${place}`, {});
}

async function answered<T>(address: string, request: RequestInit): Promise<T> {
  let reply: Response;
  try {
    reply = await fetch(address, request);
  } catch (error) {
    if (error instanceof DOMException && error.name === "AbortError") throw error;
    const words = "the preview does not answer; start it again where you started it, then change anything";
    throw new Refused("gone", [problem(words)]);
  }
  const data: unknown = await reply.json();
  if (reply.ok) return data as T;
  const { error } = data as Failure;
  throw new Refused(error.kind, error.problems);
}
