import { describe, expect, it } from "vitest";
import { idealScanner, receiveDocument, shippedScanner } from "../../../test/invented-scanners.js";
import { finishSteps } from "../../numerics/index.js";
import { cosineDrive, periodicResponseSteps } from "../../physics/index.js";
import { drivenTracer } from "../predict/dynamic-prediction.js";
import { type DetectionAnalysis, detectionAnalysis } from "./detection-analysis.js";
import { referenceTracer } from "./reference-tracer.js";

const tracer = referenceTracer();

interface Use {
  readonly amplitude_T?: number;
  readonly time_s?: number;
  readonly waveform?: string;
  readonly instability?: Parameters<typeof detectionAnalysis>[2]["instability"];
}

function detected(
  scanner: ReturnType<typeof idealScanner>,
  { amplitude_T = 0.02, time_s = 1, waveform = "cosine", instability }: Use = {},
): DetectionAnalysis {
  const frequency_Hz = 25e3;
  const { driven, samples } = drivenTracer(tracer);
  const { magnetisation } = finishSteps(
    periodicResponseSteps(cosineDrive(amplitude_T, frequency_Hz), driven, { samples }),
  );
  const found = detectionAnalysis(scanner, tracer, {
    axis: "z",
    amplitude_T,
    frequency_Hz,
    waveform,
    magnetisation,
    time_s,
    instability,
  });
  if (found === null) throw new Error("no detection estimate");
  return found;
}

describe("the detection estimate", () => {
  it("at small drive has the low-field signal of facts N14: 3.4485 nV per ng Fe, per 20 mT", () => {
    const amplitude_T = 1e-5;
    const [{ order, signal_V_per_kg }] = detected(idealScanner(), { amplitude_T }).channels;
    expect(order).toBe(1);
    // The quoted figure has five digits; at 10 uT the curve departs from its slope by 1e-7.
    expect((signal_V_per_kg * 1e-12 * 0.02) / amplitude_T).toBeCloseTo(3.4485e-9, 12);
    expect(Math.abs((signal_V_per_kg * 1e-12 * 0.02) / amplitude_T / 3.4485e-9 - 1)).toBeLessThan(2e-5);
  });

  it("noise falls as 1/sqrt(t), the background does not", () => {
    const [short, long] = [1, 100].map((time_s) =>
      detected(shippedScanner("mouse-point"), { amplitude_T: 0.016, time_s }),
    );
    const limit = ({ limits }: DetectionAnalysis, of: "noise" | "background") => limits[of].limits_kg.detection;
    expect(limit(short, "noise") / limit(long, "noise")).toBeCloseTo(10, 9);
    expect(limit(short, "background") / limit(long, "background")).toBeCloseTo(1, 12);
    expect(limit(short, "background")).toBeGreaterThan(0);
  });

  it("of one harmonic in white noise is 3.29 sd: the drive's third alone in the band", () => {
    // var A = S²/t (derived, checks/receive-chain); Currie: 2 x 1.645 sd (facts Q6).
    const scanner = idealScanner({
      receive: [receiveDocument({ bandwidth: "80 kHz", removesFundamental: true })],
    });
    const { channels, limits } = detected(scanner);
    const third = channels.find(({ order }) => order === 3);
    const sd = 1e-9 / (third?.signal_V_per_kg ?? Number.NaN);
    expect(channels.map(({ order }) => order)).toEqual([2, 3]);
    expect(limits.noise.limits_kg.detection / sd).toBeCloseTo(2 * 1.6448536269514722, 6);
  });

  it("names what a background limit would need, and why an image's limit is higher", () => {
    const { advisories, overTime } = detected(idealScanner());
    expect(overTime).toBeNull();
    expect(advisories).toEqual([
      "detection: a point of iron at the field-free point, measured all the time, known phase; an image's limit is higher",
      "detection: without the coil's windings the feedthrough is not known, so no background limit",
    ]);
  });

  it("with empties tells how the limit goes with time: white noise still falls at the end", () => {
    const instability = [1, 4, 16].map((time_s) => ({ time_s, relativeDeviation: 1e-3 / Math.sqrt(time_s) }));
    const { overTime } = detected(shippedScanner("mouse-point"), { amplitude_T: 0.016, instability });
    expect(overTime?.times.map(({ time_s }) => time_s)).toEqual([1, 4, 16]);
    expect(overTime?.isBestAtEnd).toBe(true);
    const [first, second] = overTime?.times ?? [];
    expect(first.limit_kg / second.limit_kg).toBeCloseTo(2, 9);
  });

  it("spectrum shares lie in order, and in the ratio of facts M20: 0.39993, 1.15067, 2.06093", () => {
    const [half, tenth, hundredth] = detected(idealScanner()).bandwidth_Hz ?? [Number.NaN, Number.NaN, Number.NaN];
    // The table's digits.
    expect(tenth / half).toBeCloseTo(1.15067 / 0.39993, 3);
    expect(hundredth / half).toBeCloseTo(2.06093 / 0.39993, 3);
  });

  it("of pulses has no such law, and says whose feedthrough it counts", () => {
    const { bandwidth_Hz, advisories } = detected(idealScanner(), { waveform: "pulsed" });
    expect(bandwidth_Hz).toBeNull();
    expect(advisories[1]).toMatch(/^feedthrough and background are those of a sine/);
  });
});

it("a drive without a receive channel, and a band below every harmonic, give no estimate", () => {
  const request = {
    axis: "x",
    amplitude_T: 0.02,
    frequency_Hz: 25e3,
    waveform: "cosine",
    magnetisation: new Float64Array(64),
    time_s: 1,
  } as const;
  expect(detectionAnalysis(idealScanner(), tracer, request)).toBeNull();
  expect(detectionAnalysis(idealScanner(), tracer, { ...request, axis: "z" })).toBeNull();
});
