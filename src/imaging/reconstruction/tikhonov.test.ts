import { describe, expect, it } from "vitest";
import { denseAdjoint, denseNormal, denseSolve } from "../../../checks/imaging/dense-normal.js";
import { smallGeometry } from "../../../checks/imaging/small-raster.js";
import { conjugateGradient, residualBelow, run, stream } from "../../numerics/index.js";
import { fullRasterOperator, rasterModel } from "../operators/raster-model.js";
import { compressData } from "../operators/row-compression.js";
import { tikhonov } from "./tikhonov.js";

const norm = (x: Float64Array) => Math.sqrt(x.reduce((sum, value) => sum + value * value, 0));
const relativeGap = (x: Float64Array, y: Float64Array) => norm(x.map((value, i) => value - y[i])) / norm(y);

const geometry = smallGeometry({ linesA: 5, linesB: 4, patches: 5, patchStep_m: 1.5e-3, lastHarmonic: 14, depth: 9 });
const model = rasterModel(geometry);
const { compression } = model;
const dense = denseNormal(geometry);
const truth = Float64Array.from({ length: 180 }, (_, i) => (i % 9 === 4 ? 1 : 0));
const clean = fullRasterOperator(geometry).forward(truth);
const sigma = (0.02 * norm(clean)) / Math.sqrt(clean.length);
const noisy = (seed: number) => {
  const noise = stream(40, 0, seed).fillNormal(new Float64Array(clean.length));
  return clean.map((value, i) => value + sigma * noise[i]);
};

describe("Tikhonov inversion of a line raster", () => {
  it.each([1, 1e-2, 1e-4])("relative weight %s: equals the dense solution on all rows", (relativeWeight) => {
    const solver = tikhonov(model, { relativeWeight });
    const y = noisy(0);
    const { estimate, iterations, outcome, relativeResidual } = solver.invert(compressData(y, compression));
    expect(outcome).toBe("converged");
    expect(relativeResidual).toBeLessThan(1e-10);
    expect(iterations).toBeLessThanOrEqual(3); // the factorisation is exact up to rounding: measured 1
    const expected = denseSolve(dense, solver.weight, denseAdjoint(dense, y));
    const fromNoise = denseSolve(
      dense,
      solver.weight,
      denseAdjoint(
        dense,
        y.map((value, i) => value - clean[i]),
      ),
    );
    const gap = norm(estimate.map((value, i) => value - expected[i]));
    // Compression leaves out directions below s = 1e-6 of the largest; they would have added s/(s² + λ) of their noise.
    // Measured 3e-8, 1e-6, 4e-5 of the estimate, and 2e-6, 1e-5, 9e-5 of what noise does to it.
    expect(gap / norm(expected)).toBeLessThan(5e-7 / Math.sqrt(relativeWeight));
    expect(gap / norm(fromNoise)).toBeLessThan(2e-4);
  });

  it("reaches the same answer as conjugate gradients without any help", () => {
    const solver = tikhonov(model, { relativeWeight: 1e-2 });
    const y = compressData(noisy(1), compression);
    const normal = (x: Float64Array) => {
      const image = model.operator.adjoint(model.operator.forward(x));
      return image.map((value, i) => value + solver.weight * x[i]);
    };
    const plain = run(conjugateGradient(normal, model.operator.adjoint(y)), residualBelow(1e-10));
    expect(plain.iterations).toBeGreaterThan(10);
    // A relative residual of 1e-10 leaves an error of at most condition × 1e-10; λ is 1e-3 of the largest eigenvalue.
    expect(relativeGap(solver.invert(y).estimate, plain.estimate)).toBeLessThan(1e-6);
  });

  it("is linear in the data, whatever its size", () => {
    const solver = tikhonov(model, { relativeWeight: 1e-2 });
    const [a, b] = [compressData(noisy(2), compression), compressData(noisy(3), compression)];
    const mixed = solver.invert(a.map((value, i) => 1e-6 * value - 3e-6 * b[i])).estimate;
    const [fromA, fromB] = [solver.invert(a).estimate, solver.invert(b).estimate];
    expect(
      relativeGap(
        mixed,
        fromA.map((value, i) => 1e-6 * value - 3e-6 * fromB[i]),
      ),
    ).toBeLessThan(1e-9);
  });

  it("returns nothing for nothing, and lends no memory", () => {
    const solver = tikhonov(model, { relativeWeight: 1e-2 });
    const { estimate, outcome } = solver.invert(new Float64Array(compression.rows * 20));
    expect([outcome, norm(estimate)]).toEqual(["converged", 0]);
    const first = solver.invert(compressData(clean, compression)).estimate;
    const copy = first.slice();
    solver.invert(compressData(noisy(4), compression));
    expect([...first]).toEqual([...copy]);
  });

  it("does not call it converged when the data hold no number", () => {
    const y = compressData(noisy(5), compression);
    y[7] = Number.NaN;
    expect(tikhonov(model, { relativeWeight: 1e-2 }).invert(y).outcome).not.toBe("converged");
  });

  it("fits better and grows rougher as the weight falls", () => {
    const y = compressData(noisy(6), compression);
    const weights = [1, 1e-1, 1e-2, 1e-3];
    const found = weights.map((relativeWeight) => tikhonov(model, { relativeWeight }).invert(y).estimate);
    const residuals = found.map((x) => norm(model.operator.forward(x).map((value, i) => value - y[i])));
    for (let i = 1; i < weights.length; i++) {
      expect(residuals[i]).toBeLessThan(residuals[i - 1]);
      expect(norm(found[i])).toBeGreaterThan(norm(found[i - 1]));
    }
  });

  it("keeps its sign free: 45 to 55 % of the voxels are negative for noise alone, over 40 seeds", () => {
    const solver = tikhonov(model, { relativeWeight: 1e-2 });
    let negative = 0;
    for (let seed = 0; seed < 40; seed++) {
      const noise = stream(77, 0, seed).fillNormal(new Float64Array(compression.rows * 20));
      negative += solver.invert(noise).estimate.filter((value) => value < 0).length / (180 * 40);
    }
    expect(negative).toBeGreaterThan(0.45);
    expect(negative).toBeLessThan(0.55);
  });
});
