import {
  type AcSusceptibility,
  brownSusceptibility,
  debyeSusceptibility,
  ensembleHarmonics,
  fitChain,
  fitFreeForm,
  fitHarmonics,
  fitJoint,
  fitLogNormal,
  fitMixture,
  fitSusceptibility,
  type HarmonicSpectrum,
  harmonicResponse,
  type MagnetisationCurve,
  type TracerFit,
} from "../../src/measure/index.js";
import { findRoot, normalCdf, type RandomStream, stream } from "../../src/numerics/index.js";
import {
  brownTime_s,
  chainMagnetisation,
  relativeMagnetisation,
  sizeNodes,
  xiPerTesla,
} from "../../src/physics/index.js";

/**
 * Invented tracers measured again and again with new noise: shared by the campaign of thousands and by the smoke test of
 * forty. The data come from the physics layer, sizes in the fits' own words.
 */
export const coverageModels = [
  "log-normal",
  "mixture",
  "free-form",
  "chain",
  "harmonics",
  "susceptibility",
  "joint",
] as const;
export type CoverageModel = (typeof coverageModels)[number];

/** One parameter of one replica. */
export interface Reading {
  readonly name: string;
  readonly truth: number;
  readonly value: number;
  /** Standard uncertainty, NaN where the fit gives none. */
  readonly u: number;
  /** 95 % interval: value +- 1.96 u, or the fit's own range where it has one. */
  readonly interval: readonly [number, number];
}

export interface Replica {
  readonly readings: readonly Reading[];
  readonly outcome: string;
  /** What else is worth counting, by name. */
  readonly flags: Readonly<Record<string, boolean>>;
}

/** Seeds are this plus the index, and never change. */
const seedOf = (index: number): number => 200_000 + index;
/** 97.5 % of the normal distribution. */
const twoSided = 1.959963985;

const core = { coreSaturation_A_per_m: 446e3, temperature_K: 300 };
const ensemble = { saturation_A_per_m: core.coreSaturation_A_per_m, temperature_K: core.temperature_K };
const origin = { assumptions: [], findings: [] };
const geometric = (from: number, to: number, n: number) =>
  Float64Array.from({ length: n }, (_, i) => from * (to / from) ** (i / (n - 1)));

interface Population {
  readonly saturation: number;
  readonly median_m: number;
  readonly logSd: number;
}

function curveOf(
  field_T: Float64Array,
  clean: Float64Array,
  { noise, source }: { noise: number; source: RandomStream },
): MagnetisationCurve {
  return {
    name: "invented",
    field_T,
    magnetisation: clean.map((value) => value + noise * source.normal()),
    sigma: new Float64Array(field_T.length).fill(noise),
    magnetisationUnit: "A.m2/kg",
    basis: "per-iron-mass",
    ...core,
    ...origin,
  };
}

function populationsCurve(field_T: Float64Array, populations: readonly Population[], slope: number): Float64Array {
  const sum = field_T.map((field) => slope * field);
  for (const { saturation, median_m, logSd } of populations) {
    const sizes = { kind: "lognormal", weighting: "number", medianDiameter_m: median_m, logSd } as const;
    for (const [i, m] of relativeMagnetisation(field_T, { sizes, ...ensemble }).entries()) sum[i] += saturation * m;
  }
  return sum;
}

function readingsOf({ parameters }: TracerFit, truth: Readonly<Record<string, number>>): Reading[] {
  return Object.entries(truth).map(([name, expected]) => {
    const found = parameters.find((parameter) => parameter.name === name);
    if (found === undefined) throw new Error(`the fit has no parameter ${name}`);
    const { value, standardUncertainty: u } = found;
    return { name, truth: expected, value, u, interval: [value - twoSided * u, value + twoSided * u] };
  });
}

// Fields to 7 T and a noise like those of a published curve (facts E1): see checks/curve-fit.
const longFields_T = Float64Array.from([
  ...geometric(5e-4, 1, 40),
  ...Array.from({ length: 20 }, (_, i) => 1.3 + 0.3 * i),
]);
const published: Population = { saturation: 95.45, median_m: 12.24e-9, logSd: 0.114 };
const publishedClean = populationsCurve(longFields_T, [published], 3.19);

function logNormalReplica(source: RandomStream): Replica {
  const fit = fitLogNormal(curveOf(longFields_T, publishedClean, { noise: 1.42, source }));
  const truth = { saturation: 95.45, "median-diameter": 12.24e-9, "log-sd": 0.114, "background-slope": 3.19 };
  return { readings: readingsOf(fit, truth), outcome: fit.outcome, flags: {} };
}

