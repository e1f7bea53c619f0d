import { FerruleError } from "../../errors.js";
import { finishSteps, partOf, type Steps } from "../../numerics/index.js";
import { chainHistory } from "../chains/chain-magnetisation.js";
import { meanFieldDynamics } from "../chains/mean-field-dynamics.js";
import { langevin } from "../particle/langevin.js";
import { ensembleNodes, relativeMagnetisation } from "../particle/magnetisation.js";
import { brownianEnsembleSteps } from "../relaxation/brownian-fokker-planck.js";
import { debyeMagnetisation } from "../relaxation/debye.js";
import { fieldDependentMagnetisation } from "../relaxation/field-dependent.js";
import type { BrownianKernel } from "../relaxation/legendre-steps.js";
import { neelMagnetisation } from "../relaxation/neel-fokker-planck.js";
import { neelAtAngle } from "../relaxation/neel-random-axes.js";
import type { PeriodicMagnetisation } from "../relaxation/periodic-magnetisation.js";
import { arrheniusTime_s, barrierRatio, brownTime_s, combinedTime_s } from "../relaxation/relaxation-times.js";
import { type PeriodicField, sampleField } from "./periodic-field.js";
import { resamplePeriod } from "./resample-period.js";
import {
  type CoreNode,
  type DrivenTracer,
  hydrodynamicSizes,
  neelParticle,
  type ResponsePart,
  responseParts,
} from "./response-parts.js";

export interface PeriodicResponseOptions {
  /** Samples per period. */
  readonly samples?: number;
  /** Stand-in for the Brownian hot loop. */
  readonly kernel?: BrownianKernel | undefined;
}

/**
 * Steady magnetisation of a tracer under a periodic drive, by the relaxation that the tracer states.
 *   none: equilibrium at every instant (chains: the branch that history leaves them on)
 *   debye, combined: exponential memory of the equilibrium, for all cores or for each size
 *   field-dependent: rate equation; brownian, neel: Fokker-Planck for each size
 * Sizes are averaged by moment.
 *
 * @param field  drive along the observed axis
 * @returns M/Ms at even times of one period, [samples]
 * @throws FerruleError NotExecutable for chains with a relaxation that their mean field does not have
 *
 * Valid for   as the model of each kind; spectra and widths from it are those of that model at that drive
 * Source      see the files of the models
 * Checked by  periodic-response.test.ts (each kind against its own model and limits)
 */
export function* periodicResponseSteps(
  field: PeriodicField,
  tracer: DrivenTracer,
  options: PeriodicResponseOptions = {},
): Steps<PeriodicMagnetisation> {
  const parts = responseParts(tracer);
  const each: PeriodicMagnetisation[] = [];
  for (const part of parts) {
    const [from, to] = [each.length / parts.length, (each.length + 1) / parts.length];
    each.push(yield* partOf(respondPartSteps(field, part, options), from, to));
    yield to;
  }
  return combineResponses(parts, each);
}

/** `periodicResponseSteps` run to its end. */
export function periodicResponse(
  field: PeriodicField,
  tracer: DrivenTracer,
  options: PeriodicResponseOptions = {},
): PeriodicMagnetisation {
  return finishSteps(periodicResponseSteps(field, tracer, options));
}

/** A width or a harmonic is asked to four digits. */
const eachTolerance = 1e-6;

/** One axis of one size is solved at 64 samples to 1e-4 of M/Ms, and drawn to those asked for. */
const axisOptions = { samples: 64, tolerance: 1e-4 } as const;

/** The response of one part, M/Ms of its particles. */
export function* respondPartSteps(
  field: PeriodicField,
  part: ResponsePart,
  { samples = 1024, kernel }: PeriodicResponseOptions = {},
): Steps<PeriodicMagnetisation> {
  const options = { samples, tolerance: eachTolerance };
  switch (part.kind) {
    case "whole":
      return wholeResponse(field, part.tracer, samples);
    case "brownian":
      return yield* brownianEnsembleSteps(field, part.particles, {
        ...options,
        ...(kernel === undefined ? {} : { kernel }),
      });
    case "core":
      return coreResponse(field, part, options);
    case "neel-axis": {
      const solved = neelAtAngle(field, { ...part.particle, cosAngle: part.cosAngle }, axisOptions);
      return { ...solved, magnetisation: resamplePeriod(solved.magnetisation, samples) };
    }
  }
}

/** sum_p w_p m_p in the order of the parts; the detail holds the worst of each. */
export function combineResponses(
  parts: readonly { readonly weight: number }[],
  each: readonly PeriodicMagnetisation[],
): PeriodicMagnetisation {
  return weightedMean(
    each,
    parts.map(({ weight }) => weight),
  );
}

