import type { HarmonicSpectrum, SpectrumBasis } from "../../measure/index.js";
import { type AmplitudeMeaning, peakPer } from "../descriptor/amplitude.js";
import { askFor, requiredFact, unitOf } from "../descriptor/facts.js";
import { quantityFact } from "../descriptor/quantity-facts.js";
import type { HeaderColumn } from "../table/header.js";
import type { HarmonicsColumns } from "./columns.js";
import { harmonicsQuantityFacts } from "./quantity-facts.js";
import type { ToMoment } from "./to-moment.js";
import { type HarmonicsFactSource, spectrumBasis, valueScale } from "./value-unit.js";

/** What has to be known before a table of numbers is a spectrum of moments. */
export interface HarmonicsFacts {
  readonly driveAmplitude_T: number;
  readonly frequency_Hz: number;
  readonly biasField_T: number;
  readonly toMoment: ToMoment;
  readonly unit: HarmonicSpectrum["unit"];
  readonly basis: SpectrumBasis;
}

/** A quantity that must be stated, in SI. */
function requiredQuantity(
  fact: keyof typeof harmonicsQuantityFacts,
  { source, found, value }: { source: HarmonicsFactSource; found: string; value: string },
): number {
  const rule = harmonicsQuantityFacts[fact];
  const said = quantityFact(source.facts, fact, { rule, file: source.descriptorFile ?? source.file });
  if (said !== undefined) return said;
  throw askFor(fact, found, { source, value });
}

function peakFactor(said: { readonly value: AmplitudeMeaning } | undefined, fact: string, source: HarmonicsFactSource) {
  const of = fact === "driveAmplitudeMeaning" ? "a drive amplitude" : "amplitudes of harmonics";
  const found = `${of} that may be peak, peak-to-peak or rms`;
  return peakPer[requiredFact(said, fact, { source, found, value: "peak" })];
}

/** Collects what header and descriptor say; refuses, by name, to go on without a fact that nobody stated. */
export function resolveHarmonicsFacts(
  plan: HarmonicsColumns,
  header: readonly HeaderColumn[] | undefined,
  source: HarmonicsFactSource,
): HarmonicsFacts {
  const { facts } = source;
  const amplitude_T = requiredQuantity("driveAmplitude", { source, found: "no drive amplitude", value: "20 mT" });
  const frequency_Hz = requiredQuantity("driveFrequency", { source, found: "no drive frequency", value: "25 kHz" });
  const biasField_T = requiredQuantity("biasField", { source, found: "no word about a static field", value: "0 mT" });
  const found = "values that may be moments, their rates of change or voltages";
  const quantity = requiredFact(facts.quantity, "quantity", { source, found, value: "moment" });
  const value = quantity === "voltage" ? "uV" : quantity === "moment" ? "A.m2" : "A.m2/s";
  const scale = valueScale(unitOf("valueUnit", header?.[plan.first], { source, of: "value", value }), quantity, source);
  const isArbitrary = scale.unit === "1";
  const hasPhase = plan.form !== "amplitude";
  return {
    driveAmplitude_T: amplitude_T * peakFactor(facts.driveAmplitudeMeaning, "driveAmplitudeMeaning", source),
    frequency_Hz,
    biasField_T,
    unit: scale.unit,
    basis: spectrumBasis(scale.unit, source),
    toMoment: {
      quantity,
      // A factor common to all harmonics is part of an arbitrary scale: neither asked for nor applied.
      factor: isArbitrary ? 1 : scale.factor * peakFactor(facts.valueMeaning, "valueMeaning", source),
      angularFrequency_rad_per_s: isArbitrary ? 1 : 2 * Math.PI * frequency_Hz,
      sensitivity_T_per_A: quantity === "voltage" ? sensitivity(source, { isArbitrary, hasPhase }) : 1,
      ...phaseFacts(source, hasPhase),
    },
  };
}

/** B_R/I with the sign of the polarity; amplitudes alone need no sign, arbitrary units no size. */
function sensitivity(source: HarmonicsFactSource, known: { isArbitrary: boolean; hasPhase: boolean }): number {
  const found = 'a voltage without the coil\'s sensitivity (where it is unknown: "valueUnit" "arbitrary")';
  const size = known.isArbitrary ? 1 : requiredQuantity("receiveSensitivity", { source, found, value: "31.4 uT/A" });
  if (!known.hasPhase) return size;
  const unsaid = "a voltage with phases whose sign depends on how the coil is connected";
  const said = source.facts.coilPolarity;
  const polarity = requiredFact(said, "coilPolarity", { source, found: unsaid, value: "normal" });
  return polarity === "normal" ? size : -size;
}

function phaseFacts(
  source: HarmonicsFactSource,
  hasPhase: boolean,
): Pick<ToMoment, "phaseConvention" | "driveWaveform"> {
  if (!hasPhase) return { phaseConvention: "exp(+iwt)", driveWaveform: "cosine" }; // without any effect
  const { phaseConvention, driveWaveform } = source.facts;
  const unsaid = "phases whose sign is not said: a cos(kwt + phase) or a cos(kwt - phase)";
  const noClock = "phases without the drive's own: B = A cos wt or A sin wt";
  return {
    phaseConvention: requiredFact(phaseConvention, "phaseConvention", { source, found: unsaid, value: "exp(+iwt)" }),
    driveWaveform: requiredFact(driveWaveform, "driveWaveform", { source, found: noClock, value: "cosine" }),
  };
}
