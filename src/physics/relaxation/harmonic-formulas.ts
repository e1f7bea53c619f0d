import type { Formula, FormulaInput } from "../../units/index.js";
import { brownianUnderCosine, type Harmonic, waveformHarmonic } from "./fokker-planck-harmonics.js";
import { harmonicDecay, quasiStaticHarmonic, requireOdd } from "./quasi-static-harmonics.js";

const driveXiInput = (maximum: number): FormulaInput => ({
  name: "drive-xi",
  kind: "dimensionless",
  summary: "magnetic over thermal energy at the peak of the drive, m mu0H / (kB T)",
  example: "5",
  minimum: 0,
  aboveMinimum: true,
  maximum,
});

const harmonicInput = (maximum: number): FormulaInput => ({
  name: "harmonic",
  kind: "dimensionless",
  summary: "order of the harmonic, an odd whole number",
  example: "3",
  minimum: 1,
  maximum,
});

export const driveHarmonicFormula: Formula = {
  name: "drive-harmonic",
  subject: "signal",
  summary: "harmonic of the equilibrium magnetisation under a cosine drive",
  equation: "c_n = (2/pi) int_0^pi L(xi0 cos x) cos(n x) dx",
  inputs: [driveXiInput(1e5), harmonicInput(9999)],
  outputs: [
    { name: "harmonic-amplitude", kind: "dimensionless", unit: "1", summary: "c_n in M/Ms, with its sign" },
    {
      name: "decay-ratio",
      kind: "dimensionless",
      unit: "1",
      summary: "c_(n+2)/c_n far up the spectrum, -exp(-2 asinh(pi/xi0))",
    },
  ],
  validity: "drive slow against relaxation; independent cores of one size; no bias field",
  source: { text: "Fourier series of the Langevin curve; decay from the poles of L", status: "derived" },
  compute: (inputs) => ({
    "harmonic-amplitude": quasiStaticHarmonic(inputs["drive-xi"], inputs.harmonic),
    "decay-ratio": harmonicDecay(inputs["drive-xi"]),
  }),
};

/** Errors of harmonics are below this: twice the tolerance asked of the samples. */
const harmonicError = 2e-9;

const highestDynamicHarmonic = 255;

export const fokkerPlanckHarmonicFormula: Formula = {
  name: "fokker-planck-harmonic",
  subject: "signal",
  summary: "harmonic of the magnetisation of particles that turn in a liquid, under a cosine drive of any strength",
  equation: "2 tau_B dW/dt = d/dx[(1-x^2)(dW/dx - xi0 cos(wt) W)]; M/Ms = <x> = Re sum m_n e^(i n w t)",
  inputs: [
    driveXiInput(1000),
    {
      name: "omega-tau",
      kind: "dimensionless",
      summary: "angular drive frequency times the zero-field Brown time",
      example: "1",
      minimum: 1e-6,
      maximum: 1e6,
    },
    harmonicInput(highestDynamicHarmonic),
  ],
  outputs: [
    { name: "harmonic-amplitude", kind: "dimensionless", unit: "1", summary: "|m_n| in M/Ms" },
    { name: "phase", kind: "angle", unit: "deg", summary: "phase of m_n for a drive cos wt; a lag is negative" },
  ],
  validity:
    "Brownian rotation of independent equal particles, moment fixed in the particle; field along one axis, no bias",
  source: {
    text: "Felderhof & Jones, J. Phys. Cond. Mat. 15:4011 (2003); Yoshida & Enpuku, Jpn. J. Appl. Phys. 48:127002 (2009); solved by Legendre moments",
    status: "from memory",
  },
  compute: (inputs) => {
    const { amplitude, phase_rad } = dynamicHarmonic(inputs);
    return { "harmonic-amplitude": amplitude, phase: phase_rad };
  },
  advise: (inputs) =>
    dynamicHarmonic(inputs).amplitude < 100 * harmonicError
      ? [`the harmonic is not far above the error of the solution (${harmonicError}): its phase means little`]
      : [],
};

function dynamicHarmonic(inputs: Readonly<Record<string, number>>): Harmonic {
  const order = requireOdd(inputs.harmonic, highestDynamicHarmonic);
  const driveXi = inputs["drive-xi"];
  // Harmonic N - n passes for n among N samples; harmonics fall at least as e^(-n asinh(pi/xi0)), and e^-23 is 1e-10.
  const samples = Math.max(256, 4 * Math.ceil((order + 23 / Math.asinh(Math.PI / driveXi)) / 4));
  const options = { samples, tolerance: harmonicError / 2 };
  return waveformHarmonic(brownianUnderCosine(driveXi, inputs["omega-tau"], options).magnetisation, order);
}