const fields_T = geometric(1e-4, 5, 60);
const small: Population = { saturation: 60, median_m: 7e-9, logSd: 0.2 };
const large: Population = { saturation: 40, median_m: 20e-9, logSd: 0.15 };
const twoClean = populationsCurve(fields_T, [small, large], 1);
const oneClean = populationsCurve(fields_T, [{ saturation: 100, median_m: 9e-9, logSd: 0.25 }], 1);

function mixtureReplica(source: RandomStream): Replica {
  const fit = fitMixture(curveOf(fields_T, twoClean, { noise: 0.5, source }), { populations: 2 });
  // The twin has one population: how often is it called two?
  const twin = fitMixture(curveOf(fields_T, oneClean, { noise: 0.5, source }), { populations: 2 });
  const truth = {
    saturation: 100,
    "median-diameter": 7e-9,
    "log-sd": 0.2,
    "share-2": 0.4,
    "median-diameter-2": 20e-9,
    "log-sd-2": 0.15,
    "background-slope": 1,
  };
  return {
    readings: readingsOf(fit, truth),
    outcome: fit.outcome,
    flags: {
      "two called needed": fit.comparison.verdict === "needed",
      "one called two": twin.comparison.verdict === "needed",
      "one called undecided": twin.comparison.verdict === "undecided",
    },
  };
}

/** Volume quantile of the two populations put in: shares by saturation, volume medians d exp(3 s^2). */
function trueVolumeQuantile(q: number): number {
  const below = (logD: number) =>
    [small, large].reduce((sum, { saturation, median_m, logSd }) => {
      const centre = Math.log(median_m) + 3 * logSd ** 2;
      return sum + (saturation / 100) * normalCdf((logD - centre) / logSd);
    }, 0);
  return Math.exp(findRoot((logD) => below(logD) - q, [Math.log(1e-9), Math.log(200e-9)]).root);
}

const freeFormTruth = {
  saturation: 100,
  "volume-weighted-median-diameter": trueVolumeQuantile(0.5),
  "background-slope": 1,
  "volume-weighted-diameter-10": trueVolumeQuantile(0.1),
  "volume-weighted-diameter-90": trueVolumeQuantile(0.9),
};

function freeFormReplica(source: RandomStream, index: number): Replica {
  const fit = fitFreeForm(curveOf(fields_T, twoClean, { noise: 0.5, source }), { replicas: 100, seed: seedOf(index) });
  const readings = Object.entries(freeFormTruth).map(([name, truth]): Reading => {
    const range = fit.ranges.find((each) => each.name === name);
    if (range === undefined) throw new Error(`the fit has no range ${name}`);
    return { name, truth, value: range.value, u: range.replicaSd, interval: [range.low, range.high] };
  });
  return { readings, outcome: fit.outcome, flags: { discrepancy: fit.regularisation.method === "discrepancy" } };
}

const chainFields_T = geometric(1e-4, 1, 50);

function chainClean(): Float64Array {
  const { diameter_m, weight } = sizeNodes(
    { kind: "lognormal", weighting: "number", medianDiameter_m: 10e-9, logSd: 0.2 },
    { order: 3 },
  );
  const k = diameter_m.map((d) => xiPerTesla(d, core.coreSaturation_A_per_m, core.temperature_K));
  const { magnetisation } = chainMagnetisation(chainFields_T, { xiPerTesla: k, weight }, { kappa: 1.5 });
  return magnetisation.map((m, i) => 100 * m + chainFields_T[i]);
}
const chainTruth = chainClean();

function chainReplica(source: RandomStream): Replica {
  const fit = fitChain({ ...curveOf(chainFields_T, chainTruth, { noise: 0.3, source }), branch: "initial" });
  const truth = { saturation: 100, "median-diameter": 10e-9, "log-sd": 0.2, coupling: 1.5, "background-slope": 1 };
  const atBound = fit.parameters.some((parameter) => parameter.atBound);
  return { readings: readingsOf(fit, truth), outcome: fit.outcome, flags: { "a parameter at its bound": atBound } };
}

const tracer = { kind: "lognormal", weighting: "number", medianDiameter_m: 18e-9, logSd: 0.15 } as const;
const drive = { driveAmplitude_T: 0.02, frequency_Hz: 25e3, biasField_T: 0 };
const debyeTime_s = 2e-6;

function spectrumTemplate(harmonic: Int32Array, noise: number): HarmonicSpectrum {
  return {
    name: "invented",
    harmonic,
    moment: new Float64Array(2 * harmonic.length),
    hasPhase: true,
    sigma: new Float64Array(harmonic.length).fill(noise),
    unit: "1",
    basis: "arbitrary",
    ...drive,
    ...core,
    ...origin,
  };
}

