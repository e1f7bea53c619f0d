import { readFileSync } from "node:fs";
import { allanDeviation } from "../../src/measure/detection/allan-deviation.js";
import { allanFreedom } from "../../src/measure/detection/allan-freedom.js";
import { massDetection } from "../../src/measure/detection/mass-detection.js";
import type { NoiseExponent } from "../../src/measure/detection/noise-identity.js";
import { bodyLoading } from "../../src/physics/receive/body-loading.js";
import { uniformFeedthroughVoltage_V } from "../../src/physics/receive/feedthrough.js";
import { coilResponse, type ReceiveChain } from "../../src/physics/receive/receive-chain.js";
import { filterGain } from "../../src/physics/receive/receive-filter.js";
import { noiseDensity_V_per_sqrtHz, noiseInBand_V } from "../../src/physics/receive/receive-noise.js";
import { coupledFlux_Wb } from "../../src/physics/receive/sensitivity.js";
import { omegaOfShare, responseShare } from "../../src/physics/receive/signal-bandwidth.js";
import { thermalNoise_V_per_sqrtHz } from "../../src/physics/receive/thermal-noise.js";
import { areaTurns_m2, fluxLinkage_Wb } from "../../src/physics/receive/winding-flux.js";
import { fieldOfSources } from "../../src/physics/sources/field-of-sources.js";
import type { CurrentSource } from "../../src/physics/sources/source.js";
import { loopBySum } from "./loop-by-sum.js";

/** Shared by the gate and the meter: the receive chain and the detection estimate against independent computations. */
export interface Comparison {
  readonly quantity: string;
  readonly at: string;
  readonly relativeError: number;
}

type Vector = readonly [number, number, number];
const truth = JSON.parse(readFileSync(new URL("./truth.json", import.meta.url), "utf8")) as Record<string, unknown>;

/** Flux of a point dipole through a loop: reciprocity against the line integral of its vector potential. */
export function fluxErrors(): Comparison[] {
  return table<[number, Vector, Vector, number]>("flux: loop radius m, position m, moment A.m2, flux Wb").flatMap(
    ([radius_m, position, moment, flux]) => {
      const own = fieldOfSources([{ kind: "loop", center_m: [0, 0, 0], normal: [0, 0, 1], radius_m, current_A: 1 }]);
      return [
        compare("flux of a dipole", position.join(" "), coupledFlux_Wb(loopBySum(radius_m), position, moment), flux),
        compare("same, own source", position.join(" "), coupledFlux_Wb(own, position, moment), flux),
      ];
    },
  );
}

/** Voltage of a dipole that swings and turns at 1 kHz: -d/dt of the coupled flux. Relative to the largest. */
export function movingErrors(): Comparison[] {
  const rows = table<[number, number]>("moving: time s, voltage V");
  const largest = Math.max(...rows.map(([, voltage]) => Math.abs(voltage)));
  const coil = loopBySum(0.02);
  const flux = (time_s: number) => {
    const [s, c] = [Math.sin(2 * Math.PI * 1e3 * time_s), Math.cos(2 * Math.PI * 1e3 * time_s)];
    return coupledFlux_Wb(coil, [0.002, 0.001, 0.008 * s], [1e-9 * s, 0, 1e-9 * c]);
  };
  return rows.map(([time_s, voltage]) => {
    const h = 2e-6;
    const rate = (k: number) => (flux(time_s + k * h) - flux(time_s - k * h)) / (2 * k * h);
    // Richardson to the sixth order on steps h, 2h, 3h.
    const found = -(15 * rate(1) - 6 * rate(2) + rate(3)) / 10;
    return {
      quantity: "voltage of a moving dipole",
      at: `${time_s} s`,
      relativeError: Math.abs(found - voltage) / largest,
    };
  });
}

