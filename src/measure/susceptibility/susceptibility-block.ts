import { FerruleError } from "../../errors.js";
import { brownTime_s } from "../../physics/index.js";
import type { BlockParameter, FitBlock } from "../joint/fit-block.js";
import { originAdvisories } from "../magnetometry/curve-advisories.js";
import type { FitAdvisory } from "../magnetometry/fit-advisory.js";
import type { AcSusceptibility } from "./susceptibility.js";
import { brownSusceptibility, debyeSusceptibility } from "./susceptibility-model.js";

export const susceptibilityModels = ["debye", "brown-log-normal"] as const;
export type SusceptibilityModel = (typeof susceptibilityModels)[number];

/** Hydrodynamic diameters that a fit looks for. */
const hydrodynamicBounds_m = { lower: 2e-9, upper: 2e-6 } as const;
const logSdBounds = { lower: 1e-3, upper: 1.2 } as const;

/** A measured susceptibility with its model, to be fitted alone or with others. */
export function susceptibilityBlock(chi: AcSusceptibility, model: SusceptibilityModel): FitBlock {
  const { frequency_Hz, real, imaginary, sigmaReal, sigmaImaginary } = chi;
  requireModel(model);
  const liquid = model === "brown-log-normal" ? requireLiquid(chi) : undefined;
  const n = frequency_Hz.length;
  const unit = chi.unit === "arbitrary" ? "1" : chi.unit;
  const largest = real.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  const scales: BlockParameter[] = [
    { name: "static-susceptibility", unit, lower: 0, upper: Number.POSITIVE_INFINITY },
    { name: "high-frequency-susceptibility", unit, lower: -largest, upper: Number.POSITIVE_INFINITY },
  ];
  const own: BlockParameter[] =
    liquid === undefined
      ? [{ name: "relaxation-time", unit: "s", lower: 1e-12, upper: 1e4 }]
      : [
          { name: "median-hydrodynamic-diameter", unit: "m", ...hydrodynamicBounds_m },
          { name: "log-sd-hydrodynamic", unit: "1", ...logSdBounds },
        ];
  return {
    instrument: "susceptibility",
    name: chi.name,
    model: `${model}-susceptibility`,
    equation:
      liquid === undefined
        ? "chi = chi_inf + (chi_0 - chi_inf)/(1 + i w tau), chi = chi' - i chi''"
        : "chi = chi_inf + (chi_0 - chi_inf) <1/(1 + i w tau_B)>, tau_B = pi eta d_H^3/(2 kB T), d_H log-normal by number",
    dataUnit: unit,
    parameters: [...scales, ...own],
    shared: [own[0].name],
    observed: Float64Array.from([...real, ...imaginary]),
    ...(sigmaReal && sigmaImaginary ? { sigma: Float64Array.from([...sigmaReal, ...sigmaImaginary]) } : {}),
    predict: (values, out) => {
      const [low, highFrequency, own0, own1] = values;
      if (liquid === undefined)
        return debyeSusceptibility(frequency_Hz, { static: low, highFrequency, relaxationTime_s: own0 }, out);
      const medianTime_s = brownTime_s(own0, liquid.viscosity_Pa_s, liquid.temperature_K);
      return brownSusceptibility(frequency_Hz, { static: low, highFrequency, medianTime_s, logSd: own1 }, out);
    },
    candidates: () => candidates(chi, liquid),
    rowName: (row) => `chi${row < n ? "'" : "''"} at ${frequency_Hz[row % n].toPrecision(4)} Hz`,
    advisories: [...modelAdvisories(chi, model), ...originAdvisories(chi)],
  };
}

function requireModel(model: SusceptibilityModel): void {
  if (susceptibilityModels.includes(model)) return;
  throw new FerruleError("UnknownName", {
    path: "model",
    found: String(model),
    accepted: `one of ${susceptibilityModels.join(", ")}`,
  });
}

/** Viscosity and temperature: without them a relaxation time has no hydrodynamic diameter. */
function requireLiquid({ name, viscosity_Pa_s, temperature_K }: AcSusceptibility) {
  const missing = (path: string, what: string, example: string) =>
    new FerruleError("MissingFact", {
      path: `facts.${path}`,
      found: `susceptibility "${name}" without ${what}, which turns a relaxation time into a hydrodynamic diameter`,
      accepted: `add it to the descriptor, e.g. "${path}": { "value": "${example}", "status": "assumed", "note": "why" }, or fit the model "debye"`,
    });
  if (viscosity_Pa_s === undefined) throw missing("viscosity", "the viscosity of its liquid", "0.89 mPa.s");
  if (temperature_K === undefined) throw missing("temperature", "its temperature", "300 K");
  return { viscosity_Pa_s, temperature_K };
}

/** Times over the measured band and a decade beyond either end; widths for a log-normal. */
function candidates({ frequency_Hz, real }: AcSusceptibility, liquid: ReturnType<typeof requireLiquid> | undefined) {
  const [slow, fast] = [frequency_Hz.reduce((a, b) => Math.min(a, b)), frequency_Hz.reduce((a, b) => Math.max(a, b))];
  const [low, high] = [real.reduce((a, b) => Math.max(a, b)), real.reduce((a, b) => Math.min(a, b))];
  const times = Array.from({ length: 25 }, (_, k) => (0.1 / (2 * Math.PI * fast)) * ((100 * fast) / slow) ** (k / 24));
  if (liquid === undefined) return times.map((time_s) => Float64Array.of(low, high, time_s));
  return times.flatMap((time_s) =>
    [0.05, 0.2, 0.45].map((logSd) => {
      const diameter_m = Math.cbrt(time_s / brownTime_s(1, liquid.viscosity_Pa_s, liquid.temperature_K));
      return Float64Array.of(low, high, diameter_m, logSd);
    }),
  );
}

function modelAdvisories({ fieldAmplitude_T }: AcSusceptibility, model: SusceptibilityModel): FitAdvisory[] {
  const message = `times belong to a field of ${(fieldAmplitude_T * 1e3).toPrecision(2)} mT: at drive amplitude particles turn faster, and this fit says nothing about that`;
  const list: FitAdvisory[] = [{ code: "zero-field-relaxation", message }];
  if (model === "brown-log-normal")
    list.push({
      code: "effective-parameter",
      message:
        "hydrodynamic diameters take every particle as a sphere whose moment is fixed in it, with a core independent of its shell; Neel relaxation in small cores would read as small diameters",
    });
  return list;
}
