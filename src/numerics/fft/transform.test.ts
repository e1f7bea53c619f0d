import { describe, expect, it } from "vitest";
import { stream } from "../random/stream.js";
import { fourierPlan } from "./transform.js";

/** The definition, summed. */
function direct(data: Float64Array): Float64Array {
  const n = data.length / 2;
  const out = new Float64Array(2 * n);
  for (let k = 0; k < n; k++)
    for (let j = 0; j < n; j++) {
      const angle = (-2 * Math.PI * ((j * k) % n)) / n;
      out[2 * k] += data[2 * j] * Math.cos(angle) - data[2 * j + 1] * Math.sin(angle);
      out[2 * k + 1] += data[2 * j] * Math.sin(angle) + data[2 * j + 1] * Math.cos(angle);
    }
  return out;
}

const largest = (a: Float64Array, b: Float64Array) => a.reduce((worst, v, i) => Math.max(worst, Math.abs(v - b[i])), 0);

describe("Fourier transform", () => {
  it("is the sum of its definition for every length up to 130", () => {
    for (let n = 1; n <= 130; n++) {
      const data = stream(1, 0, n).fillNormal(new Float64Array(2 * n));
      const expected = direct(data);
      // n terms of size 1 and angles rounded to 1e-16: some 1e-15·√n.
      expect(largest(fourierPlan(n).forward(data), expected)).toBeLessThan(2e-13);
    }
  });

  it("gives a single line for e^{+i2πmj/n}: the forward sign is −", () => {
    const n = 30;
    const data = Float64Array.from({ length: 2 * n }, (_, i) => {
      const angle = (2 * Math.PI * 4 * (i >> 1)) / n;
      return i % 2 === 0 ? Math.cos(angle) : Math.sin(angle);
    });
    const bins = fourierPlan(n).forward(data);
    for (let k = 0; k < n; k++) {
      expect(bins[2 * k]).toBeCloseTo(k === 4 ? n : 0, 12);
      expect(bins[2 * k + 1]).toBeCloseTo(0, 12);
    }
  });

  it.each([1632, 10_007, 65_536])("goes there and back and keeps energy, n = %i", (n) => {
    const data = stream(2, 0, n).fillNormal(new Float64Array(2 * n));
    const plan = fourierPlan(n);
    const bins = plan.forward(data, new Float64Array(2 * n));
    const energy = (v: Float64Array) => v.reduce((sum, value) => sum + value * value, 0);
    expect(energy(bins) / (n * energy(data))).toBeCloseTo(1, 12);
    expect(largest(plan.inverse(bins), data)).toBeLessThan(1e-13);
  });

  it("works in place, and leaves its input alone when given `out`", () => {
    const data = stream(3).fillNormal(new Float64Array(24));
    const copy = Float64Array.from(data);
    const plan = fourierPlan(12);
    const out = new Float64Array(24);
    expect(plan.forward(data, out)).toBe(out);
    expect(data).toEqual(copy);
    expect(plan.forward(data)).toBe(data);
    expect(data).toEqual(out);
  });

  it("refuses lengths that make no sense", () => {
    expect(() => fourierPlan(0)).toThrow(/from 1/);
    expect(() => fourierPlan(2.5)).toThrow(/whole number/);
    expect(() => fourierPlan(4).forward(new Float64Array(7))).toThrow(/7 numbers/);
  });
});