const spectrum = spectrumTemplate(Int32Array.of(1, 3, 5, 7, 9, 11, 13), 1e-3);
const response = harmonicResponse(spectrum, "debye");
const debyeOmegaTau = 2 * Math.PI * drive.frequency_Hz * debyeTime_s;
const cleanSpectrum = ensembleHarmonics({ sizes: tracer, ...ensemble }, response, {
  driveAmplitude_T: drive.driveAmplitude_T,
  harmonic: spectrum.harmonic,
  debyeOmegaTau,
});

function harmonicsReplica(source: RandomStream): Replica {
  const moment = cleanSpectrum.map((value) => value + 1e-3 * source.normal());
  const fit = fitHarmonics({ ...spectrum, moment }, { relaxation: "debye", response });
  const truth = { saturation: 1, "median-diameter": 18e-9, "log-sd": 0.15, "relaxation-time": debyeTime_s };
  return { readings: readingsOf(fit, truth), outcome: fit.outcome, flags: {} };
}

const liquid = { viscosity_Pa_s: 0.89e-3, temperature_K: 300 };
const frequencies_Hz = geometric(10, 1e5, 25);
const cleanChi = brownSusceptibility(frequencies_Hz, {
  static: 1,
  highFrequency: 0.1,
  medianTime_s: brownTime_s(60e-9, liquid.viscosity_Pa_s, liquid.temperature_K),
  logSd: 0.2,
});

function chiOf(frequency_Hz: Float64Array, clean: Float64Array, source: RandomStream): AcSusceptibility {
  const n = frequency_Hz.length;
  const noisy = clean.map((value) => value + 0.01 * source.normal());
  return {
    name: "invented",
    frequency_Hz,
    real: noisy.slice(0, n),
    imaginary: noisy.slice(n),
    sigmaReal: new Float64Array(n).fill(0.01),
    sigmaImaginary: new Float64Array(n).fill(0.01),
    unit: "1",
    basis: "per-sample-volume",
    fieldAmplitude_T: 1e-4,
    ...liquid,
    ...origin,
  };
}

function susceptibilityReplica(source: RandomStream): Replica {
  const fit = fitSusceptibility(chiOf(frequencies_Hz, cleanChi, source), { model: "brown-log-normal" });
  const truth = {
    "static-susceptibility": 1,
    "high-frequency-susceptibility": 0.1,
    "median-hydrodynamic-diameter": 60e-9,
    "log-sd-hydrodynamic": 0.2,
  };
  return { readings: readingsOf(fit, truth), outcome: fit.outcome, flags: {} };
}

const jointFields_T = geometric(1e-4, 1, 40);
const jointClean = populationsCurve(jointFields_T, [{ saturation: 100, median_m: 18e-9, logSd: 0.15 }], 1);
const jointFrequencies_Hz = geometric(1e3, 1e6, 20);
const jointChi = debyeSusceptibility(jointFrequencies_Hz, {
  static: 1,
  highFrequency: 0.1,
  relaxationTime_s: debyeTime_s,
});

function jointReplica(source: RandomStream): Replica {
  const curve = curveOf(jointFields_T, jointClean, { noise: 0.5, source });
  const moment = cleanSpectrum.map((value) => value + 1e-3 * source.normal());
  const fit = fitJoint([
    { curve },
    { harmonics: { ...spectrum, moment }, relaxation: "debye", response },
    { susceptibility: chiOf(jointFrequencies_Hz, jointChi, source), model: "debye" },
  ]);
  const truth = {
    "median-diameter": 18e-9,
    "log-sd": 0.15,
    "relaxation-time": debyeTime_s,
    "saturation-of-1": 100,
    "saturation-of-2": 1,
    "static-susceptibility-of-3": 1,
  };
  const disagree = fit.advisories.some(({ code }) => code === "instruments-disagree");
  return { readings: readingsOf(fit, truth), outcome: fit.outcome, flags: { "called in disagreement": disagree } };
}

const makers: Record<CoverageModel, (source: RandomStream, index: number) => Replica> = {
  "log-normal": logNormalReplica,
  mixture: mixtureReplica,
  "free-form": freeFormReplica,
  chain: chainReplica,
  harmonics: harmonicsReplica,
  susceptibility: susceptibilityReplica,
  joint: jointReplica,
};

/** One replica: new noise from a stream of its own (seed, place of the model in the list). */
export function tracerReplica(model: CoverageModel, index: number): Replica {
  return makers[model](stream(seedOf(index), coverageModels.indexOf(model)), index);
}
