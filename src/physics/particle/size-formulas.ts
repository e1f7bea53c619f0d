import type { Formula, FormulaInput } from "../../units/index.js";
import type { LogNormalSizes } from "./core-sizes.js";
import { diameterMoment, volumeWeighted } from "./size-distribution.js";

const medianInput: FormulaInput = {
  name: "median-diameter",
  kind: "length",
  summary: "median of the number-weighted core diameters",
  example: "12.24 nm",
  minimum: 0,
  aboveMinimum: true,
};

const logSdInput: FormulaInput = {
  name: "log-sd",
  kind: "dimensionless",
  summary: "standard deviation of ln d (the same under both weightings)",
  example: "0.114",
  minimum: 0,
  maximum: 2,
};

const sizesOf = (inputs: Readonly<Record<string, number>>): LogNormalSizes => ({
  kind: "lognormal",
  weighting: "number",
  medianDiameter_m: inputs["median-diameter"],
  logSd: inputs["log-sd"],
});

export const lognormalMomentFormula: Formula = {
  name: "lognormal-moment",
  subject: "particle",
  summary: "raw moment of log-normal core diameters: how much a power of d exceeds that of the median core",
  equation: "<d^n> = d0^n exp(n^2 s^2 / 2)",
  inputs: [
    medianInput,
    logSdInput,
    {
      name: "order",
      kind: "dimensionless",
      summary: "the power n: 3 for the magnetic volume, 6 for the low-field signal",
      example: "6",
      default: "3",
      minimum: 0,
      aboveMinimum: true,
      maximum: 12,
    },
  ],
  outputs: [
    { name: "ratio", kind: "dimensionless", unit: "1", summary: "<d^n> / d0^n" },
    { name: "diameter", kind: "length", unit: "nm", summary: "<d^n>^(1/n)" },
  ],
  validity: "number-weighted log-normal diameters",
  source: { text: "log-normal statistics", status: "derived" },
  compute: (inputs) => {
    const moment = diameterMoment({ ...sizesOf(inputs), medianDiameter_m: 1 }, inputs.order);
    return { ratio: moment, diameter: inputs["median-diameter"] * moment ** (1 / inputs.order) };
  },
};

export const volumeMedianFormula: Formula = {
  name: "volume-median",
  subject: "particle",
  summary: "volume-weighted median core diameter that goes with a number-weighted one",
  equation: "d_V = d_N exp(3 s^2)",
  inputs: [medianInput, logSdInput],
  outputs: [
    { name: "volume-median", kind: "length", unit: "nm", summary: "median of the volume-weighted diameters" },
    { name: "ratio", kind: "dimensionless", unit: "1", summary: "d_V / d_N" },
  ],
  validity: "log-normal diameters",
  source: { text: "d^3 times a log-normal density is a log-normal with its median moved", status: "derived" },
  compute: (inputs) => {
    const { medianDiameter_m } = volumeWeighted(sizesOf(inputs));
    return { "volume-median": medianDiameter_m, ratio: medianDiameter_m / inputs["median-diameter"] };
  },
};
