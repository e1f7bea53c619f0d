import {
  chiSquareCdf,
  type LeastSquaresResult,
  lagOneAutocorrelation,
  leastSquares,
  type RunsTest,
  runsTest,
} from "../../numerics/index.js";
import type { MagnetisationCurve } from "../magnetometry/curve.js";
import { curveBlock } from "../magnetometry/curve-block.js";
import type { BackgroundOption } from "../magnetometry/curve-requirements.js";
import type { FitAdvisory } from "../magnetometry/fit-advisory.js";
import { plainParameters, reportFit } from "../magnetometry/fit-report.js";
import type { TracerFit } from "../magnetometry/fit-result.js";
import { derive } from "../magnetometry/propagate.js";
import type { HarmonicSpectrum } from "../spectroscopy/harmonics.js";
import { type HarmonicRelaxation, harmonicsBlock } from "../spectroscopy/harmonics-block.js";
import type { PreparedResponse } from "../spectroscopy/response-table.js";
import type { AcSusceptibility } from "../susceptibility/susceptibility.js";
import { type SusceptibilityModel, susceptibilityBlock } from "../susceptibility/susceptibility-block.js";
import { type FitBlock, fitBlock, undeterminedParameters } from "./fit-block.js";
import { type JointParameters, joinParameters } from "./joint-parameters.js";

/** The data of one instrument and how to model them. */
export type Instrument =
  | { readonly curve: MagnetisationCurve; readonly background?: BackgroundOption }
  | {
      readonly harmonics: HarmonicSpectrum;
      readonly relaxation: HarmonicRelaxation;
      readonly response?: PreparedResponse;
    }
  | { readonly susceptibility: AcSusceptibility; readonly model: SusceptibilityModel };

/** How one instrument fares in the joint fit and on its own. */
export interface InstrumentFit {
  readonly instrument: FitBlock["instrument"];
  readonly name: string;
  readonly model: string;
  /** In the joint fit, sigma as used there. */
  readonly chiSquared: number;
  readonly values: number;
  readonly runsTest: RunsTest;
  readonly lag1: number;
  /** chi2 of the instrument fitted alone: what agreeing with the others costs it. */
  readonly chiSquaredAlone: number;
  /** Its shared parameters when fitted alone. */
  readonly alone: readonly {
    readonly name: string;
    readonly value: number;
    readonly standardUncertainty: number;
    readonly unit: string;
  }[];
  /** "scatter": no sigma was stated, and that of the fit alone was used. */
  readonly sigmaFrom: "stated" | "scatter";
}

export interface JointFit extends TracerFit {
  readonly model: "joint";
  readonly shared: readonly string[];
  readonly instruments: readonly InstrumentFit[];
  /** Rise of chi2 against all fitted alone, with as many degrees of freedom as parameters were shared away. */
  readonly tension: { readonly chiSquared: number; readonly degreesOfFreedom: number; readonly pValue: number };
}

/** Below this probability the instruments are said to disagree. */
const tensionLevel = 0.01;

/**
 * One tracer seen by several instruments: core sizes (and relaxation, where two see it) in common, scale and background of
 * each instrument its own.
 *   minimise sum over instruments of chi2;  tension = chi2_joint - sum chi2_alone, about chi2 with (sum p_alone - p_joint)
 * An instrument without sigma gets that of its own fit's scatter: it can then not be found wrong by its chi2, only by the
 * tension.
 *
 * @param instruments  two or more; a curve and harmonics share median-diameter and log-sd, harmonics and a susceptibility
 *                     share relaxation-time ("debye" both) or median-hydrodynamic-diameter ("brownian", "brown-log-normal")
 * @returns shared parameters by their names, an instrument's own with `-of-1`, `-of-2`, ... in the order given
 * @throws FerruleError NotIdentifiable where the instruments have nothing in common
 *
 * Valid for   models as for each instrument; the facts of each (core saturation, temperature) taken as exact
 * Source      as the single fits; the rise of chi2: likelihood ratio, common practice
 * Checked by  checks/tracer-fit (scipy.optimize.least_squares), campaigns/tracer-parameter-coverage
 */
