import type { Formula } from "../../units/index.js";
import { frequencyInput, standingAdvice } from "../formula-inputs.js";
import { basicRestriction_V_per_m, referenceLevel_T } from "./reference-levels.js";

const volts = { kind: "electricField", unit: "V/m" } as const;

export const icnirpReferenceLevelFormula: Formula = {
  name: "icnirp-reference-level",
  subject: "safety",
  summary: "ICNIRP 2010 levels for people at work and for anyone; never for a scan subject",
  equation:
    "B_rms: occupational 0.3/f T below 3 kHz, 0.1 mT above; public 0.08/f T, 0.027 mT; E_rms: 2.7e-4 f V/m above 3 kHz, public half",
  inputs: [{ ...frequencyInput, minimum: 400, maximum: 10e6, aboveMinimum: false }],
  outputs: [
    {
      name: "occupational",
      kind: "appliedField",
      unit: "mT",
      summary: "reference level at work, rms",
      label: "occupational field (rms)",
    },
    {
      name: "public",
      kind: "appliedField",
      unit: "mT",
      summary: "reference level for anyone, rms",
      label: "public field (rms)",
    },
    { name: "occupational-electric-field", ...volts, summary: "basic restriction at work, rms, all tissue" },
    { name: "public-electric-field", ...volts, summary: "basic restriction for anyone, rms, all tissue" },
    {
      name: "occupational-electric-field-peak",
      ...volts,
      summary: "that at work as the peak of a sine, sqrt 2 x rms",
    },
  ],
  validity: "sinusoids, 400 Hz to 10 MHz; whole person absent from the field; heating limits beside it above 100 kHz",
  source: {
    text: "ICNIRP, Health Phys. 99:818 (2010): B as table 7.3 of a bioelectromagnetism handbook (read), E from memory",
    status: "from memory",
  },
  compute: ({ frequency }) => {
    const occupational = basicRestriction_V_per_m(frequency, "occupational") ?? Number.NaN;
    return {
      occupational: referenceLevel_T(frequency, "occupational") ?? Number.NaN,
      public: referenceLevel_T(frequency, "public") ?? Number.NaN,
      "occupational-electric-field": occupational,
      "public-electric-field": basicRestriction_V_per_m(frequency, "public") ?? Number.NaN,
      "occupational-electric-field-peak": Math.SQRT2 * occupational,
    };
  },
  advise: ({ frequency }) => [
    ...(frequency < 3e3
      ? ["electric field below 3 kHz: 0.8 and 0.4 V/m, read at 60 Hz only, the range from memory"]
      : []),
    "the European and Norwegian workers' rule gives the electric field as a peak: 1.1 V/m below 3 kHz, 3.8e-4 f V/m above",
    "implants and pregnancy are outside these levels",
    standingAdvice,
  ],
};
