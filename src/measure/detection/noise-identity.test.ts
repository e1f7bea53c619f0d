import { expect, it } from "vitest";
import { stream } from "../../numerics/index.js";
import { identifyNoise } from "./noise-identity.js";

const white = (count: number, chunk: number) => stream(20261125, 5, chunk).fillNormal(new Float64Array(count));
const summed = (y: Float64Array) => {
  let sum = 0;
  return y.map((value) => (sum += value));
};
const differenced = (y: Float64Array) => y.slice(1).map((value, i) => value - y[i]);

/** (1 - B)^(-1/2): flicker from white. */
function halfSummed(y: Float64Array): Float64Array {
  const psi = new Float64Array(y.length).fill(1);
  for (let k = 1; k < psi.length; k++) psi[k] = (psi[k - 1] * (k - 0.5)) / k;
  return y.map((_, i) => {
    let sum = 0;
    for (let k = 0; k <= i; k++) sum += psi[k] * y[i - k];
    return sum;
  });
}

it("names made noises in 20 of 20 series of 1000 values", () => {
  for (let chunk = 0; chunk < 20; chunk++) {
    const y = white(1000, chunk);
    const named = [differenced(y), y, halfSummed(y), summed(y)].map((series) => identifyNoise(series, 1));
    expect(named).toEqual([2, 0, -1, -2]);
  }
});

it("names the noise on a straight drift, not the drift: differences take it away", () => {
  const y = white(4000, 99).map((value, i) => value + 1e-2 * i);
  expect([1, 10, 100].map((factor) => identifyNoise(y, factor))).toEqual([0, 0, 0]);
});

it("does not name what 30 averages do not show, and takes a constant for white", () => {
  expect(identifyNoise(white(290, 0), 10)).toBeUndefined();
  expect(identifyNoise(new Float64Array(50), 1)).toBe(0);
});