export function fitJoint(instruments: readonly Instrument[]): JointFit {
  const plain = instruments.map(blockOf);
  const joined = joinParameters(plain);
  const alone = plain.map((block) => fitBlock(block));
  const blocks = plain.map((block, b) => withSigma(block, alone[b]));
  const fit = fitTogether(blocks, joined, alone);
  const parts = instrumentFits(fit, { blocks, plain, joined, alone });
  const tension = tensionOf(fit, parts, alone);
  const report = reportFit(fit, {
    model: "joint",
    equation: blocks.map(({ equation }, b) => `${b + 1}: ${equation}`).join("; "),
    weighting: "number",
    parameters: plainParameters(
      fit,
      joined.parameters.map(({ unit }) => unit),
    ),
    derived: volumeMedian(fit),
    hasSigma: true,
    dataUnit: "1",
    undetermined: undeterminedParameters(fit, reach(fit)),
    held: [],
    rowName: rowNamer(blocks),
    advisories: () => [...tensionAdvisories(tension, parts), ...blocks.flatMap(namedAdvisories)],
  });
  return { ...report, model: "joint", shared: joined.shared, instruments: parts, tension };
}

function blockOf(instrument: Instrument): FitBlock {
  if ("curve" in instrument) return curveBlock(instrument.curve, instrument.background);
  if ("harmonics" in instrument)
    return harmonicsBlock(instrument.harmonics, instrument.relaxation, instrument.response);
  return susceptibilityBlock(instrument.susceptibility, instrument.model);
}

/** A block in units of its own: values over sigma, so that blocks of unlike units lie side by side. */
function withSigma(block: FitBlock, alone: LeastSquaresResult): FitBlock {
  if (block.sigma !== undefined) return block;
  const scatter = Math.sqrt(alone.reducedChiSquared);
  const largest = block.observed.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  // A fit to rounding has no scatter; 1e-9 of the largest value is below any instrument.
  return { ...block, sigma: new Float64Array(block.observed.length).fill(Math.max(scatter, 1e-9 * largest)) };
}

function fitTogether(
  blocks: readonly FitBlock[],
  { parameters, positions }: JointParameters,
  alone: readonly LeastSquaresResult[],
): LeastSquaresResult {
  const lengths = blocks.map(({ observed }) => observed.length);
  const starts = lengths.map((_, b) => lengths.slice(0, b).reduce((sum, length) => sum + length, 0));
  const total = lengths.reduce((sum, length) => sum + length, 0);
  const model = (values: Float64Array, out: Float64Array) => {
    for (const [b, block] of blocks.entries()) {
      const own = Float64Array.from(positions[b], (j) => values[j]);
      block.predict(own, out.subarray(starts[b], starts[b] + lengths[b]));
    }
    return out;
  };
  const observed = new Float64Array(total);
  const sigma = new Float64Array(total);
  for (const [b, block] of blocks.entries()) {
    observed.set(block.observed, starts[b]);
    sigma.set(block.sigma ?? [], starts[b]);
  }
  const options = {
    names: parameters.map(({ name }) => name),
    lower: parameters.map(({ lower }) => lower),
    upper: parameters.map(({ upper }) => upper),
  };
  // From every instrument's own view of the shared parameters; the best end is kept.
  const fits = blocks.map((_, first) => {
    const start = new Float64Array(parameters.length);
    const order = [...blocks.keys()].filter((b) => b !== first);
    for (const b of [...order, first]) for (const [k, j] of positions[b].entries()) start[j] = alone[b].parameters[k];
    const inside = start.map((value, j) => Math.min(options.upper[j], Math.max(options.lower[j], value)));
    return leastSquares({ model, observed, sigma }, inside, options);
  });
  return fits.reduce((best, each) => (each.chiSquared < best.chiSquared ? each : best));
}

interface Parts {
  readonly blocks: readonly FitBlock[];
  readonly plain: readonly FitBlock[];
  readonly joined: JointParameters;
  readonly alone: readonly LeastSquaresResult[];
}

