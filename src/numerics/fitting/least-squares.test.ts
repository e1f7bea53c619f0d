import { describe, expect, it } from "vitest";
import { isKnownError } from "../../errors.js";
import { stream } from "../random/stream.js";
import { leastSquares } from "./least-squares.js";
import { fitLine } from "./linear-fit.js";

const times = Array.from({ length: 40 }, (_, i) => i / 4);
const decay = (p: ArrayLike<number>) => times.map((t) => p[0] * Math.exp(-p[1] * t) + p[2]);
const truth = [5, 0.6, 1];
const sigma = 0.05;
const noisy = (seed: number) => {
  const source = stream(seed);
  return decay(truth).map((value) => value + sigma * source.normal());
};

describe("least squares", () => {
  it("is the straight-line formula for a straight line", () => {
    const y = noisy(1);
    const s = times.map((t) => 0.02 + 0.01 * t);
    const line = fitLine(times, y, { sigma: s });
    const fit = leastSquares({ model: (p) => times.map((t) => p[0] + p[1] * t), observed: y, sigma: s }, [0, 0]);
    expect(fit.parameters[0]).toBeCloseTo(line.intercept, 9);
    expect(fit.parameters[1]).toBeCloseTo(line.slope, 9);
    for (let k = 0; k < 4; k++) expect(Math.abs(fit.covariance[k] / line.covariance[k] - 1)).toBeLessThan(1e-8);
    expect(fit.chiSquared / line.chiSquared).toBeCloseTo(1, 12);
  });

  it("gives the same with analytic derivatives and with an `out` that the model fills", () => {
    const observed = noisy(2);
    const plain = leastSquares({ model: decay, observed, sigma }, [1, 1, 0]);
    const exact = leastSquares(
      {
        model: (p, out) => {
          out.set(decay(p));
          return out;
        },
        observed,
        sigma,
        jacobian: (p, out) => {
          times.forEach((t, i) => {
            const e = Math.exp(-p[1] * t);
            out.set([e, -p[0] * t * e, 1], 3 * i);
          });
        },
      },
      [1, 1, 0],
    );
    for (let j = 0; j < 3; j++)
      expect(Math.abs(plain.parameters[j] - exact.parameters[j])).toBeLessThan(1e-7 * exact.standardErrors[j]);
    for (let k = 0; k < 9; k++) expect(plain.covariance[k] / exact.covariance[k]).toBeCloseTo(1, 7);
  });

  it("recovers the truth of noise-free data, with χ² at rounding", () => {
    const fit = leastSquares({ model: decay, observed: decay(truth), sigma }, [1, 1, 0]);
    expect(fit.outcome).toBe("converged");
    for (let j = 0; j < 3; j++) expect(fit.parameters[j]).toBeCloseTo(truth[j], 9);
  });

  it("quotes standard errors that the scatter of repeated fits bears out", () => {
    const pulls = Array.from({ length: 400 }, (_, seed) => {
      const fit = leastSquares({ model: decay, observed: noisy(100 + seed), sigma }, [4, 0.5, 0.9]);
      return Array.from(fit.parameters, (value, j) => (value - truth[j]) / fit.standardErrors[j]);
    });
    for (let j = 0; j < 3; j++) {
      const meanSquare = pulls.reduce((sum, pull) => sum + pull[j] ** 2, 0) / pulls.length;
      // χ² with 400 degrees of freedom: standard deviation 0.071 of the mean square; 4 of those.
      expect(Math.abs(meanSquare - 1)).toBeLessThan(0.28);
    }
  });

  it("scales by reduced chi-square when no sigma is given", () => {
    const observed = noisy(3);
    const unit = leastSquares({ model: decay, observed }, [1, 1, 0]);
    const known = leastSquares({ model: decay, observed, sigma: 1 }, [1, 1, 0]);
    expect(unit.covarianceScale).toBe("reduced-chi-squared");
    expect(known.covarianceScale).toBe("absolute");
    expect(unit.covariance[0] / known.covariance[0]).toBeCloseTo(unit.reducedChiSquared, 10);
    expect(unit.degreesOfFreedom).toBe(37);
  });

  it("works at the scales of SI units", () => {
    const scales = [1e-18, 1e9, 1e-19];
    const tiny = (p: ArrayLike<number>) =>
      decay([p[0] / scales[0], p[1] / scales[1], p[2] / scales[2]]).map((v) => v * 1e-12);
    const observed = noisy(4).map((v) => v * 1e-12);
    const small = leastSquares({ model: tiny, observed, sigma: sigma * 1e-12 }, [1e-18, 1e9, 0]);
    const plain = leastSquares({ model: decay, observed: noisy(4), sigma }, [1, 1, 0]);
    for (let j = 0; j < 3; j++) expect(small.parameters[j] / scales[j] / plain.parameters[j]).toBeCloseTo(1, 8);
  });

  it("fits 500 points with 4 parameters well within a second", () => {
    const x = Array.from({ length: 500 }, (_, i) => i / 10);
    const two = (p: ArrayLike<number>) => x.map((t) => p[0] * Math.exp(-p[1] * t) + p[2] * Math.exp(-p[3] * t));
    const source = stream(6);
    const observed = two([3, 1, 2, 0.08]).map((v) => v + 0.02 * source.normal());
    const start = performance.now();
    expect(leastSquares({ model: two, observed, sigma: 0.02 }, [1, 2, 1, 0.02]).outcome).toBe("converged");
    expect(performance.now() - start).toBeLessThan(1000);
  });
});

