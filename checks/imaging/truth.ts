import { readFileSync } from "node:fs";
import type { Axis } from "../../src/physics/index.js";

interface Truth {
  readonly N14: Readonly<Record<"momentRate_A_m2_per_s" | "loop_T_per_A" | "voltage_V", string>>;
  readonly harmonics: readonly { row: string; xi0: number; n: number[]; value: string[] }[];
  readonly step: readonly { n: number; y: number; value: string }[];
  readonly widths_mm: Readonly<Record<"x" | "z", Readonly<Record<Axis, string>>>>;
  readonly integrals: readonly { half_mm: number; value_mm3: number }[];
}

export const truth: Truth = JSON.parse(readFileSync(new URL("./truth.json", import.meta.url), "utf8"));