/** Mutual inductance by quadrature over the receive coil's surface against Maxwell's elliptic form. */
export function mutualErrors(): Comparison[] {
  return table<[string, number, number | Vector, number, number]>(
    "mutual: kind, drive radius m, receive m, distance m, H per turn",
  ).map(([kind, driveRadius_m, receive, distance_m, inductance]) => {
    const placed = { center_m: [0, 0, distance_m] as const, normal: [0, 0, 1] as const, current_A: 7 };
    const winding: CurrentSource =
      typeof receive === "number"
        ? { kind: "loop", radius_m: receive, ...placed }
        : {
            kind: "coil-stack",
            innerRadius_m: receive[0],
            outerRadius_m: receive[1],
            length_m: receive[2],
            ...placed,
          };
    const nodes = typeof receive === "number" ? 24 : 10;
    const found = fluxLinkage_Wb([winding], loopBySum(driveRadius_m, { steps: 360 }), { nodes });
    return compare(`mutual inductance, ${kind}`, `${driveRadius_m} m, ${distance_m} m`, found, 7 * inductance);
  });
}

export function bodyErrors(): Comparison[] {
  return table<[string, number, number, number, number, number, number]>(
    "body: kind, radius m, length m, S/m, Hz, T/A, Ohm",
  ).map(([kind, radius_m, length_m, conductivity_S_per_m, frequency_Hz, sensitivity, resistance]) => {
    const sample =
      kind === "sphere" ? ({ kind, radius_m } as const) : ({ kind: "cylinder", radius_m, length_m } as const);
    const found = bodyLoading(sample, sensitivity, { conductivity_S_per_m, frequency_Hz }).resistance_Ohm;
    return compare("body loading", kind, found, resistance);
  });
}

/** Circuit gain, impedance, filter and total noise against nodal analysis and analogue filter prototypes. */
export function noiseErrors(): Comparison[] {
  const chain = chainOfTruth();
  return table<[number, number, number, number, number]>(
    "noise: Hz, coil gain, |Z| Ohm, filter gain, total V/Hz^0.5",
  ).flatMap(([f, gain, impedance, filter, total]) => {
    const coil = coilResponse(chain.coil, f, chain.amplifier);
    return [
      compare("coil gain", `${f} Hz`, coil.gain, gain),
      compare("coil impedance", `${f} Hz`, coil.outputImpedance_Ohm, impedance),
      compare("filter gain", `${f} Hz`, filterGain(chain.filter, f), filter),
      compare("noise density", `${f} Hz`, noiseDensity_V_per_sqrtHz(chain, f).total, total),
    ];
  });
}

export function bandErrors(): Comparison[] {
  const [from_Hz, to_Hz, rms] = table<number>("band: from Hz, to Hz, rms V");
  return [
    compare("noise in band", `${from_Hz} to ${to_Hz} Hz`, noiseInBand_V(chainOfTruth(), { from_Hz, to_Hz }), rms),
  ];
}

/** Matched filter against generalised least squares on the sampled signal with the full covariance of its noise. */
export function massErrors(): Comparison[] {
  return table<[number[], number[], number[], number, number]>("mass: orders, V/kg, V/Hz^0.5, time s, sd kg").map(
    ([orders, signal, noise, time_s, sd]) => {
      const channels = orders.map((order, i) => ({
        order,
        signal_V_per_kg: signal[i],
        noiseDensity_V_per_sqrtHz: noise[i],
        background_V: 0,
      }));
      const found = massDetection(channels, { time_s }).noise.standardUncertainty_kg;
      return compare("sd of mass", `harmonics ${orders.join(" ")}`, found, sd);
    },
  );
}

/** Test suites of the frequency-stability handbook, both generated as it says. */
export function allanErrors(): Comparison[] {
  return table<[string, number, number]>("allan: series, m, deviation").map(([name, m, deviation]) => {
    const [point] = allanDeviation(name === "nine" ? nineValues : thousandValues(), { interval_s: 1, factors: [m] });
    return compare(`Allan deviation, ${name}`, `m ${m}`, point.deviation, deviation);
  });
}

