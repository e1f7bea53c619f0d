import { solveSquare } from "../../numerics/index.js";
import { langevin } from "../particle/langevin.js";
import { requirePositive } from "../particle/ranges.js";
import { type PeriodicField, sampleField } from "../signal/periodic-field.js";
import { debyeMagnetisation } from "./debye.js";
import { alternatingFieldTime, fittedParallelTime, parallelTime, type TimeLaw } from "./field-dependent-times.js";
import { radauInverse, radauNodes } from "./legendre-steps.js";
import {
  type PeriodMesh,
  periodMesh,
  requireSamples,
  requireTolerance,
  stageFields,
  stepsPerInterval,
} from "./period-mesh.js";
import { largestDifference } from "./periodic-closure.js";
import { defaultSamples, type PeriodicMagnetisation } from "./periodic-magnetisation.js";

/**
 * How the time follows the field.
 * - "peak": one time for the whole period, the alternating-field fit at the peak xi
 * - "instantaneous": the constant-field form tau_par(xi(t)), as if the field of the moment had always been there
 * - "instantaneous-fit": the same with the fitted form (low confidence: up to twice too long at large fields)
 */
export type FieldDependence = "peak" | "instantaneous" | "instantaneous-fit";

const laws: Record<Exclude<FieldDependence, "peak">, TimeLaw> = {
  instantaneous: parallelTime,
  "instantaneous-fit": fittedParallelTime,
};

const mostSteps = 2 ** 17;

/**
 * Rate equation towards the Langevin curve with a relaxation time that depends on the field.
 *   dM/dt = (L(xi(t)) - M) / tau(xi(t))
 *
 * @param field  drive, with or without bias
 * @param particle.xiPerTesla  1/T; @param particle.brownTime_s  zero-field Brown time, s
 * @returns M/Ms, [samples]
 *
 * Valid for   a cheap stand-in for `brownianMagnetisation`, right in the linear and quasi-static limits; between them its
 *             error is that of the law (docs of each), to be judged against the Fokker-Planck solution
 * Source      rate equation: derived from the Debye form; laws: see field-dependent-times.ts
 * Checked by  field-dependent.test.ts (limits), checks/relaxation (general solver)
 */
export function fieldDependentMagnetisation(
  field: PeriodicField,
  particle: { readonly xiPerTesla: number; readonly brownTime_s: number },
  options: { readonly dependence: FieldDependence; readonly samples?: number; readonly tolerance?: number },
): PeriodicMagnetisation {
  const { dependence, samples = defaultSamples, tolerance = 1e-7 } = options;
  const { xiPerTesla: k, brownTime_s } = particle;
  requirePositive(k, "xiPerTesla", "880.9 (25 nm, 446 kA/m)");
  requireTolerance(tolerance);
  requirePositive(brownTime_s, "brownTime_s", "3.8e-4");
  if (dependence !== "peak")
    return instantaneous(field, particle, { law: laws[dependence], samples: requireSamples(samples), tolerance });
  const peak_T = sampleField(field, 4096).reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  const relaxationTime_s = brownTime_s * alternatingFieldTime(k * peak_T);
  const equilibrium = (field_T: Float64Array) => field_T.map((value) => langevin(k * value));
  return debyeMagnetisation(field, equilibrium, { relaxationTime_s, samples, tolerance });
}

/** Radau IIA of order 5, meshes refined until two agree; one unknown, so the period closes by one division. */
function instantaneous(
  field: PeriodicField,
  { xiPerTesla, brownTime_s }: { readonly xiPerTesla: number; readonly brownTime_s: number },
  { law, samples, tolerance }: { law: TimeLaw; samples: number; tolerance: number },
): PeriodicMagnetisation {
  const perInterval = stepsPerInterval(field, samples);
  let coarse: Float64Array | undefined;
  for (let level = 0; ; level++) {
    const mesh = periodMesh(field.period_s, perInterval, level);
    const xi = stageFields(field, mesh, radauNodes).map((value) => xiPerTesla * value);
    const magnetisation = closedPeriod(mesh, {
      target: xi.map(langevin),
      time_s: xi.map((value) => brownTime_s * law(value)),
    });
    const steps = mesh.step_s.length;
    const errorEstimate = coarse === undefined ? Number.POSITIVE_INFINITY : largestDifference(magnetisation, coarse);
    const isDone = errorEstimate <= tolerance;
    if (isDone || (coarse !== undefined && 2 * steps > mostSteps))
      return {
        magnetisation,
        outcome: isDone ? "converged" : "iteration-limit",
        detail: { periods: 1, moments: 1, steps, errorEstimate },
      };
    coarse = magnetisation;
  }
}

/** Each step is M -> a + b M; the period composes them and its fixed point starts the periodic state. */
function closedPeriod(
  { step_s, sampleStep }: PeriodMesh,
  { target, time_s }: { target: Float64Array; time_s: Float64Array },
): Float64Array {
  const maps = Array.from(step_s, (h, s) => stepMap(h, target.subarray(3 * s, 3 * s + 3), time_s.subarray(3 * s)));
  let a = 0;
  let b = 1;
  for (const map of maps) {
    a = map.a + map.b * a;
    b *= map.b;
  }
  let m = a / (1 - b);
  const ends = Float64Array.from(maps, (map) => {
    m = map.a + map.b * m;
    return m;
  });
  return Float64Array.from(sampleStep, (step) => ends[step]);
}

function stepMap(h: number, target: Float64Array, time_s: Float64Array): { a: number; b: number } {
  const matrix = Float64Array.from(radauInverse);
  for (let i = 0; i < 3; i++) matrix[4 * i] += h / time_s[i];
  const driven = solve(
    matrix,
    Float64Array.from({ length: 3 }, (_, i) => (h / time_s[i]) * target[i]),
  );
  // Row sums of the Radau inverse: what a start of 1 contributes.
  const free = solve(
    matrix,
    Float64Array.from({ length: 3 }, (_, i) => radauInverse[3 * i] + radauInverse[3 * i + 1] + radauInverse[3 * i + 2]),
  );
  return { a: driven[2], b: free[2] };
}

function solve(matrix: Float64Array, right: Float64Array): Float64Array {
  // Rows scaled to a diagonal near 1, so that a stiff stage does not look singular to the pivot test.
  const scale = [0, 4, 8].map((i) => 1 / (1 + Math.abs(matrix[i])));
  const solution = solveSquare(
    matrix.map((value, i) => value * scale[Math.floor(i / 3)]),
    right.map((value, i) => value * scale[i]),
  );
  // W plus a positive diagonal has a positive symmetric part in the Radau metric: it is never singular.
  if (solution === undefined) throw new RangeError("stage equations without a solution");
  return solution;
}
