import { basename } from "node:path";
import type { Measurement } from "../../formats/index.js";
import { readMeasuredFile } from "../fit/read-measurements.js";
import type { Inspection } from "./inspection.js";

export const isTableName = (file: string): boolean => /\.(txt|csv|tsv|dat)$/i.test(file);

/** A measured table with its descriptor: the one named, or one beside it. */
export function inspectMeasurement(file: string, named?: string): Omit<Inspection, "file" | "sound"> {
  const { measurement, descriptorFile } = readMeasuredFile(file, named);
  const descriptor = descriptorFile === undefined ? "none" : basename(descriptorFile);
  return { format: formats[measurement.kind], summary: { ...summaryOf(measurement), descriptor } };
}

const formats: Readonly<Record<Measurement["kind"], string>> = {
  curve: "magnetisation curve",
  harmonics: "harmonics of particle spectroscopy",
  susceptibility: "AC susceptibility",
};

function summaryOf(measurement: Measurement): Readonly<Record<string, unknown>> {
  switch (measurement.kind) {
    case "curve": {
      const { name, field_T, magnetisationUnit, basis, branch, temperature_K, sigma, ...rest } = measurement.curve;
      return {
        name,
        points: field_T.length,
        field_T: endsOf(field_T),
        magnetisationUnit,
        basis,
        ...stated({ branch, temperature_K }),
        hasUncertainties: sigma !== undefined,
        assumptions: rest.assumptions,
        findings: rest.findings,
      };
    }
    case "harmonics": {
      const { name, harmonic, unit, basis, sigma, hasPhase, ...rest } = measurement.spectrum;
      const { driveAmplitude_T, frequency_Hz, biasField_T, temperature_K, medium } = rest;
      return {
        name,
        harmonics: [...harmonic],
        unit,
        basis,
        hasPhase,
        ...stated({ driveAmplitude_T, frequency_Hz, biasField_T, temperature_K, medium }),
        hasUncertainties: sigma !== undefined,
        assumptions: rest.assumptions,
        findings: rest.findings,
      };
    }
    case "susceptibility": {
      const { name, frequency_Hz, unit, basis, sigmaReal, sigmaImaginary, ...rest } = measurement.susceptibility;
      const { fieldAmplitude_T, temperature_K, viscosity_Pa_s } = rest;
      return {
        name,
        points: frequency_Hz.length,
        frequency_Hz: endsOf(frequency_Hz),
        unit,
        basis,
        ...stated({ fieldAmplitude_T, temperature_K, viscosity_Pa_s }),
        hasUncertainties: sigmaReal !== undefined && sigmaImaginary !== undefined,
        assumptions: rest.assumptions,
        findings: rest.findings,
      };
    }
  }
}

const endsOf = (values: Float64Array): number[] =>
  values.reduce(([low, high], value) => [Math.min(low, value), Math.max(high, value)], [
    values[0],
    values[0],
  ] as number[]);

/** Facts that nobody stated are left out. */
const stated = (facts: Readonly<Record<string, unknown>>): Readonly<Record<string, unknown>> =>
  Object.fromEntries(Object.entries(facts).filter(([, value]) => value !== undefined));
