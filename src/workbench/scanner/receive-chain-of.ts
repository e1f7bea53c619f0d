import type { ReceiveModel, ScannerModel } from "../../documents/index.js";
import { bodyLoading, type ReceiveChain } from "../../physics/index.js";
import { scannerBody } from "./scanner-body.js";

/** Stands in for what a document does not state: no rounding worth speaking of, far above any band. */
const unstatedDigitiser = { bits: 32, range_V: 1, samplingRate_Hz: 100e6 };

/** A coil without a stated inductance: small enough to play no part, and said. */
const unstatedInductance_H = 1e-12;

export interface StatedChain {
  readonly chain: ReceiveChain;
  /** What the document leaves out and was taken as playing no part. */
  readonly unstated: readonly string[];
}

/** The receive chain as the physics takes it; `undefined` where one total noise is stated in place of its parts. */
export function receiveChainOf(channel: ReceiveModel, scanner: ScannerModel): StatedChain | undefined {
  const {
    amplifier,
    resistance_Ohm,
    inductance_H,
    capacitance_F,
    digitiser,
    lowCutoff_Hz,
    filterOrder,
    temperature_K,
  } = channel.chain;
  if (amplifier === undefined || resistance_Ohm === undefined) return undefined;
  return {
    chain: {
      coil: {
        resistance_Ohm,
        inductance_H: inductance_H ?? unstatedInductance_H,
        capacitance_F: capacitance_F ?? 0,
        temperature_K,
        body: loadingOf(channel, scanner),
      },
      filter: {
        highPass: lowCutoff_Hz === undefined ? undefined : { corner_Hz: lowCutoff_Hz, order: filterOrder },
        lowPass:
          channel.bandwidth_Hz === undefined ? undefined : { corner_Hz: channel.bandwidth_Hz, order: filterOrder },
      },
      amplifier: { ...amplifier, gain: digitiser?.gain ?? 1 },
      // The document's range is the largest magnitude, the physics' from the lowest to the highest code.
      digitiser:
        digitiser === undefined
          ? unstatedDigitiser
          : { bits: digitiser.bits, range_V: 2 * digitiser.range_V, samplingRate_Hz: digitiser.rate_per_s },
    },
    unstated: [
      ...(inductance_H === undefined ? [`receive ${channel.axis} states no inductance: taken as none`] : []),
      ...(capacitance_F === undefined ? [`receive ${channel.axis} states no capacitance: no resonance`] : []),
      ...(digitiser === undefined ? [`receive ${channel.axis} states no digitiser: no rounding`] : []),
    ],
  };
}

/** Eddy currents in the body: a cylinder as long as the bore is wide, in the coil's field at the centre. */
function loadingOf({ sensitivity_T_per_A }: ReceiveModel, scanner: ScannerModel) {
  const { body } = scannerBody(scanner);
  return bodyLoading(
    { kind: "cylinder", radius_m: body.radius_m, length_m: scanner.boreDiameter_m },
    sensitivity_T_per_A,
    { conductivity_S_per_m: body.conductivity_S_per_m, frequency_Hz: scanner.driveAxes[0].frequency_Hz },
  );
}
