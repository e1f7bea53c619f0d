import { FerruleError } from "../../errors.js";
import { brownTime_s, xiPerTesla } from "../../physics/index.js";
import type { BlockParameter, FitBlock } from "../joint/fit-block.js";
import { originAdvisories } from "../magnetometry/curve-advisories.js";
import type { FitAdvisory } from "../magnetometry/fit-advisory.js";
import { ensembleHarmonics } from "./harmonic-model.js";
import { brownianHarmonics, equilibriumHarmonics } from "./harmonic-response.js";
import type { HarmonicSpectrum } from "./harmonics.js";
import { brownianTimeStep, type PreparedResponse, tableOfSizes, tableOfSizesAndTimes } from "./response-table.js";

export const harmonicRelaxations = ["none", "debye", "brownian"] as const;
export type HarmonicRelaxation = (typeof harmonicRelaxations)[number];

/** Products w tau that a spectrum can tell from an instant or a frozen answer. */
const omegaTauBounds = { lower: 1e-3, upper: 100 } as const;

/** Wider than this the few cores at the far end carry all: no spectrum tells such widths apart. */
const logSdBounds = { lower: 1e-3, upper: 0.8 } as const;

/** Medians whose xi at the drive's peak lies between 0.02, where there are no harmonics, and the end of the table. */
function medianBounds(
  core: { readonly saturation_A_per_m: number; readonly temperature_K: number },
  driveAmplitude_T: number,
  largestXi: number,
) {
  const perCubicMetre = driveAmplitude_T * xiPerTesla(1, core.saturation_A_per_m, core.temperature_K);
  return { lower: Math.cbrt(0.02 / perCubicMetre), upper: Math.cbrt(largestXi / perCubicMetre) };
}

/** The response of one size for a spectrum's harmonics; may be kept and passed to many fits of spectra with the same ones. */
export function harmonicResponse(
  { harmonic, biasField_T, driveAmplitude_T }: Pick<HarmonicSpectrum, "harmonic" | "biasField_T" | "driveAmplitude_T">,
  relaxation: HarmonicRelaxation,
): PreparedResponse {
  const set = { harmonic, biasRatio: biasField_T / driveAmplitude_T };
  return relaxation === "brownian"
    ? tableOfSizesAndTimes(brownianHarmonics(set))
    : tableOfSizes(equilibriumHarmonics(set));
}

