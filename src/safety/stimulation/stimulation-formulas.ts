import { type Formula, type FormulaInput, formatNumber, formatQuantity } from "../../units/index.js";
import { frequencyInput, standingAdvice } from "../formula-inputs.js";
import { headChronaxie_s } from "./head-chronaxie.js";
import { departurePoints, measuredDeparture } from "./measured-departure.js";
import { operatingModes, type StrengthDuration, thresholdChange_T } from "./strength-duration.js";

type Inputs = Readonly<Record<string, number>>;

const fitOf = (inputs: Inputs): StrengthDuration => ({
  rheobase_T_per_s: inputs.rheobase,
  chronaxie_s: inputs.chronaxie,
});

const rheobaseInput: FormulaInput = {
  name: "rheobase",
  kind: "fieldRate",
  summary: "rate that just stimulates, however long; default of IEC 60601-2-33 (2022, quoted)",
  example: "26 T/s",
  default: "20 T/s",
  minimum: 0,
  aboveMinimum: true,
};

const chronaxieInput: FormulaInput = {
  name: "chronaxie",
  kind: "time",
  summary: "duration that doubles the rheobase; default of IEC 60601-2-33 (2022, quoted)",
  example: "0.38 ms",
  default: "0.36 ms",
  minimum: 0,
  aboveMinimum: true,
};

const field = { kind: "appliedField", unit: "mT" } as const;

export const stimulationThresholdFormula: Formula = {
  name: "stimulation-threshold",
  subject: "safety",
  summary: "nerve stimulation by a sinusoidal field: strength-duration hyperbola, people only",
  equation: "dB_pp = rb (d + c), d = 1/(2 f); normal mode 0.8 dB_pp; amplitude dB_pp/2",
  inputs: [frequencyInput, rheobaseInput, chronaxieInput],
  outputs: [
    { name: "first-level", ...field, summary: "mean threshold (100 %), peak to peak" },
    { name: "normal-mode", ...field, summary: "80 % of it, peak to peak" },
    { name: "first-level-amplitude", ...field, summary: "mean threshold as peak amplitude" },
    { name: "normal-mode-amplitude", ...field, summary: "80 % of it as peak amplitude" },
  ],
  validity: "people in whole-body gradient coils, pulses near 0.05 to some ms; measured to fail above about 25 kHz",
  source: {
    text: "hyperbola: Bourland et al., Neuroimaging Clin. N. Am. 9:363 (1999), abstract; defaults and 80/100 %: IEC 60601-2-33, 2022 edition, as quoted in public documents",
    status: "read (secondary)",
  },
  compute: (inputs) => {
    const change_T = thresholdChange_T(0.5 / inputs.frequency, fitOf(inputs));
    const { normal, firstLevel } = operatingModes;
    return {
      "first-level": firstLevel * change_T,
      "normal-mode": normal * change_T,
      "first-level-amplitude": (firstLevel * change_T) / 2,
      "normal-mode-amplitude": (normal * change_T) / 2,
    };
  },
  advise: (inputs) => [
    adviseOnReading(inputs),
    adviseOnDeparture(inputs.frequency),
    "not for animals: no stimulation standard covers rodents",
    `head: a chronaxie of ${formatQuantity(headChronaxie_s, "time", { digits: 3 })} is published without a rheobase; an early law, dB/dt as t^-0.5 (shape only), matched at the chronaxie lies below the hyperbola`,
    standingAdvice,
  ],
};

/** The other readings of the stimulus duration of a sine, at the first level. */
function adviseOnReading(inputs: Inputs): string {
  const { frequency } = inputs;
  const show = (change_T: number) => formatQuantity(change_T, "appliedField");
  const effective = show(thresholdChange_T(1 / (Math.PI * frequency), fitOf(inputs)));
  const strictest = show(thresholdChange_T(0.5 / frequency, fitOf(inputs)) / (Math.PI / 2));
  return `mean rate and d = 1/(2 f) here; with the peak rate the first level is ${effective} for d = 1/(pi f), ${strictest} for d = 1/(2 f)`;
}

function adviseOnDeparture(frequency_Hz: number): string {
  const { minimum_Hz } = departurePoints;
  if (frequency_Hz < minimum_Hz) return "gradient-coil fit: an extrapolation to a homogeneous drive field";
  const factor = measuredDeparture(frequency_Hz);
  if (factor === null)
    return "measured on heads up to 88.1 kHz only, where the threshold was 1.39 times that near 25 kHz; above: no published threshold in our sources";
  return `the hyperbola fails here: measured on heads, the threshold is x${formatNumber(factor, 3)} that near 25 kHz (Barksdale et al. 2025; straight in ln f between two points)`;
}

export const stimulationDepartureFormula: Formula = {
  name: "stimulation-departure",
  subject: "safety",
  summary: "measured threshold of head stimulation over its least value near 25 kHz",
  equation: "1 + 0.39 ln(f/25 kHz) / ln(88.1/25)",
  inputs: [
    {
      ...frequencyInput,
      example: "88.1 kHz",
      minimum: departurePoints.minimum_Hz,
      maximum: departurePoints.highest_Hz,
      aboveMinimum: false,
    },
  ],
  outputs: [
    { name: "ratio", kind: "dimensionless", unit: "1", summary: "peak-to-peak threshold over that near 25 kHz" },
  ],
  validity: "heads of 8 volunteers in a solenoid, sinusoids, 25 to 88.1 kHz; nothing published outside in our sources",
  source: {
    text: "Barksdale et al., IEEE J. Transl. Eng. Health Med. 13:275 (2025), PMC12310169: both ends; interpolation ours",
    status: "derived",
  },
  compute: ({ frequency }) => ({ ratio: measuredDeparture(frequency) ?? Number.NaN }),
  advise: () => ["a shape, not a limit: it raises no limit of the standard", standingAdvice],
};
