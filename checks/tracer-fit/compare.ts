import { readFileSync } from "node:fs";
import { parseCurveDescriptor, readCurve } from "../../src/formats/index.js";
import {
  type AcSusceptibility,
  type CurveBranch,
  fitChain,
  fitFreeForm,
  fitHarmonics,
  fitJoint,
  fitMixture,
  fitSusceptibility,
  type HarmonicRelaxation,
  type HarmonicSpectrum,
  type MagnetisationCurve,
  type SusceptibilityModel,
  type TracerFit,
} from "../../src/measure/index.js";
import { nonNegativeLeastSquares } from "../../src/numerics/index.js";

/** Shared by the gate and the meter: our fits against scipy's on the same data. */
interface Fitted {
  readonly parameters: readonly number[];
  readonly covariance: readonly number[];
  readonly chiSquared: number;
}

interface CurveData {
  readonly field_T: readonly number[];
  readonly magnetisation: readonly number[];
  readonly sigma: number;
}

interface ChiData {
  readonly frequency_Hz: readonly number[];
  readonly real: readonly number[];
  readonly imaginary: readonly number[];
  readonly sigma: number;
  readonly viscosity_Pa_s: number;
}

interface Truth {
  readonly coreSaturation_A_per_m: number;
  readonly temperature_K: number;
  readonly plain_nnls: readonly { readonly matrix: number[]; readonly data: number[]; readonly solution: number[] }[];
  readonly mixture: CurveData & Fitted;
  readonly measured: { readonly mixtureChiSquared: number };
  readonly free_form: CurveData & {
    readonly cases: readonly {
      readonly from_m: number;
      readonly to_m: number;
      readonly count: number;
      readonly relativeWeight: number;
      readonly penalty: "second-difference" | "size";
      readonly amplitude: readonly number[];
      readonly slope: number;
      readonly chiSquared: number;
    }[];
  };
  readonly chain: { readonly initial: CurveData & Fitted; readonly loop: CurveData & Fitted };
  readonly harmonics: {
    readonly driveAmplitude_T: number;
    readonly frequency_Hz: number;
    readonly harmonic: readonly number[];
    readonly viscosity_Pa_s: number;
    readonly sigma: number;
  } & Readonly<Record<HarmonicRelaxation, Fitted & { readonly moment: readonly number[] }>>;
  readonly susceptibility: Readonly<Record<SusceptibilityModel, ChiData & Fitted>>;
  readonly joint: Fitted & {
    readonly field_T: readonly number[];
    readonly magnetisation: readonly number[];
    readonly magnetisationSigma: number;
    readonly driveAmplitude_T: number;
    readonly frequency_Hz: number;
    readonly harmonic: readonly number[];
    readonly moment: readonly number[];
    readonly momentSigma: number;
    readonly frequencies_Hz: readonly number[];
    readonly real: readonly number[];
    readonly imaginary: readonly number[];
    readonly chiSigma: number;
  };
}

const bytesOf = (path: string): Uint8Array => new Uint8Array(readFileSync(new URL(path, import.meta.url)));
const truth = JSON.parse(new TextDecoder().decode(bytesOf("./truth.json"))) as Truth;
const core = { coreSaturation_A_per_m: truth.coreSaturation_A_per_m, temperature_K: truth.temperature_K };
const origin = { assumptions: [], findings: [] };

/** How far apart the two are; what is compared is in the name. */
export interface Deviation {
  readonly fit: string;
  /**
   * "parameter": difference over scipy's standard uncertainty; "uncertainty", "chi2": relative difference;
   * "amplitude": largest difference over the largest amplitude.
   */
  readonly quantity: "parameter" | "uncertainty" | "chi2" | "amplitude";
  readonly name: string;
  readonly value: number;
}

/** Parameters, uncertainties and chi2 of one fit; `units` is ours per unit of the recipe. */
function compared(fit: string, ours: TracerFit, theirs: Fitted, units: readonly number[]): Deviation[] {
  const p = theirs.parameters.length;
  if (ours.parameters.length !== p) throw new Error(`${fit}: ${ours.parameters.length} parameters for ${p}`);
  return [
    ...ours.parameters.flatMap(({ name, value, standardUncertainty }, j): Deviation[] => {
      const u = Math.sqrt(theirs.covariance[j * p + j]);
      return [
        { fit, quantity: "parameter", name, value: Math.abs(value / units[j] - theirs.parameters[j]) / u },
        { fit, quantity: "uncertainty", name, value: Math.abs(standardUncertainty / units[j] / u - 1) },
      ];
    }),
    { fit, quantity: "chi2", name: "chi2", value: Math.abs(ours.chiSquared / theirs.chiSquared - 1) },
  ];
}

const nm = 1e-9;
const us = 1e-6;

function curveOf({ field_T, magnetisation, sigma }: CurveData, branch?: CurveBranch): MagnetisationCurve {
  return {
    name: "invented",
    field_T: Float64Array.from(field_T),
    magnetisation: Float64Array.from(magnetisation),
    sigma: new Float64Array(field_T.length).fill(sigma),
    magnetisationUnit: "A.m2/kg",
    basis: "per-iron-mass",
    ...(branch === undefined ? {} : { branch }),
    ...core,
    ...origin,
  };
}

export function nonNegativeDeviations(): Deviation[] {
  return truth.plain_nnls.map(({ matrix, data, solution }, k) => {
    const ours = nonNegativeLeastSquares(Float64Array.from(matrix), Float64Array.from(data)).solution;
    return { fit: "nnls", quantity: "amplitude", name: `case ${k + 1}`, value: largestGap(ours, solution) };
  });
}