/** The printed values of the same two suites, from memory. */
export function publishedAllanErrors(): Comparison[] {
  const printed = [
    ["nine", 1, 91.22945],
    ["nine", 2, 85.95287],
    ["thousand", 1, 2.922319e-1],
    ["thousand", 10, 9.159953e-2],
    ["thousand", 100, 3.241343e-2],
  ] as const;
  return printed.map(([name, m, deviation]) => {
    const [point] = allanDeviation(name === "nine" ? nineValues : thousandValues(), { interval_s: 1, factors: [m] });
    return compare(`Allan deviation as printed, ${name}`, `m ${m}`, point.deviation, deviation);
  });
}

export function freedomErrors(): Comparison[] {
  return table<[NoiseExponent, number, number, number]>("freedom: exponent, M, m, edf").map(
    ([exponent, count, m, edf]) =>
      compare(`degrees of freedom, exponent ${exponent}`, `m ${m}`, allanFreedom(count, m, exponent), edf),
  );
}

export function scalarErrors(): Comparison[] {
  const loop = { kind: "loop", center_m: [0, 0, 0], normal: [0, 0, 1], radius_m: 0.02, current_A: 1 } as const;
  const found: Record<string, number> = {
    "feedthrough, 20 mm loop, 20 mT, 25 kHz, V": uniformFeedthroughVoltage_V(20e-3, areaTurns_m2([loop])[2], {
      frequency_Hz: 25e3,
    }),
    "thermal noise, 50 Ohm, 300 K, V/Hz^0.5": thermalNoise_V_per_sqrtHz(50, 300),
    "omega at one half": omegaOfShare(0.5),
    "omega at 10 %": omegaOfShare(0.1),
    "omega at 1 %": omegaOfShare(0.01),
    "transform of L' at 0.5": 2 * responseShare(0.5),
    "transform of L' at 1": 2 * responseShare(1),
    "transform of L' at 2": 2 * responseShare(2),
  };
  const wanted = truth.scalars as Record<string, number>;
  return Object.entries(wanted).map(([name, value]) => compare("scalar", name, found[name], value));
}

export const nineValues = [892, 809, 823, 798, 671, 644, 883, 903, 677];

/** n -> 16807 n mod (2^31 - 1), from 1234567890, each over 2^31 - 1. */
export function thousandValues(): Float64Array {
  let n = 1234567890;
  return Float64Array.from({ length: 1000 }, () => {
    const value = n / 2147483647;
    n = (16807 * n) % 2147483647;
    return value;
  });
}

export function chainOfTruth(): ReceiveChain {
  const c = truth.chain as Record<string, number> & { hp: number[]; lp: number[]; notch: number[] };
  return {
    coil: {
      resistance_Ohm: c.R,
      inductance_H: c.L,
      capacitance_F: c.C,
      temperature_K: c.T,
      body: { resistance_Ohm: c.Rb, frequency_Hz: c.fb, temperature_K: c.Tb },
    },
    filter: {
      highPass: { corner_Hz: c.hp[0], order: c.hp[1] },
      lowPass: { corner_Hz: c.lp[0], order: c.lp[1] },
      notches: [{ frequency_Hz: c.notch[0], width_Hz: c.notch[1], attenuation_dB: c.notch[2] }],
    },
    amplifier: {
      voltageNoise_V_per_sqrtHz: c.en,
      currentNoise_A_per_sqrtHz: c.inn,
      gain: c.gain,
      inputResistance_Ohm: c.Rin,
    },
    digitiser: { bits: c.bits, range_V: c.range, samplingRate_Hz: c.fs },
  };
}

function table<Row>(name: string): Row[] {
  const found = truth[name];
  if (!Array.isArray(found)) throw new Error(`truth.json has no table "${name}"`);
  return found as Row[];
}

function compare(quantity: string, at: string, found: number, wanted: number): Comparison {
  return { quantity, at, relativeError: wanted === 0 ? Math.abs(found) : Math.abs(found / wanted - 1) };
}