describe("bounds", () => {
  it("hold a parameter exactly, mark it, and give it no interval", () => {
    const fit = leastSquares({ model: decay, observed: noisy(7), sigma }, [1, 1, 0], { upper: [10, 10, 0.5] });
    expect(fit.parameters[2]).toBe(0.5);
    expect(fit.atBound).toEqual([false, false, true]);
    expect(fit.standardErrors[2]).toBeNaN();
    const held = leastSquares({ model: (p) => decay([p[0], p[1], 0.5]), observed: noisy(7), sigma }, [1, 1]);
    for (let j = 0; j < 2; j++) {
      expect(fit.parameters[j]).toBeCloseTo(held.parameters[j], 8);
      expect(fit.standardErrors[j] / held.standardErrors[j]).toBeCloseTo(1, 7);
    }
    expect(fit.degreesOfFreedom).toBe(held.degreesOfFreedom);
  });

  it("let a parameter that starts on its bound leave it", () => {
    const fit = leastSquares({ model: decay, observed: noisy(8), sigma }, [1, 1, 0], { lower: [0, 0, 0] });
    expect(fit.atBound).toEqual([false, false, false]);
    expect(fit.parameters[2]).toBeGreaterThan(0.8);
  });

  it("fix a parameter when they coincide", () => {
    const fit = leastSquares({ model: decay, observed: noisy(9), sigma }, [1, 0.6, 0], {
      lower: [0, 0.6, -5],
      upper: [10, 0.6, 5],
    });
    expect(fit.parameters[1]).toBe(0.6);
    expect(fit.atBound).toEqual([false, true, false]);
  });

  it("are never crossed by an evaluation", () => {
    const seen: number[] = [];
    const model = (p: ArrayLike<number>) => {
      seen.push(p[1]);
      return decay(p);
    };
    leastSquares({ model, observed: noisy(10), sigma }, [1, 0.1, 0], { lower: [0, 0.1, -1], upper: [9, 0.55, 9] });
    expect(Math.min(...seen)).toBeGreaterThanOrEqual(0.1);
    expect(Math.max(...seen)).toBeLessThanOrEqual(0.55);
  });

  it("agree with a fine search when two of three parameters end on them", () => {
    const observed = noisy(11);
    const [lower, upper] = [
      [0, 0, 1.2],
      [4.5, 5, 3],
    ];
    const fit = leastSquares({ model: decay, observed, sigma }, [1, 1, 2], { lower, upper });
    expect(fit.atBound).toEqual([true, false, true]);
    const chi = (k: number) => decay([4.5, k, 1.2]).reduce((sum, v, i) => sum + ((observed[i] - v) / sigma) ** 2, 0);
    const here = chi(fit.parameters[1]);
    for (const change of [1e-4, -1e-4]) expect(chi(fit.parameters[1] + change)).toBeGreaterThan(here);
  });
});

