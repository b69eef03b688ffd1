// Lengths as people read and write them. Inside the page everything is in mm.

export type Unit = "mm" | "in";

const MM_PER_INCH = 25.4; // exact by definition
const FACTORS: Record<string, number> = { mm: 1, cm: 10, in: MM_PER_INCH, inch: MM_PER_INCH, '"': MM_PER_INCH };
const LENGTH = /^([+-]?)(?:(\d+)[ -]+)?(?:(\d+)\/(\d+)|(\d*[.,]?\d+|\d+[.,]))\s*(mm|cm|inch|in|")?$/i;

// A length in mm; null for what cannot be read (the server then says what is wrong with it).
export function readLength(text: string, unit: Unit): number | null {
  const found = LENGTH.exec(text.trim());
  if (!found) return null;
  const [, sign, whole, over, under, plain, own] = found;
  if (whole !== undefined && over === undefined) return null;
  const value = over === undefined ? Number(plain!.replace(",", ".")) : Number(whole ?? 0) + Number(over) / Number(under);
  const mm = value * FACTORS[(own ?? unit).toLowerCase()]!;
  return Number.isFinite(mm) ? round(sign === "-" ? -mm : mm, 6) : null;
}

export function readNumber(text: string): number | null {
  const value = Number(text.trim().replace(",", "."));
  return text.trim() !== "" && Number.isFinite(value) ? value : null;
}

export function round(value: number, digits: number): number {
  return Number(value.toFixed(digits));
}

// A length without its unit, as short as it may be: 0.01 mm, or 0.001 in.
export function lengthText(mm: number, unit: Unit): string {
  return unit === "mm" ? String(round(mm, 2)) : String(round(mm / MM_PER_INCH, 3));
}

// The same as a field holds it: so exact that reading it gives the same length again.
export function fieldText(mm: number, unit: Unit): string {
  return unit === "mm" ? String(round(mm, 4)) : String(round(mm / MM_PER_INCH, 6));
}

export function withUnit(mm: number, unit: Unit): string {
  return `${lengthText(mm, unit)} ${unit}`;
}

// A long way: rule and crease lengths.
export function wayText(mm: number, unit: Unit): string {
  return unit === "mm" ? `${(mm / 1000).toFixed(3)} m` : `${(mm / MM_PER_INCH).toFixed(1)} in`;
}

export function areaText(squareMetres: number, unit: Unit): string {
  return unit === "mm" ? `${squareMetres.toFixed(4)} m²` : `${(squareMetres * 10.7639104).toFixed(3)} sq ft`;
}

export function massText(kilograms: number, unit: Unit): string {
  if (unit === "in") return `${(kilograms / 0.45359237).toFixed(3)} lb`;
  return kilograms < 1 ? `${(kilograms * 1000).toFixed(1)} g` : `${kilograms.toFixed(3)} kg`;
}

// The lengths in a derivation stay in mm: there they are counted with.
export function timesText(values: (number | undefined)[], unit: Unit): string {
  return values.map((value) => (value === undefined ? "–" : lengthText(value, unit))).join(" × ");
}
