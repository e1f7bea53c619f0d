import { readFileSync } from "node:fs";
import {
  diameterMoment,
  type LogNormalSizes,
  type ParticleEnsemble,
  relativeMagnetisation,
  relativeSlope_per_T,
  staticTransverseWidth_T,
  staticWidth_T,
  xiPerTesla,
} from "../../src/physics/index.js";

/** Shared by the gate and the meter: relative errors of averages over log-normal sizes against high-precision quadrature. */
type Row = readonly (string | number)[];
const truth: Record<string, readonly Row[]> = JSON.parse(
  readFileSync(new URL("./truth.json", import.meta.url), "utf8"),
);

const median_m = 20e-9;
const saturation_A_per_m = 446e3;
const temperature_K = 300;
/** xi of the median core per tesla: takes the dimensionless table to fields and back. */
const k = xiPerTesla(median_m, saturation_A_per_m, temperature_K);

export interface Comparison {
  readonly quantity: string;
  readonly logSd: string;
  readonly at: string;
  readonly relativeError: number;
}

export function curveErrors(): Comparison[] {
  return rows("curves: logSd, xi0, M/Ms, d(M/Ms)/dxi0").flatMap(([logSd, xi0, m, slope]) => {
    const field_T = Float64Array.of(Number(xi0) / k);
    const particles = ensemble(Number(logSd));
    return [
      compare("M/Ms", [logSd, xi0], relativeMagnetisation(field_T, particles)[0] / Number(m)),
      compare("slope", [logSd, xi0], relativeSlope_per_T(field_T, particles)[0] / k / Number(slope)),
    ];
  });
}

export function momentErrors(): Comparison[] {
  return rows("moments: logSd, order, <(d/d0)^order>").map(([logSd, order, value]) => {
    const found = diameterMoment(sizes(Number(logSd)), Number(order)) / median_m ** Number(order);
    return compare("moment", [logSd, order], found / Number(value));
  });
}

export function widthErrors(): Comparison[] {
  return rows("widths in xi0: logSd, along, across").flatMap(([logSd, along, across]) => {
    const particles = ensemble(Number(logSd));
    return [
      compare("width along", [logSd, "half height"], (staticWidth_T(particles) * k) / Number(along)),
      compare("width across", [logSd, "half height"], (staticTransverseWidth_T(particles) * k) / Number(across)),
    ];
  });
}

function rows(name: string): readonly Row[] {
  const found = truth[name];
  if (found === undefined) throw new Error(`truth.json has no table "${name}"`);
  return found;
}

function sizes(logSd: number): LogNormalSizes {
  return { kind: "lognormal", weighting: "number", medianDiameter_m: median_m, logSd };
}

function ensemble(logSd: number): ParticleEnsemble {
  return { sizes: sizes(logSd), saturation_A_per_m, temperature_K };
}

function compare(quantity: string, where: readonly (string | number | undefined)[], ratio: number): Comparison {
  return { quantity, logSd: String(where[0]), at: String(where[1]), relativeError: Math.abs(ratio - 1) };
}
