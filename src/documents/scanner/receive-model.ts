import { fieldAtPoint } from "../../physics/index.js";
import { boltzmannConstant_J_per_K } from "../../units/index.js";
import { type Axis, axisIndex } from "../fields/axis-field.js";
import type { ParsedReceive } from "./receive-field.js";
import { toWinding, type WindingModel } from "./winding-field.js";

export interface ReceiveModel {
  readonly axis: Axis;
  /** Magnitude of B_R/I at the centre; the sign is `polarity`. */
  readonly sensitivity_T_per_A: number;
  readonly polarity: 1 | -1;
  /** Stated, or of coil resistance and amplifier alone (no inductance, no loading): the chain's own density is `inspect`'s. */
  readonly noise_V_per_sqrtHz: number;
  readonly bandwidth_Hz?: number | undefined;
  readonly removesFundamental: boolean;
  readonly windings?: readonly WindingModel[] | undefined;
  readonly chain: ReceiveChainModel;
}

/** What is known of the chain beyond its two numbers. */
export interface ReceiveChainModel {
  /** The document states one total noise instead of its parts. */
  readonly statedNoise_V_per_sqrtHz?: number | undefined;
  readonly resistance_Ohm?: number | undefined;
  readonly inductance_H?: number | undefined;
  readonly capacitance_F?: number | undefined;
  readonly temperature_K: number;
  readonly amplifier?:
    | { readonly voltageNoise_V_per_sqrtHz: number; readonly currentNoise_A_per_sqrtHz: number }
    | undefined;
  readonly digitiser?:
    | { readonly bits: number; readonly range_V: number; readonly rate_per_s: number; readonly gain: number }
    | undefined;
  readonly lowCutoff_Hz?: number | undefined;
  readonly filterOrder: number;
  readonly fundamentalLeft: number;
  readonly imbalance?: number | undefined;
  readonly distortion?: number | undefined;
  readonly instability?: number | undefined;
}

export function toReceive(parsed: ParsedReceive): ReceiveModel {
  const { axis, polarity, bandwidth, removesFundamental } = parsed;
  const windings = parsed.windings?.map(toWinding);
  return {
    axis,
    sensitivity_T_per_A: parsed.sensitivity ?? sensitivityAtCentre(windings ?? [], axis),
    polarity,
    noise_V_per_sqrtHz: parsed.noise ?? plainNoise(parsed),
    bandwidth_Hz: bandwidth,
    removesFundamental,
    windings,
    chain: toChain(parsed),
  };
}

function toChain({ amplifier, digitiser, ...parsed }: ParsedReceive): ReceiveChainModel {
  return {
    statedNoise_V_per_sqrtHz: parsed.noise,
    resistance_Ohm: parsed.resistance,
    inductance_H: parsed.inductance,
    capacitance_F: parsed.capacitance,
    temperature_K: parsed.temperature ?? coilTemperature_K,
    amplifier: amplifier && {
      voltageNoise_V_per_sqrtHz: amplifier.voltageNoise,
      currentNoise_A_per_sqrtHz: amplifier.currentNoise ?? 0,
    },
    digitiser: digitiser && {
      bits: digitiser.bits,
      range_V: digitiser.range,
      rate_per_s: digitiser.rate,
      gain: digitiser.gain ?? 1,
    },
    lowCutoff_Hz: parsed.lowCutoff,
    filterOrder: parsed.filterOrder ?? 4,
    fundamentalLeft: parsed.fundamentalLeft ?? (parsed.removesFundamental ? 0 : 1),
    imbalance: parsed.imbalance,
    distortion: parsed.distortion,
    instability: parsed.instability,
  };
}

const coilTemperature_K = 300;

function sensitivityAtCentre(windings: readonly WindingModel[], axis: Axis): number {
  return Math.abs(
    fieldAtPoint(
      windings.flatMap(({ sources }) => sources),
      [0, 0, 0],
    )[axisIndex(axis)],
  );
}

/** sqrt(4 kB T R + e_n^2 + i_n^2 R^2): facts N12 with |Z| = R. */
function plainNoise({ amplifier, resistance = 0, temperature = coilTemperature_K }: ParsedReceive): number {
  const johnson = 4 * boltzmannConstant_J_per_K * temperature * resistance;
  return Math.sqrt(johnson + (amplifier?.voltageNoise ?? 0) ** 2 + ((amplifier?.currentNoise ?? 0) * resistance) ** 2);
}
