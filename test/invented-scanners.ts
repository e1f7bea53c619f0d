import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { parseDocument, type ScannerModel } from "../src/documents/index.js";
import { type LoadedSweep, readScanner } from "../src/workbench/index.js";

/** Scanners that the tests of this folder and of the sweep are made with; invented. */
export const shippedNames = ["mouse-point", "rat-line", "head-concept"] as const;

export const shippedFile = (path: string): string => fileURLToPath(new URL(`../shipped/${path}`, import.meta.url));

export const shippedScanner = (name: (typeof shippedNames)[number]): ScannerModel =>
  readScanner(shippedFile(`scanners/${name}.json`));

type Part = Readonly<Record<string, unknown>>;

/** An ideal point scanner of 60 mm bore, with parts of its document replaced. */
export function idealDocument(parts: Part = {}): Part {
  return {
    schema: "urn:ferrule:scanner:1",
    name: "ideal",
    origin: { kind: "invented", note: "For a test." },
    boreDiameter: "60 mm",
    topology: "field-free-point",
    selectionField: { kind: "ideal", gradient: ["-3.5 T/m", "-3.5 T/m", "7 T/m"] },
    driveAxes: [{ axis: "z", maximumAmplitude: "20 mT", frequency: "25 kHz" }],
    shiftFields: [],
    receive: [receiveDocument()],
    ...parts,
  };
}

/** A receive channel with one stated sensitivity and noise. */
export function receiveDocument(parts: Part = {}): Part {
  return {
    axis: "z",
    sensitivity: "31.4159265358979 uT/A",
    polarity: 1,
    noise: "1 nV/Hz^0.5",
    removesFundamental: false,
    ...parts,
  };
}

/** Two opposed loops sqrt(3) radii apart. */
export function maxwellPair({ radius_m, current_A }: { radius_m: number; current_A: number }): Part {
  const coil = (name: string, sign: number) => ({
    name,
    current: `${sign * current_A} A`,
    coil: {
      windings: [
        {
          kind: "loop",
          center: ["0 m", "0 m", `${(sign * Math.sqrt(3) * radius_m) / 2} m`],
          normal: "z",
          radius: `${radius_m} m`,
          turns: 1,
        },
      ],
    },
  });
  return { kind: "sources", coils: [coil("upper", 1), coil("lower", -1)] };
}

export const scannerFrom = (document: Part): ScannerModel =>
  parseDocument(JSON.stringify(document), { family: "scanner" }).model;

export const idealScanner = (parts: Part = {}): ScannerModel => scannerFrom(idealDocument(parts));

interface SweepParts {
  readonly scanners: readonly ScannerModel[];
  readonly over: Part;
  /** Parts of each case beside its name; in the order of the scanners. */
  readonly cases?: readonly Part[];
  readonly parts?: Part;
  /** A tracer document below shipped/; ideal 25 nm cores when absent. */
  readonly tracer?: string;
}

/** A sweep of scanners in memory. */
export function sweepOf({ scanners, over, cases = [], parts = {}, tracer }: SweepParts): LoadedSweep {
  const document = {
    schema: "urn:ferrule:sweep:1",
    name: "sweep",
    origin: { kind: "invented", note: "For a test." },
    tracer: "tracer.json",
    scanTime: "1 s",
    cases: scanners.map((_, i) => ({ name: `case ${i + 1}`, scanner: "scanner.json", ...cases[i] })),
    over,
    ...parts,
  };
  const file = shippedFile(tracer ?? "studies/four-spheres/tracer/langevin-25-nm.json");
  return {
    sweep: parseDocument(JSON.stringify(document), { family: "sweep" }).model,
    tracer: parseDocument(readFileSync(file, "utf8"), { family: "tracer" }).model,
    scanners,
  };
}
