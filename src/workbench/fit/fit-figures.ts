import {
  curveFitFigure,
  type Figure,
  sizeDistributionFigure,
  spectrumFitFigure,
  susceptibilityFitFigure,
} from "../../figures/index.js";
import type { Measurement } from "../../formats/index.js";
import {
  brownSusceptibility,
  type CurveFit,
  curveBases,
  debyeSusceptibility,
  evaluateFit,
  type FreeFormFit,
  type TracerFit,
} from "../../measure/index.js";
import { brownTime_s } from "../../physics/index.js";
import type { FittedTracer } from "./fit-measurements.js";

/** The figures of a fit by file name (without suffix): data and model of each instrument, and a free-form distribution. */
export async function figuresOfFit({ measurements, fit }: FittedTracer): Promise<Record<string, Figure>> {
  if (measurements.length === 1) {
    const figures: Record<string, Figure> = { fit: await figureOf(measurements[0], fit, fit.fitted) };
    if (isFreeForm(fit)) figures["fit-sizes"] = await sizesFigure(measurements[0], fit);
    return figures;
  }
  const figures: Record<string, Figure> = {};
  let from = 0;
  for (const [i, measurement] of measurements.entries()) {
    const fitted = fit.fitted.subarray(from, from + countOf(measurement));
    from += fitted.length;
    figures[`fit-${i + 1}`] = await figureOf(measurement, renamed(fit, i + 1), fitted);
  }
  return figures;
}

const isFreeForm = (fit: TracerFit): fit is FreeFormFit => "distribution" in fit;

/** Values that a measurement gives to a fit: complex harmonics and susceptibilities count twice. */
function countOf(measurement: Measurement): number {
  if (measurement.kind === "curve") return measurement.curve.field_T.length;
  if (measurement.kind === "susceptibility") return 2 * measurement.susceptibility.frequency_Hz.length;
  return measurement.spectrum.harmonic.length * (measurement.spectrum.hasPhase ? 2 : 1);
}

/** The parameters of one instrument of a joint fit under their plain names. */
function renamed(fit: TracerFit, instrument: number): TracerFit {
  const suffix = `-of-${instrument}`;
  const parameters = fit.parameters.map((parameter) => ({ ...parameter, name: parameter.name.replace(suffix, "") }));
  return { ...fit, parameters };
}

/** chi2/dof, where there is a sd column for it to mean something. */
export function goodnessWords({ uncertaintyBasis, reducedChiSquared }: TracerFit): string {
  if (uncertaintyBasis === "stated-sigma") return `reduced chi-squared ${reducedChiSquared.toPrecision(3)}`;
  return "no sd column (uncertainties from the scatter)";
}

function figureOf(measurement: Measurement, fit: TracerFit, fitted: Float64Array): Promise<Figure> {
  if (measurement.kind === "curve") return curveFigure(measurement.curve, fit, fitted);
  if (measurement.kind === "harmonics") return harmonicsFigure(measurement.spectrum, fit, fitted);
  return susceptibilityFigure(measurement.susceptibility, fit);
}

function curveFigure(
  curve: Extract<Measurement, { kind: "curve" }>["curve"],
  fit: TracerFit,
  fitted: Float64Array,
): Promise<Figure> {
  const fields = fineFields(curve.field_T);
  const assumed = curve.assumptions.some(({ fact }) => fact === "basis" || fact === "magnetisationUnit");
  const model = fit.model === "joint" ? "log-normal-langevin" : (fit.model as CurveFit["model"]);
  return curveFitFigure({
    title: curve.name,
    subtitle: `${fit.model} fit, ${goodnessWords(fit)}`,
    field_T: curve.field_T,
    magnetisation: curve.magnetisation,
    sigma: curve.sigma,
    fitted,
    // A loop has two values at one field, so its line joins the fitted points.
    ...("isHysteretic" in fit && fit.isHysteretic
      ? {}
      : { line: { field_T: fields, magnetisation: evaluateFit({ ...fit, model }, curve, fields) } }),
    magnetisationUnit: curve.magnetisationUnit,
    basis: `${curveBases[curve.basis].summary}${assumed ? " (assumed)" : ""}`,
  });
}

