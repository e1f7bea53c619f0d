import type { Unit } from "./grammar.js";
import type { QuantityKind } from "./kinds.js";
import type { Mark } from "./symbols.js";

/** Marks that a kind demands. A unit with any other mark is refused, and so is one without them. */
const requiredMarks: Partial<Record<QuantityKind, readonly Mark[]>> = {
  angle: ["angle"],
  activity: ["activity"],
  doseEquivalent: ["equivalent dose"],
  dosePerActivity: ["equivalent dose", "activity"],
};

/** Marks that a kind allows without demanding them. */
const allowedMarks: Partial<Record<QuantityKind, readonly Mark[]>> = {
  dimensionless: ["ratio"],
  fraction: ["ratio"],
  samplingRate: ["samples"],
  rate: ["counts"],
};

/** Kinds that take a bare number: "2" rather than "2 mT". */
export function takesBareNumber(kind: QuantityKind): boolean {
  return kind === "dimensionless" || kind === "fraction";
}

/** Kinds carried as mu0*H that also take a field strength in A/m (decision 0001). */
export function takesFieldStrength(kind: QuantityKind): boolean {
  return kind === "appliedField" || kind === "fieldGradient";
}

/** Do the symbols suit the kind, their dimension being right already? */
export function suitsKind(unit: Unit, kind: QuantityKind): boolean {
  const required = requiredMarks[kind] ?? [];
  const allowed = [...required, ...(allowedMarks[kind] ?? [])];
  if (!unit.marks.every((mark) => allowed.includes(mark))) return false;
  if (!required.every((mark) => unit.marks.includes(mark))) return false;
  // mg/kg and mm/m have one dimension: a plain number takes neither, a ratio of masses only the first.
  if (takesBareNumber(kind)) return unit.symbols.length <= 1;
  if (kind === "massRatio") return unit.symbols.length > 0 && unit.symbols.every((symbol) => symbol === "g");
  return true;
}

/** What to do about a unit that is often written where this kind is due; empty when we know nothing to say. */
export function adviceOnKind(unit: Unit, kind: QuantityKind): string {
  const fits = (test: RegExp): boolean => test.test(unit.symbols.join(" "));
  if (kind === "magnetisation" && fits(/^[TG]$/)) return 'mu0*M in tesla is written with its mu0: "0.6 T/mu0"';
  if (kind === "magnetisation" && fits(/g/)) return "per mass: multiply by the density first";
  if (kind === "massMagnetisation" && fits(/m$|T/)) return "per volume: divide by the density first";
  if (kind === "massConcentration" && fits(/mol/)) return "1 mmol/L of Fe is 0.055845 mg/mL";
  if (kind === "molarConcentration" && fits(/^g/)) return "1 mg/mL of Fe is 17.907 mmol/L";
  if (kind === "frequency" && unit.marks.includes("angle")) return "divide an angular frequency by 2 pi, write Hz";
  if (kind === "activity") return "an activity is written in Bq or Ci, a count rate is another thing";
  if (kind === "doseEquivalent") return "an equivalent dose is written in Sv";
  if (kind === "angle") return "an angle is written with deg or rad";
  if (kind === "massRatio" && unit.marks.includes("ratio")) return "say of what mass: mg/kg, ug/g";
  if (kind === "samplingRate" && fits(/^S/)) return "samples per second are S/s, kS/s, MS/s, GS/s, alone";
  return "";
}
