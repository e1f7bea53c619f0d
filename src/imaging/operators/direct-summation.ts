import { finishSteps, type Steps } from "../../numerics/index.js";
import { axisIndex, collinearSlope, type StaticResponse } from "../../physics/index.js";
import { drivePhase, type LineRaster, positionAt, slowAxes } from "../acquisition/line-raster.js";
import type { PointSources } from "../acquisition/point-sources.js";

export interface DirectSummationProblem {
  readonly raster: LineRaster;
  /** Diagonal gradient, T/m. */
  readonly gradient_T_per_m: readonly [number, number, number];
  readonly sensitivity_T_per_A: number;
  readonly response: StaticResponse;
}

/**
 * Noise-free, unfiltered voltage of points of iron: the definition that every shortcut is compared with.
 *
 *   u(t) = S A ω sin θ Σ_i m_i dm_z/dB_z(B_i(t)),  B_i(t) = G·(r_i − r_line,patch) + A cos θ ê_d
 *
 * @returns [linesB × linesA × patches × samplesPerPeriod], V, one averaged period per patch
 *
 * Valid for   an ideal diagonal gradient and an adiabatic response
 * Source      signal equation facts S6 with N13's convention; M15-M17 (from memory)
 * Checked by  direct-summation.test.ts (N14; a moving dipole differentiated numerically)
 */
export function directSummation(points: PointSources, problem: DirectSummationProblem): Float64Array {
  return finishSteps(directSummationSteps(points, problem));
}

/** The same line by line, for slices, progress and Ctrl-C. */
export function* directSummationSteps(points: PointSources, problem: DirectSummationProblem): Steps<Float64Array> {
  const { raster } = problem;
  const n = raster.samplesPerPeriod;
  const { a, b } = raster.lines;
  const out = new Float64Array(a.count * b.count * raster.patches.count * n);
  const world = [points.x_m, points.y_m, points.z_m];
  const [axisA, axisB] = slowAxes(raster.driveAxis).map(axisIndex);
  const axisD = axisIndex(raster.driveAxis);
  const [pA, pB, pD] = [world[axisA], world[axisB], world[axisD]];
  const [gA, gB, gD] = [axisA, axisB, axisD].map((axis) => problem.gradient_T_per_m[axis]);
  const across2 = new Float64Array(points.iron_kg.length);
  let frame = 0;
  for (let ib = 0; ib < b.count; ib++)
    for (let ia = 0; ia < a.count; ia++) {
      yield (ib * a.count + ia) / (a.count * b.count);
      for (let i = 0; i < across2.length; i++)
        across2[i] = (gA * (pA[i] - positionAt(a, ia))) ** 2 + (gB * (pB[i] - positionAt(b, ib))) ** 2;
      for (let p = 0; p < raster.patches.count; p++, frame++)
        sumPeriod(problem, points.iron_kg, pD, across2, gD, positionAt(raster.patches, p), out, frame * n);
    }
  return out;
}

function sumPeriod(
  { raster, sensitivity_T_per_A, response }: DirectSummationProblem,
  iron_kg: Float64Array,
  along_m: Float64Array,
  across2: Float64Array,
  gradientD: number,
  patch_m: number,
  out: Float64Array,
  start: number,
): void {
  const n = raster.samplesPerPeriod;
  const speed = sensitivity_T_per_A * raster.driveAmplitude_T * 2 * Math.PI * raster.frequency_Hz;
  for (let j = 0; j < n / 2; j++) {
    const theta = drivePhase(j, n);
    const drive_T = raster.driveAmplitude_T * Math.cos(theta);
    let sum = 0;
    for (let i = 0; i < iron_kg.length; i++)
      sum += iron_kg[i] * collinearSlope(response, gradientD * (along_m[i] - patch_m) + drive_T, across2[i]);
    // The way back passes the same fields with the opposite speed.
    out[start + j] = speed * Math.sin(theta) * sum;
    out[start + n - 1 - j] = -out[start + j];
  }
}