function harmonicsFigure(
  spectrum: Extract<Measurement, { kind: "harmonics" }>["spectrum"],
  fit: TracerFit,
  fitted: Float64Array,
): Promise<Figure> {
  const { harmonic, hasPhase, moment, sigma, unit, basis, name } = spectrum;
  const amplitude = (values: Float64Array) =>
    Float64Array.from(harmonic, (_, k) => Math.hypot(values[2 * k], values[2 * k + 1]));
  const phase = (values: Float64Array) =>
    Float64Array.from(harmonic, (_, k) => Math.atan2(values[2 * k + 1], values[2 * k]));
  return spectrumFitFigure({
    title: name,
    subtitle: `${fit.model} fit, ${goodnessWords(fit)}`,
    harmonic,
    measured: amplitude(moment),
    ...(sigma === undefined ? {} : { sigma }),
    fitted: hasPhase ? amplitude(fitted) : fitted,
    ...(hasPhase ? { measuredPhase_rad: phase(moment), fittedPhase_rad: phase(fitted) } : {}),
    unit,
    basis: basisWords(basis, spectrum.assumptions),
  });
}

/** What the values are divided by, in words, and whether that was assumed. */
function basisWords(basis: string, assumptions: readonly { readonly fact: string }[]): string {
  const words = Object.hasOwn(curveBases, basis)
    ? curveBases[basis as keyof typeof curveBases].summary
    : `${basis} units`;
  return assumptions.some(({ fact }) => fact === "basis") ? `${words} (assumed)` : words;
}

function susceptibilityFigure(
  chi: Extract<Measurement, { kind: "susceptibility" }>["susceptibility"],
  fit: TracerFit,
): Promise<Figure> {
  const { frequency_Hz, real, imaginary, sigmaReal, sigmaImaginary, unit, basis, name } = chi;
  const fine = fineFrequencies(frequency_Hz);
  const stacked = modelSusceptibility(fine, fit, chi);
  return susceptibilityFitFigure({
    title: name,
    subtitle: `${fit.model} fit, ${goodnessWords(fit)}`,
    frequency_Hz,
    real,
    imaginary,
    ...(sigmaReal === undefined ? {} : { sigmaReal }),
    ...(sigmaImaginary === undefined ? {} : { sigmaImaginary }),
    line: { frequency_Hz: fine, real: stacked.subarray(0, fine.length), imaginary: stacked.subarray(fine.length) },
    unit,
    basis: basisWords(basis, chi.assumptions),
  });
}

function modelSusceptibility(
  frequency_Hz: Float64Array,
  fit: TracerFit,
  { viscosity_Pa_s = Number.NaN, temperature_K = Number.NaN }: { viscosity_Pa_s?: number; temperature_K?: number },
): Float64Array {
  const of = (name: string) => fit.parameters.find((parameter) => parameter.name === name)?.value;
  const scales = {
    static: of("static-susceptibility") ?? Number.NaN,
    highFrequency: of("high-frequency-susceptibility") ?? Number.NaN,
  };
  const out = new Float64Array(2 * frequency_Hz.length);
  const time = of("relaxation-time");
  if (time !== undefined) return debyeSusceptibility(frequency_Hz, { ...scales, relaxationTime_s: time }, out);
  const medianTime_s = brownTime_s(of("median-hydrodynamic-diameter") ?? Number.NaN, viscosity_Pa_s, temperature_K);
  return brownSusceptibility(frequency_Hz, { ...scales, medianTime_s, logSd: of("log-sd-hydrodynamic") ?? 0 }, out);
}

function sizesFigure(measurement: Measurement, { distribution, regularisation }: FreeFormFit): Promise<Figure> {
  const { diameter_m, volumeShare, numberShare, low, high } = distribution;
  const { method, effectiveParameters } = regularisation;
  return sizeDistributionFigure({
    title: measurement.kind === "curve" ? measurement.curve.name : "free-form distribution",
    subtitle: `regularisation by ${method}, ${effectiveParameters.toFixed(1)} effective parameters; blind to the smoothing bias`,
    diameter_m,
    volumeShare,
    numberShare,
    low,
    high,
  });
}

/** 400 fields spread evenly over the logarithm of the magnitude, on the sides that were measured. */
function fineFields(field_T: Float64Array): Float64Array {
  const magnitudes = field_T.map(Math.abs).filter((value) => value > 0);
  const low = magnitudes.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY);
  const high = magnitudes.reduce((a, b) => Math.max(a, b), 0);
  const side = Array.from({ length: 400 }, (_, i) => low * (high / low) ** (i / 399));
  const negative = field_T.some((value) => value < 0) ? side.map((value) => -value).reverse() : [];
  const positive = field_T.some((value) => value > 0) ? side : [];
  return Float64Array.from([...negative, ...positive]);
}

function fineFrequencies(frequency_Hz: Float64Array): Float64Array {
  const low = frequency_Hz.reduce((a, b) => Math.min(a, b));
  const high = frequency_Hz.reduce((a, b) => Math.max(a, b));
  return Float64Array.from({ length: 300 }, (_, i) => low * (high / low) ** (i / 299));
}