function instrumentFits(fit: LeastSquaresResult, { blocks, plain, joined, alone }: Parts): InstrumentFit[] {
  let from = 0;
  return blocks.map((block, b) => {
    const residuals = fit.normalisedResiduals.slice(from, from + block.observed.length);
    from += block.observed.length;
    const single = alone[b];
    return {
      instrument: block.instrument,
      name: block.name,
      model: block.model,
      chiSquared: residuals.reduce((sum, r) => sum + r * r, 0),
      values: residuals.length,
      runsTest: runsTest(residuals),
      lag1: lagOneAutocorrelation(residuals).r1,
      // Without sigma chi2/dof of the fit alone is 1 by construction.
      chiSquaredAlone: plain[b].sigma === undefined ? single.degreesOfFreedom : single.chiSquared,
      alone: block.parameters.flatMap(({ name, unit }, j) =>
        joined.shared.includes(name)
          ? [{ name, value: single.parameters[j], standardUncertainty: single.standardErrors[j], unit }]
          : [],
      ),
      sigmaFrom: plain[b].sigma === undefined ? "scatter" : "stated",
    };
  });
}

function tensionOf(fit: LeastSquaresResult, parts: readonly InstrumentFit[], alone: readonly LeastSquaresResult[]) {
  const rise = Math.max(0, fit.chiSquared - parts.reduce((sum, { chiSquaredAlone }) => sum + chiSquaredAlone, 0));
  const free = ({ atBound }: LeastSquaresResult) => atBound.filter((is) => !is).length;
  const degreesOfFreedom = Math.max(1, alone.reduce((sum, each) => sum + free(each), 0) - free(fit));
  return { chiSquared: rise, degreesOfFreedom, pValue: chiSquareCdf(rise, degreesOfFreedom).upper };
}

function tensionAdvisories(
  { chiSquared, degreesOfFreedom, pValue }: JointFit["tension"],
  parts: readonly InstrumentFit[],
): FitAdvisory[] {
  const list: FitAdvisory[] = parts
    .filter(({ sigmaFrom }) => sigmaFrom === "scatter")
    .map(({ name }) => ({
      code: "no-sigma",
      message: `"${name}" has no standard deviations: the scatter about its own fit was used, so that its chi2 says nothing`,
    }));
  if (!(pValue < tensionLevel)) return list;
  const views = parts.flatMap(({ name, alone }) =>
    alone.map((p) => `${p.name} ${shown(p.value, p.unit)} \u00b1 ${shown(p.standardUncertainty, p.unit)} by "${name}"`),
  );
  const message = `the instruments disagree: together they cost ${chiSquared.toPrecision(3)} in chi2 for ${degreesOfFreedom} parameters given up (p ${pValue < 1e-12 ? "below 1e-12" : `= ${pValue.toPrecision(2)}`}); alone: ${views.join(", ")}; the joint values are a compromise that none of them measured`;
  return [{ code: "instruments-disagree", message }, ...list];
}

/** A diameter in nm, a time in us; a number without unit alone. */
function shown(value: number, unit: string): string {
  if (unit === "m") return `${(value * 1e9).toPrecision(3)} nm`;
  if (unit === "s") return `${(value * 1e6).toPrecision(3)} us`;
  return `${value.toPrecision(3)}${unit === "1" ? "" : ` ${unit}`}`;
}

function volumeMedian(fit: LeastSquaresResult) {
  const [d, s] = ["median-diameter", "log-sd"].map((name) => fit.names.indexOf(name));
  if (d < 0 || s < 0) return [];
  const of = { values: fit.parameters, covariance: fit.covariance };
  return [derive({ name: "volume-weighted-median-diameter", unit: "m" }, (p) => p[d] * Math.exp(3 * p[s] ** 2), of)];
}

/** Slopes and small susceptibilities may well be zero: they are judged beside the scale of their instrument. */
function reach({ names, parameters }: LeastSquaresResult) {
  return (name: string, value: number): number => {
    const block = name.match(/-of-(\d+)$/)?.[1];
    const scale = (own: string) => parameters[names.indexOf(`${own}-of-${block}`)];
    if (name.startsWith("background-slope")) return scale("saturation");
    if (name.startsWith("high-frequency")) return scale("static-susceptibility");
    return Math.abs(value);
  };
}

function rowNamer(blocks: readonly FitBlock[]): (row: number) => string {
  return (row) => {
    let from = 0;
    for (const block of blocks) {
      if (row < from + block.observed.length) return `"${block.name}": ${block.rowName(row - from)}`;
      from += block.observed.length;
    }
    return `row ${row + 1}`;
  };
}

function namedAdvisories({ name, advisories }: FitBlock): FitAdvisory[] {
  return advisories.map(({ code, message }) => ({ code, message: `"${name}": ${message}` }));
}
