import type { GridMap } from "../imaging/index.js";
import type { RampName } from "./colour-ramp.js";

/** How a map's values are coloured and named: symmetric about zero, so that a negative rim can't hide. */
export interface MapScale {
  readonly ramp: RampName;
  /** Full scale, in the map's own unit. */
  readonly limit: number;
  /** Shown = value × factor. */
  readonly factor: number;
  readonly unit: string;
  readonly quantity: string;
}

/** The next of 1, 1.5, 2, 3, 4, 5, 6, 8 times a power of ten. */
export function roundUp(value: number): number {
  if (!(value > 0) || !Number.isFinite(value)) return 1;
  const power = Math.floor(Math.log10(value));
  const step = [1, 1.5, 2, 3, 4, 5, 6, 8, 10].find((each) => each * 10 ** power >= value * (1 - 1e-9));
  return Number(`${step ?? 10}e${power}`);
}

const superscript = (n: number): string =>
  [...String(n)]
    .map((c) => (c === "-" ? "\u207b" : "\u2070\u00b9\u00b2\u00b3\u2074\u2075\u2076\u2077\u2078\u2079"[Number(c)]))
    .join("");

export function mapScale(
  map: GridMap,
  limit = roundUp(map.values.reduce((m, v) => Math.max(m, Math.abs(v)), 0)),
): MapScale {
  if (map.kind === "iron") {
    // kg/m3 and mg/mL are the same number.
    const inMicro = limit < 0.1;
    return {
      ramp: "iron",
      limit,
      factor: inMicro ? 1e3 : 1,
      unit: inMicro ? "\u00b5g Fe/mL" : "mg Fe/mL",
      quantity: "Iron",
    };
  }
  const power = 3 * Math.floor(Math.log10(limit) / 3);
  const unit = power === 0 ? "A m\u00b2/T" : `10${superscript(power)} A m\u00b2/T`;
  return { ramp: "signal", limit, factor: 10 ** -power, unit, quantity: "Signal" };
}