describe("degenerate problems are reported", () => {
  it("names the parameters that float, keeps the covariance of the others", () => {
    // Only the product of the first two matters.
    const model = (p: ArrayLike<number>) => decay([p[0] * p[1], p[2], p[3]]);
    const observed = noisy(12);
    const fit = leastSquares({ model, observed, sigma }, [2, 2, 1, 0], { names: ["gain", "amount", "rate", "offset"] });
    expect(fit.outcome).toBe("converged");
    expect(fit.floating).toHaveLength(1);
    expect(fit.floating[0].parameters.map(({ name }) => name).sort()).toEqual(["amount", "gain"]);
    expect(fit.conditionNumber).toBeGreaterThan(1e8);
    expect(fit.standardErrors[0]).toBeNaN();
    expect(fit.standardErrors[1]).toBeNaN();
    const sound = leastSquares({ model: decay, observed, sigma }, [1, 1, 0]);
    expect(fit.standardErrors[2] / sound.standardErrors[1]).toBeCloseTo(1, 5);
    expect(fit.standardErrors[3] / sound.standardErrors[2]).toBeCloseTo(1, 5);
    expect(fit.chiSquared / sound.chiSquared).toBeCloseTo(1, 8);
  });

  it("names a parameter without influence", () => {
    const fit = leastSquares({ model: (p) => decay(p), observed: noisy(13), sigma }, [1, 1, 0, 3]);
    expect(fit.floating[0].parameters.map(({ index }) => index)).toEqual([3]);
    expect(fit.conditionNumber).toBe(Number.POSITIVE_INFINITY);
    expect(Number.isFinite(fit.standardErrors[0])).toBe(true);
  });

  it("says that it did not converge", () => {
    expect(leastSquares({ model: decay, observed: noisy(14), sigma }, [1, 1, 0], { maxIterations: 2 }).outcome).toBe(
      "iteration-limit",
    );
    const wrong = leastSquares(
      {
        model: decay,
        observed: noisy(14),
        sigma,
        jacobian: (_, out) =>
          out.fill(-1).forEach((_v, k) => {
            out[k] = k % 3 === 0 ? -1 : k % 7;
          }),
      },
      [1, 1, 0],
    );
    expect(wrong.outcome).toBe("diverged");
    expect(wrong.reason).toContain("derivatives promise");
  });
});

describe("refusals", () => {
  it.each<[string, () => unknown, RegExp]>([
    [
      "fewer values than parameters",
      () => leastSquares({ model: () => [1, 2], observed: [1, 2] }, [1, 1, 1]),
      /2 values for 3/,
    ],
    ["NaN data", () => leastSquares({ model: decay, observed: [NaN, ...noisy(1).slice(1)] }, truth), /observed\[0\]/],
    ["sigma of zero", () => leastSquares({ model: decay, observed: noisy(1), sigma: 0 }, truth), /sigma\[0\].*above 0/],
    ["a short sigma", () => leastSquares({ model: decay, observed: noisy(1), sigma: [1] }, truth), /40 entries/],
    [
      "a start outside",
      () => leastSquares({ model: decay, observed: noisy(1) }, truth, { upper: [1, 1, 1] }),
      /start\[0\]/,
    ],
    [
      "a NaN bound",
      () => leastSquares({ model: decay, observed: noisy(1) }, truth, { lower: [NaN, 0, 0] }),
      /lower\[0\]/,
    ],
    ["a model of another length", () => leastSquares({ model: () => [1], observed: noisy(1) }, truth), /1 predicted/],
    [
      "a model that is not finite",
      () => leastSquares({ model: () => times.map(() => NaN), observed: noisy(1) }, truth, { names: ["a", "k", "c"] }),
      /k = 0.6/,
    ],
  ])("%s", (_, act, message) => {
    try {
      act();
      expect.unreachable();
    } catch (error) {
      expect(isKnownError(error)).toBe(true);
      expect(String(error)).toMatch(message);
    }
  });
});