/** A measured spectrum with its model, to be fitted alone or with others. */
export function harmonicsBlock(
  spectrum: HarmonicSpectrum,
  relaxation: HarmonicRelaxation,
  response: PreparedResponse = harmonicResponse(spectrum, relaxation),
): FitBlock {
  requireRelaxation(relaxation);
  const core = requireCore(spectrum);
  const viscosity_Pa_s = relaxation === "brownian" ? requireViscosity(spectrum) : 0;
  const omega = 2 * Math.PI * spectrum.frequency_Hz;
  const hydrodynamic = { viscosity_Pa_s, temperature_K: core.temperature_K };
  const { harmonic, hasPhase, driveAmplitude_T } = spectrum;
  const complex = new Float64Array(2 * harmonic.length);
  const own = ownParameter(relaxation, omega, hydrodynamic);
  const relative = (values: Float64Array) => {
    const [, medianDiameter_m, logSd, time] = values;
    const sizes = { kind: "lognormal", weighting: "number", medianDiameter_m, logSd } as const;
    const relaxing =
      relaxation === "debye"
        ? { debyeOmegaTau: omega * time }
        : relaxation === "brownian"
          ? {
              logOmegaTau: Math.log(omega * brownTime_s(time, hydrodynamic.viscosity_Pa_s, hydrodynamic.temperature_K)),
            }
          : {};
    return ensembleHarmonics({ sizes, ...core }, response, { driveAmplitude_T, harmonic, ...relaxing, out: complex });
  };
  const predict = (values: Float64Array, out: Float64Array) => {
    const h = relative(values);
    for (let k = 0; k < harmonic.length; k++) {
      if (!hasPhase) out[k] = values[0] * Math.hypot(h[2 * k], h[2 * k + 1]);
      else {
        out[2 * k] = values[0] * h[2 * k];
        out[2 * k + 1] = values[0] * h[2 * k + 1];
      }
    }
    return out;
  };
  const observed = hasPhase
    ? Float64Array.from(spectrum.moment)
    : Float64Array.from(harmonic, (_, k) => Math.hypot(spectrum.moment[2 * k], spectrum.moment[2 * k + 1]));
  const sigma =
    spectrum.sigma && (hasPhase ? Float64Array.from([...spectrum.sigma].flatMap((s) => [s, s])) : spectrum.sigma);
  return {
    instrument: "spectroscopy",
    name: spectrum.name,
    model: `${relaxation === "none" ? "equilibrium" : relaxation}-harmonics`,
    equation: equations[relaxation],
    dataUnit: spectrum.unit,
    parameters: [
      { name: "saturation", unit: spectrum.unit, lower: 0, upper: Number.POSITIVE_INFINITY },
      { name: "median-diameter", unit: "m", ...medianBounds(core, driveAmplitude_T, response.largestXi) },
      { name: "log-sd", unit: "1", ...logSdBounds },
      ...own,
    ],
    shared: ["median-diameter", "log-sd", ...own.map(({ name }) => name)],
    observed,
    ...(sigma ? { sigma } : {}),
    predict,
    candidates: () => candidates({ predict, observed, sigma, own, omega, hydrodynamic }),
    rowName: (row) =>
      hasPhase
        ? `harmonic ${harmonic[Math.floor(row / 2)]} (${row % 2 === 0 ? "real" : "imaginary"})`
        : `harmonic ${harmonic[row]}`,
    advisories: [...modelAdvisories(spectrum, relaxation), ...originAdvisories(spectrum)],
  };
}

const equations: Record<HarmonicRelaxation, string> = {
  none: "m_k = S <d^3 c_k(xi)>/<d^3>, c_k harmonics of L(xi cos wt)",
  debye: "m_k = S <d^3 c_k(xi)>/<d^3> / (1 + i k w tau), c_k harmonics of L(xi cos wt)",
  brownian: "m_k = S <d^3 c_k(xi, w tau_B)>/<d^3>, c_k from the Fokker-Planck equation, tau_B = pi eta d_H^3/(2 kB T)",
};

type Liquid = { readonly viscosity_Pa_s: number; readonly temperature_K: number };

function ownParameter(relaxation: HarmonicRelaxation, omega: number, liquid: Liquid): BlockParameter[] {
  const [lower, upper] = [omegaTauBounds.lower / omega, omegaTauBounds.upper / omega];
  if (relaxation === "debye") return [{ name: "relaxation-time", unit: "s", lower, upper }];
  if (relaxation === "none") return [];
  const perCubicMetre = brownTime_s(1, liquid.viscosity_Pa_s, liquid.temperature_K);
  return [
    {
      name: "median-hydrodynamic-diameter",
      unit: "m",
      lower: Math.cbrt(lower / perCubicMetre),
      upper: Math.cbrt(upper / perCubicMetre),
    },
  ];
}

/** Sizes, widths and times on a coarse grid; the scale of each is that of least squares. */
function candidates({
  predict,
  observed,
  sigma,
  own,
  omega,
  hydrodynamic,
}: {
  predict: FitBlock["predict"];
  observed: Float64Array;
  sigma: Float64Array | undefined;
  own: readonly BlockParameter[];
  omega: number;
  hydrodynamic: Liquid;
}): Float64Array[] {
  const times = own.length === 0 ? [[]] : [-24, -12, 0, 12].map((row) => [Math.exp(row * brownianTimeStep) / omega]);
  const isDiameter = own[0]?.unit === "m";
  const out = new Float64Array(observed.length);
  const list: Float64Array[] = [];
  for (const volumeMedian_m of [6e-9, 9e-9, 13e-9, 18e-9, 25e-9, 34e-9, 48e-9])
    for (const logSd of [0.08, 0.3])
      for (const time of times) {
        const last = isDiameter
          ? time.map((t) => Math.cbrt(t / brownTime_s(1, hydrodynamic.viscosity_Pa_s, hydrodynamic.temperature_K)))
          : time;
        const start = Float64Array.from([1, volumeMedian_m * Math.exp(-3 * logSd ** 2), logSd, ...last]);
        predict(start, out);
        let [top, bottom] = [0, 0];
        for (let i = 0; i < out.length; i++) {
          const weight = 1 / (sigma?.[i] ?? 1) ** 2;
          top += weight * out[i] * observed[i];
          bottom += weight * out[i] ** 2;
        }
        start[0] = Math.max(0, top / bottom);
        list.push(start);
      }
  return list;
}

