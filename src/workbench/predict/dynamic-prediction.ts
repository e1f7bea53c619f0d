import type { ScannerModel, TracerModel } from "../../documents/index.js";
import {
  axisIndex,
  type DrivenTracer,
  type DriveRegime,
  driveRegime,
  equilibriumMagnetisation,
  largestRate,
  type PeriodicField,
  type PeriodicMagnetisation,
  periodicResponse,
  responseSpectrum,
  type SweepResponse,
  sampleField,
  sweepResponse,
  triangleDrive,
} from "../../physics/index.js";
import { ensembleOf } from "../thread/tracer-physics.js";
import type { DriveConditions } from "./drive-conditions.js";
import { gradientAlong, staticFieldWidth_T, thresholdField_T } from "./static-prediction.js";

export interface PredictedHarmonic {
  readonly order: number;
  /** |m_k| per kg Fe, m(t) = Re sum m_k e^{i k w t}. */
  readonly moment_A_m2_per_kg: number;
  /** Phase against the drive's own maximum, rad. */
  readonly phase_rad: number;
  /** Peak voltage of that harmonic per kg Fe; null without a receive coil along the drive. */
  readonly voltage_V_per_kg: number | null;
}

/** The tracer's answer to one drive, by its stated relaxation model. */
export interface DynamicPrediction {
  /** FWHM of (dM/dt)/(dB/dt) while the field rises and while it falls; null where there is none, see `note`. */
  readonly forwardWidth_T: number | null;
  readonly backwardWidth_T: number | null;
  /** Mean of both: width at the stated drive. Null without a stated relaxation. */
  readonly width_T: number | null;
  readonly widthAlong_m: number | null;
  /** Field by which the response peaks late (half the distance between the two sweeps' peaks), mu0H. */
  readonly lag_T: number | null;
  readonly note: string;
  /** Largest dM/dt of one kilogram of Fe, and the voltage that it induces; null for a loop that jumps. */
  readonly peakMomentRate_A_m2_per_kg_s: number | null;
  readonly peakVoltage_V_per_kg: number | null;
  readonly harmonics: readonly PredictedHarmonic[];
  /** Amplitude ratio of the fifth to the third harmonic of the moment. */
  readonly fifthToThird: number;
  readonly regime: DriveRegime;
  readonly solved: Pick<PeriodicMagnetisation, "outcome" | "detail">;
  /** Slope of the equilibrium curve over the fields of the drive, for the figure; chains on the branch they are left on. */
  readonly staticCurve: { readonly field_T: Float64Array; readonly response_per_T: Float64Array };
  /** For the figure. */
  readonly sweeps: { readonly forward: SweepResponse; readonly backward: SweepResponse } | null;
}

const highestHarmonic = 25;

/** Samples of a period: cheap models finely; those that solve an equation for each core as finely as a width needs. */
const fineSamples = 2048;
const costlySamples: Readonly<Record<string, number>> = { brownian: 512, neel: 256, "field-dependent": 1024 };

/** What a tracer's response is asked of, and how finely. */
export function drivenTracer(tracer: TracerModel): { driven: DrivenTracer; samples: number; isCostly: boolean } {
  const { relaxation, coupling } = tracer;
  const driven = { ensemble: ensembleOf(tracer), relaxation, coupling };
  const costly = (coupling ?? 0) > 0 ? undefined : costlySamples[relaxation.kind];
  return { driven, samples: costly ?? fineSamples, isCostly: costly !== undefined };
}

/**
 * Response, width, signal and harmonics of a tracer at one drive, at the field-free point.
 *
 * @param solved  the response of `drivenTracer` to the drive
 *
 * Valid for   a point tracer at the centre of the drive, one axis; the model is the one that the tracer document states
 * Source      `periodicResponse`, `sweepResponse`, `driveRegime`; voltage u = (B_R/I) dm/dt (facts N13)
 */