function wholeResponse(field: PeriodicField, tracer: DrivenTracer, samples: number): PeriodicMagnetisation {
  const { relaxation, ensemble, coupling = 0 } = tracer;
  if (coupling > 0) return chainResponse(field, tracer, samples);
  if (relaxation.kind !== "debye") return settled(relativeMagnetisation(sampleField(field, samples), ensemble));
  return debyeMagnetisation(field, (field_T) => relativeMagnetisation(field_T, ensemble), {
    relaxationTime_s: relaxation.time_s,
    samples,
    tolerance: eachTolerance,
  });
}

/** The response of one core size, for the models that are solved size by size. */
function coreResponse(
  field: PeriodicField,
  { tracer, core }: { readonly tracer: DrivenTracer; readonly core: CoreNode },
  options: { readonly samples: number; readonly tolerance: number },
): PeriodicMagnetisation {
  const { relaxation, ensemble } = tracer;
  const { diameter_m, xiPerTesla: k } = core;
  const { temperature_K } = ensemble;
  switch (relaxation.kind) {
    case "field-dependent": {
      const { zeroFieldTime_s: brownTime_s, law: dependence } = relaxation;
      return fieldDependentMagnetisation(field, { xiPerTesla: k, brownTime_s }, { ...options, dependence });
    }
    case "neel":
      return neelMagnetisation(field, neelParticle(core, ensemble, relaxation), options);
    case "combined": {
      const { anisotropy_J_per_m3, attemptTime_s, viscosity_Pa_s, hydrodynamic } = relaxation;
      const neel_s = arrheniusTime_s(barrierRatio(diameter_m, anisotropy_J_per_m3, temperature_K), attemptTime_s);
      const sizes = hydrodynamicSizes(diameter_m, hydrodynamic);
      const equilibrium = (field_T: Float64Array) => field_T.map((value) => langevin(k * value));
      const each = sizes.map((size) => {
        const brown_s = brownTime_s(size.diameter_m, viscosity_Pa_s, temperature_K);
        const relaxationTime_s = combinedTime_s(brown_s, neel_s);
        return debyeMagnetisation(field, equilibrium, { ...options, relaxationTime_s });
      });
      return combineResponses(sizes, each);
    }
    default:
      throw new RangeError(`relaxation of kind "${relaxation.kind}" is not solved size by size`);
  }
}

function weightedMean(each: readonly PeriodicMagnetisation[], weight: readonly number[]): PeriodicMagnetisation {
  const magnetisation = new Float64Array(each[0].magnetisation.length);
  for (const [j, { magnetisation: part }] of each.entries())
    for (let i = 0; i < part.length; i++) magnetisation[i] += weight[j] * part[i];
  const most = (pick: (detail: PeriodicMagnetisation["detail"]) => number) =>
    each.reduce((value, { detail }) => Math.max(value, pick(detail)), 0);
  return {
    magnetisation,
    outcome: each.find(({ outcome }) => outcome !== "converged")?.outcome ?? "converged",
    detail: {
      periods: each.reduce((sum, { detail }) => sum + detail.periods, 0),
      moments: most(({ moments }) => moments),
      steps: most(({ steps }) => steps),
      errorEstimate: most(({ errorEstimate }) => errorEstimate),
    },
  };
}

function chainResponse(
  field: PeriodicField,
  { relaxation, ensemble, coupling = 0 }: DrivenTracer,
  samples: number,
): PeriodicMagnetisation {
  const nodes = ensembleNodes(ensemble, 3);
  if (relaxation.kind === "none") {
    // The first period carries the chains from their demagnetised start into the loop that repeats.
    const once = sampleField(field, samples);
    const twice = new Float64Array(2 * samples);
    twice.set(once);
    twice.set(once, samples);
    return settled(chainHistory(twice, nodes, { kappa: coupling }).slice(samples));
  }
  if (relaxation.kind === "debye")
    return meanFieldDynamics(field, nodes, { kappa: coupling, relaxationTime_s: relaxation.time_s, samples });
  throw new FerruleError("NotExecutable", {
    path: "tracer.relaxation",
    found: `coupled chains with relaxation of kind "${relaxation.kind}"`,
    accepted: '"none" (quasi-static loop) or "debye" (one rate time), the dynamics that the mean field has',
  });
}

/** Values of a closed form: nothing was iterated. */
function settled(magnetisation: Float64Array): PeriodicMagnetisation {
  const detail = { periods: 1, moments: 1, steps: magnetisation.length, errorEstimate: 0 };
  return { magnetisation, outcome: "converged", detail };
}