function requireRelaxation(relaxation: HarmonicRelaxation): void {
  if (harmonicRelaxations.includes(relaxation)) return;
  throw new FerruleError("UnknownName", {
    path: "relaxation",
    found: String(relaxation),
    accepted: `one of ${harmonicRelaxations.join(", ")}`,
  });
}

function missing(name: string, path: string, [what, example]: readonly [string, string]): FerruleError {
  return new FerruleError("MissingFact", {
    path: `facts.${path}`,
    found: `spectrum "${name}" without ${what}`,
    accepted: `add it to the descriptor, e.g. "${path}": { "value": "${example}", "status": "assumed", "note": "why" }`,
  });
}

function requireCore({ name, coreSaturation_A_per_m: saturation_A_per_m, temperature_K }: HarmonicSpectrum) {
  if (saturation_A_per_m === undefined)
    throw missing(name, "coreSaturation", [
      "the saturation of its cores, which turns a moment into a core diameter",
      "446 kA/m",
    ]);
  if (temperature_K === undefined) throw missing(name, "temperature", ["its temperature", "300 K"]);
  return { saturation_A_per_m, temperature_K };
}

function requireViscosity({ name, medium }: HarmonicSpectrum): number {
  if (medium?.viscosity_Pa_s !== undefined) return medium.viscosity_Pa_s;
  throw missing(name, "viscosity", [
    "the viscosity of its liquid, which turns a Brown time into a hydrodynamic diameter",
    "0.89 mPa.s",
  ]);
}

/** An amplitude below this many sigma reads high: noise of either sign adds to it. */
const amplitudeFloor = 3;

function modelAdvisories(spectrum: HarmonicSpectrum, relaxation: HarmonicRelaxation): FitAdvisory[] {
  const { hasPhase, unit, harmonic, moment, sigma } = spectrum;
  const list: FitAdvisory[] = [];
  const buried = Array.from(harmonic).filter(
    (_, k) => Math.hypot(moment[2 * k], moment[2 * k + 1]) < amplitudeFloor * (sigma?.[k] ?? 0),
  );
  if (!hasPhase && buried.length > 0)
    list.push({
      code: "amplitude-only",
      message: `harmonic${buried.length > 1 ? "s" : ""} ${buried.join(", ")} lie within ${amplitudeFloor} sigma of zero, where an amplitude without phase reads high; leave them out or measure the phase`,
    });
  if (!hasPhase && relaxation !== "none")
    list.push({
      code: "amplitude-only",
      message:
        "without phases relaxation shows only in how fast the harmonics fall, as the width of the size distribution does: log-sd and the relaxation are hardly told apart",
    });
  if (relaxation === "debye")
    list.push({
      code: "effective-parameter",
      message:
        "one Debye time is a linear filter of the equilibrium signal: at large drive rotating particles do otherwise, and the time is an effective one at this drive",
    });
  if (relaxation === "brownian")
    list.push({
      code: "effective-parameter",
      message: "one hydrodynamic diameter stands for all particles, with moments fixed in them: an effective one",
    });
  if (unit === "1")
    list.push({ code: "precision-only", message: "arbitrary units: the saturation is a scale and no moment" });
  return list;
}