export function predictDynamic(
  tracer: TracerModel,
  scanner: ScannerModel,
  { axis, field, solved }: Pick<DriveConditions, "axis" | "field"> & { readonly solved: PeriodicMagnetisation },
): DynamicPrediction {
  const { driven } = drivenTracer(tracer);
  const { magnetisation } = solved;
  const samples = magnetisation.length;
  const field_T = sampleField(field, samples);
  const ideal = equilibriumResponse(field, driven, samples);
  const threshold = thresholdField_T(tracer) ?? undefined;
  const staticWidth_T = staticFieldWidth_T(tracer);
  // A loop that jumps has no largest rate: the figure would be that of the sampling.
  const jumps = threshold !== undefined && tracer.relaxation.kind === "none";
  const perIron = tracer.core.momentPerIron_A_m2_per_kg;
  const sensitivity = scanner.receive.find((receive) => receive.axis === axis)?.sensitivity_T_per_A;
  const rate = jumps ? null : perIron * largestRate(magnetisation, field.period_s);
  const spectrum = responseSpectrum(magnetisation, highestHarmonic);
  const voltage = (momentRate: number) => (sensitivity === undefined ? null : sensitivity * momentRate);
  const order = Array.from({ length: spectrum.amplitude.length - 1 }, (_, k) => k + 1).filter((k) => k % 2 === 1);
  const omega = (2 * Math.PI) / field.period_s;
  const gradient = gradientAlong(Float64Array.from(scanner.selectionField.gradient_T_per_m.flat()), axisIndex(axis));
  const width = widths(sweepOf(field_T, magnetisation, tracer), gradient);
  const widening = width.width_T === null || staticWidth_T === null ? undefined : width.width_T / staticWidth_T;
  const isRelaxing = tracer.relaxation.kind !== "none";
  return {
    ...width,
    peakMomentRate_A_m2_per_kg_s: rate,
    peakVoltage_V_per_kg: rate === null ? null : voltage(rate),
    harmonics: order.map((k) => ({
      order: k,
      moment_A_m2_per_kg: perIron * spectrum.amplitude[k],
      phase_rad: spectrum.phase_rad[k],
      voltage_V_per_kg: voltage(k * omega * perIron * spectrum.amplitude[k]),
    })),
    fifthToThird: spectrum.amplitude[5] / spectrum.amplitude[3],
    regime: driveRegime(magnetisation, ideal, { field_T, thresholdField_T: threshold, widening, isRelaxing }),
    solved: { outcome: solved.outcome, detail: solved.detail },
    staticCurve: staticCurve(field_T, driven),
  };
}

/** The response without memory: equilibrium, or for chains the loop that their history leaves. */
function equilibriumResponse(field: PeriodicField, driven: DrivenTracer, samples: number): Float64Array {
  const { ensemble, coupling = 0 } = driven;
  if (coupling === 0) return equilibriumMagnetisation(sampleField(field, samples), driven);
  return periodicResponse(field, { ensemble, relaxation: { kind: "none" }, coupling }, { samples }).magnetisation;
}

/** Slope from a slow triangle over the same fields. */
function staticCurve(field_T: Float64Array, driven: DrivenTracer) {
  const peak_T = field_T.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  const field = triangleDrive(peak_T, 1);
  // Fixed axes cost an integral for each value.
  const samples = driven.relaxation.kind === "neel" ? 200 : 1600;
  return sweepResponse(sampleField(field, samples), equilibriumResponse(field, driven, samples)).forward;
}

type SweepOutcome =
  | { readonly kind: "swept"; readonly sweeps: NonNullable<DynamicPrediction["sweeps"]>; readonly isDynamic: boolean }
  | { readonly kind: "none"; readonly note: string };

/** Pulses pass their edges in an instant, so they have no sweep; neither has a curve that jumps. */
function sweepOf(
  field_T: Float64Array,
  magnetisation: Float64Array,
  { relaxation, coupling = 0 }: TracerModel,
): SweepOutcome {
  const largest = field_T.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  const onPlateau = field_T.filter((value) => Math.abs(value) > 0.999 * largest).length;
  // A cosine spends 1 part in 35 within a thousandth of its peak; pulses most of their time.
  if (onPlateau > 0.2 * field_T.length)
    return {
      kind: "none",
      note: "a pulsed drive does not sweep: its width follows the static curve if pulses outlast the relaxation",
    };
  if (coupling >= 3 && relaxation.kind === "none")
    return { kind: "none", note: "the quasi-static loop of these chains jumps: it has a threshold, no width" };
  return { kind: "swept", sweeps: sweepResponse(field_T, magnetisation), isDynamic: relaxation.kind !== "none" };
}

function widths(outcome: SweepOutcome, gradient_T_per_m: number) {
  const none = { forwardWidth_T: null, backwardWidth_T: null, width_T: null, widthAlong_m: null, lag_T: null };
  if (outcome.kind === "none") return { ...none, note: outcome.note, sweeps: null };
  const { sweeps, isDynamic } = outcome;
  const { forward, backward } = sweeps;
  if (!isDynamic)
    return { ...none, note: "no relaxation stated: only the static width can be given, a lower bound", sweeps };
  if (!forward.isPeakInside || !backward.isPeakInside)
    return { ...none, note: "the response lags beyond the turning point of this drive: no width", sweeps };
  const lag_T = (forward.peakField_T - backward.peakField_T) / 2;
  if (forward.width_T === undefined || backward.width_T === undefined)
    return { ...none, lag_T, note: "the response does not fall to half its peak within this drive: no width", sweeps };
  const width_T = (forward.width_T + backward.width_T) / 2;
  return {
    forwardWidth_T: forward.width_T,
    backwardWidth_T: backward.width_T,
    width_T,
    widthAlong_m: gradient_T_per_m === 0 ? null : width_T / gradient_T_per_m,
    lag_T,
    note: "at the stated drive, by the relaxation model of the tracer document",
    sweeps,
  };
}