function largestGap(ours: ArrayLike<number>, theirs: readonly number[]): number {
  const largest = theirs.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  return theirs.reduce((most, value, j) => Math.max(most, Math.abs(ours[j] - value)), 0) / largest;
}

export function mixtureDeviations(): Deviation[] {
  const fit = fitMixture(curveOf(truth.mixture), { populations: 2 });
  return compared("mixture", fit, truth.mixture, [1, nm, 1, 1, nm, 1, 1]);
}

export function freeFormDeviations(): Deviation[] {
  return truth.free_form.cases.flatMap((one, k): Deviation[] => {
    const { from_m, to_m, count, relativeWeight, penalty } = one;
    const fit = fitFreeForm(curveOf(truth.free_form), {
      grid: { from_m, to_m, count },
      regularisation: { relativeWeight },
      penalty,
      replicas: 2,
    });
    const saturation = fit.parameters[0].value;
    const ours = fit.distribution.volumeShare.map((share) => share * saturation);
    const name = `case ${k + 1}`;
    const chiSquared = fit.reducedChiSquared * fit.degreesOfFreedom;
    return [
      { fit: "free-form", quantity: "amplitude", name, value: largestGap(ours, one.amplitude) },
      {
        fit: "free-form",
        quantity: "amplitude",
        name: `${name}, slope`,
        value: Math.abs(fit.parameters[2].value - one.slope),
      },
      { fit: "free-form", quantity: "chi2", name, value: Math.abs(chiSquared / one.chiSquared - 1) },
    ];
  });
}

export function chainDeviations(): Deviation[] {
  const units = [1, nm, 1, 1, 1];
  const { initial, loop } = truth.chain;
  return [
    ...compared("chain, initial", fitChain(curveOf(initial, "initial")), initial, units),
    ...compared("chain, loop", fitChain(curveOf(loop, "loop")), loop, units),
  ];
}

function spectrumOf(
  moment: readonly number[],
  of: {
    harmonic: readonly number[];
    driveAmplitude_T: number;
    frequency_Hz: number;
    sigma: number;
    viscosity_Pa_s?: number;
  },
): HarmonicSpectrum {
  return {
    name: "invented",
    harmonic: Int32Array.from(of.harmonic),
    moment: Float64Array.from(moment),
    hasPhase: true,
    sigma: new Float64Array(of.harmonic.length).fill(of.sigma),
    unit: "1",
    basis: "arbitrary",
    driveAmplitude_T: of.driveAmplitude_T,
    frequency_Hz: of.frequency_Hz,
    biasField_T: 0,
    ...(of.viscosity_Pa_s === undefined ? {} : { medium: { viscosity_Pa_s: of.viscosity_Pa_s } }),
    ...core,
    ...origin,
  };
}

export function harmonicDeviations(): Deviation[] {
  const { harmonics } = truth;
  const units = { none: [1, nm, 1], debye: [1, nm, 1, us], brownian: [1, nm, 1, nm] };
  return (["none", "debye", "brownian"] as const).flatMap((relaxation) => {
    const theirs = harmonics[relaxation];
    const ours = fitHarmonics(spectrumOf(theirs.moment, harmonics), { relaxation });
    return compared(`harmonics, ${relaxation}`, ours, theirs, units[relaxation]);
  });
}

function chiOf({ frequency_Hz, real, imaginary, sigma, viscosity_Pa_s }: ChiData): AcSusceptibility {
  return {
    name: "invented",
    frequency_Hz: Float64Array.from(frequency_Hz),
    real: Float64Array.from(real),
    imaginary: Float64Array.from(imaginary),
    sigmaReal: new Float64Array(real.length).fill(sigma),
    sigmaImaginary: new Float64Array(real.length).fill(sigma),
    unit: "1",
    basis: "per-sample-volume",
    fieldAmplitude_T: 1e-4,
    temperature_K: core.temperature_K,
    viscosity_Pa_s,
    ...origin,
  };
}

export function susceptibilityDeviations(): Deviation[] {
  const units = { debye: [1, 1, us], "brown-log-normal": [1, 1, nm, 1] };
  return (["debye", "brown-log-normal"] as const).flatMap((model) => {
    const theirs = truth.susceptibility[model];
    return compared(`susceptibility, ${model}`, fitSusceptibility(chiOf(theirs), { model }), theirs, units[model]);
  });
}

export function jointDeviations(): Deviation[] {
  const { joint } = truth;
  const fit = fitJoint([
    { curve: curveOf({ ...joint, sigma: joint.magnetisationSigma }) },
    { harmonics: spectrumOf(joint.moment, { ...joint, sigma: joint.momentSigma }), relaxation: "debye" },
    {
      susceptibility: chiOf({
        ...joint,
        frequency_Hz: joint.frequencies_Hz,
        sigma: joint.chiSigma,
        viscosity_Pa_s: 1e-3,
      }),
      model: "debye",
    },
  ]);
  return compared("joint", fit, joint, [1, nm, 1, 1, 1, us, 1, 1]);
}

/** The shipped measured curve of clustered particles. */
export function measuredCurve(): MagnetisationCurve {
  const folder = "../../shipped/curves/clustered-iron-oxide";
  const descriptor = parseCurveDescriptor(new TextDecoder().decode(bytesOf(`${folder}/descriptor.json`)));
  return readCurve(bytesOf(`${folder}/FSL-DCM_data.txt`), descriptor, { file: "FSL-DCM_data.txt" });
}

/** Lowest chi2 of two populations that scipy finds on the measured curve, from three starts. */
export const measuredMixtureChiSquared = truth.measured.mixtureChiSquared;
