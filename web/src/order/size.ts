// A size as the order holds it, "355x205x120/40", and its parts as the fields hold them.

export interface SizeParts {
  length: string;
  breadth: string;
  height: string;
  fourth: string;
}

export const PARTS = ["length", "breadth", "height", "fourth"] as const;
export type Part = (typeof PARTS)[number];

export function partsOf(size: string): SizeParts {
  const [length = "", breadth = "", rest = ""] = size.split(/\s*[xX×*]\s*/);
  const [height = "", fourth = ""] = rest.split("/");
  return { length, breadth, height, fourth };
}

export function sizeOf({ length, breadth, height, fourth }: SizeParts): string {
  return `${length}x${breadth}x${height}${fourth ? `/${fourth}` : ""}`;
}

// Which part a problem with the size speaks of; null for the size as a whole.
export function partAt(where: string): Part | null {
  return PARTS.find((part) => where.includes(part)) ?? null;
}
