import { expect, it } from "vitest";
import { feedthroughVoltage_V, uniformFeedthroughVoltage_V } from "./feedthrough.js";

it("a 20 mm loop in 20 mT at 25 kHz: 3.95 V, and the balance scales it (definitions, surprise 11)", () => {
  const drive = { frequency_Hz: 25e3 };
  const whole = uniformFeedthroughVoltage_V(20e-3, Math.PI * 0.02 ** 2, drive);
  expect(whole).toBeCloseTo(3.94784, 5);
  expect(uniformFeedthroughVoltage_V(20e-3, -Math.PI * 0.02 ** 2, { ...drive, imbalance: 0.01 })).toBeCloseTo(
    whole / 100,
    14,
  );
});

it("mutual inductance and current give the same voltage as the flux they make", () => {
  // 20 mT over the loop at 100 A is M = 0.2513 uH.
  const mutual_H = (20e-3 * Math.PI * 0.02 ** 2) / 100;
  expect(feedthroughVoltage_V(mutual_H, 100, { frequency_Hz: 25e3 })).toBeCloseTo(3.94784, 5);
  expect(feedthroughVoltage_V(-mutual_H, 100, { frequency_Hz: 50e3, imbalance: 0.5 })).toBeCloseTo(3.94784, 5);
});

it("refuses an imbalance above 1 and a frequency of 0", () => {
  expect(() => feedthroughVoltage_V(1e-6, 1, { frequency_Hz: 25e3, imbalance: 1.2 })).toThrow(/imbalance/);
  expect(() => uniformFeedthroughVoltage_V(1, 1, { frequency_Hz: 0 })).toThrow(/frequency_Hz/);
});
