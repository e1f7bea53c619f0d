import type { Formula, FormulaInput } from "../../units/index.js";
import { coreDiameterInput, temperatureInput } from "../particle/formula-inputs.js";
import { debyeFactor } from "./debye.js";
import { exactNeelTime_s } from "./neel-eigenvalue.js";
import {
  arrheniusTime_s,
  barrierRatio,
  brownTime_s,
  combinedTimeCaveat,
  highBarrierTime_s,
} from "./relaxation-times.js";

const positive = { minimum: 0, aboveMinimum: true } as const;

const zeroField =
  "zero field: a drive shortens relaxation strongly, so a verdict on a tracer needs the time at drive amplitude";

const viscosityInput: FormulaInput = {
  name: "viscosity",
  kind: "viscosity",
  summary: "dynamic viscosity of the liquid around the particle",
  example: "0.89 mPa.s",
  ...positive,
};

export const brownTimeFormula: Formula = {
  name: "brown-time",
  subject: "particle",
  summary: "zero-field relaxation time of a particle that turns as a whole in a liquid",
  equation: "tau_B = pi eta d_H^3 / (2 kB T)",
  inputs: [
    {
      name: "hydrodynamic-diameter",
      kind: "length",
      summary: "diameter of the particle with its coating, as it turns in the liquid",
      example: "100 nm",
      ...positive,
    },
    viscosityInput,
    temperatureInput,
  ],
  outputs: [
    { name: "brown-time", kind: "time", unit: "us", summary: "zero-field Brown time" },
    {
      name: "loss-peak",
      kind: "frequency",
      unit: "Hz",
      summary: "frequency of the largest loss at small fields, 1/(2 pi tau_B)",
    },
  ],
  validity: "a sphere in a Newtonian liquid, zero field; hydrodynamic, not core diameter",
  source: { text: "Brown 1963 / Debye 1929", status: "from memory" },
  compute: (inputs) => {
    const time_s = brownTime_s(inputs["hydrodynamic-diameter"], inputs.viscosity, inputs.temperature);
    return { "brown-time": time_s, "loss-peak": 1 / (2 * Math.PI * time_s) };
  },
  advise: () => [zeroField],
};

export const neelTimeFormula: Formula = {
  name: "neel-time",
  subject: "particle",
  summary: "zero-field relaxation time of a moment that turns inside its core",
  equation: "sigma = K V/(kB T); Arrhenius tau_0 e^sigma; high barrier (sqrt(pi)/2) tau_0 e^sigma / sqrt(sigma)",
  inputs: [
    coreDiameterInput,
    {
      name: "anisotropy",
      kind: "energyDensity",
      summary: "uniaxial anisotropy constant of the core",
      example: "13 kJ/m3",
      ...positive,
    },
    {
      name: "attempt-time",
      kind: "time",
      summary: "time between attempts at the barrier, 0.1 ns to 1 ns",
      example: "1 ns",
      ...positive,
    },
    temperatureInput,
  ],
  outputs: [
    { name: "barrier-ratio", kind: "dimensionless", unit: "1", summary: "barrier over thermal energy, sigma" },
    { name: "arrhenius-time", kind: "time", unit: "ms", summary: "tau_0 e^sigma" },
    { name: "high-barrier-time", kind: "time", unit: "ms", summary: "Brown's form for a high barrier" },
  ],
  validity: "one uniaxial core, zero field; the high-barrier form for sigma above 2; core, not hydrodynamic diameter",
  source: {
    text: "Arrhenius form: encyclopaedia article on Neel relaxation (read); high barrier: Rosensweig, JMMM 252:370 (2002)",
    status: "from memory",
  },
  compute: (inputs) => {
    const sigma = barrierRatio(inputs["core-diameter"], inputs.anisotropy, inputs.temperature);
    return {
      "barrier-ratio": sigma,
      "arrhenius-time": arrheniusTime_s(sigma, inputs["attempt-time"]),
      "high-barrier-time": highBarrierTime_s(sigma, inputs["attempt-time"]),
    };
  },
  advise: (inputs) => {
    const sigma = barrierRatio(inputs["core-diameter"], inputs.anisotropy, inputs.temperature);
    const advice = [zeroField, `joined with a Brown time to one rate: ${combinedTimeCaveat}`];
    if (sigma < 2) advice.push("sigma is below 2: there is no barrier to speak of and the high-barrier form fails");
    else if (sigma <= 500) {
      const low = 1 - highBarrierTime_s(sigma, 1 / sigma) / exactNeelTime_s(sigma, 1);
      if (Math.abs(low) >= 0.01)
        advice.push(
          `the high-barrier form is ${Math.abs(100 * low).toFixed(0)} % too ${low > 0 ? "short" : "long"} at this sigma against the exact eigenvalue`,
        );
    }
    return advice;
  },
};

export const debyeResponseFormula: Formula = {
  name: "debye-response",
  subject: "particle",
  summary: "what one relaxation time does to a signal of one frequency",
  equation: "chi/chi_0 = 1/(1 + i w tau)",
  inputs: [
    { name: "frequency", kind: "frequency", summary: "frequency of the field", example: "25 kHz", ...positive },
    { name: "relaxation-time", kind: "time", summary: "one constant relaxation time", example: "3 us", minimum: 0 },
  ],
  outputs: [
    { name: "omega-tau", kind: "dimensionless", unit: "1", summary: "2 pi f tau" },
    { name: "amplitude-ratio", kind: "dimensionless", unit: "1", summary: "amplitude over its quasi-static value" },
    { name: "lag", kind: "angle", unit: "deg", summary: "lag behind the field" },
    { name: "in-phase", kind: "dimensionless", unit: "1", summary: "chi'/chi_0" },
    { name: "out-of-phase", kind: "dimensionless", unit: "1", summary: "chi''/chi_0" },
  ],
  validity: "small fields, one constant time; for a large drive the time depends on the field",
  source: { text: "Debye; Rosensweig, JMMM 252:370 (2002)", status: "from memory" },
  compute: (inputs) => {
    const omegaTau = 2 * Math.PI * inputs.frequency * inputs["relaxation-time"];
    const { amplitude, lag_rad, inPhase, lagging } = debyeFactor(omegaTau);
    return {
      "omega-tau": omegaTau,
      "amplitude-ratio": amplitude,
      lag: lag_rad,
      "in-phase": inPhase,
      "out-of-phase": lagging,
    };
  },
};
