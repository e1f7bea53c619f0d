import { describe, expect, it } from "vitest";
import { numericJacobian, typicalSizes } from "./numeric-jacobian.js";
import { prepareProblem } from "./problem.js";

const x = [0.5, 1, 2, 3];
const model = (p: Float64Array) => x.map((t) => p[0] * Math.exp(-p[1] * t));
const derivatives = (p: Float64Array) => x.flatMap((t) => [Math.exp(-p[1] * t), -p[0] * t * Math.exp(-p[1] * t)]);

function jacobianAt(start: number[], options: { lower?: number[]; upper?: number[] } = {}): Float64Array {
  const problem = prepareProblem({ model, observed: [0, 0, 0, 0] }, start, options);
  const predicted = model(problem.start);
  const typical = typicalSizes(problem, predicted);
  return numericJacobian(problem, problem.start, { typical, predicted, out: new Float64Array(8) });
}

describe("difference derivatives", () => {
  it.each([
    ["in the middle", {}],
    ["at a lower bound", { lower: [3, 0.7] }],
    ["at an upper bound", { upper: [3, 0.7] }],
    ["in a box narrower than the step", { lower: [3 - 1e-7, 0.7 - 1e-7], upper: [3 + 1e-7, 0.7 + 1e-7] }],
  ])("match the closed form %s", (_, options) => {
    const out = jacobianAt([3, 0.7], options);
    // 1e-10 at the best step; one-sided or squeezed steps lose up to three digits.
    for (const [k, value] of derivatives(Float64Array.of(3, 0.7)).entries())
      expect(Math.abs(out[k] - value)).toBeLessThan(_ === "in the middle" ? 1e-9 : 1e-7);
  });

  it("finds a step for a start at 0 whatever the parameter's scale", () => {
    for (const scale of [1e-12, 1, 1e12]) {
      const scaled = (p: Float64Array) => x.map((t) => 1 + Math.expm1((p[0] / scale) * t));
      const problem = prepareProblem({ model: scaled, observed: [1, 1, 1, 1] }, [0], {});
      const predicted = scaled(problem.start);
      const typical = typicalSizes(problem, predicted);
      const out = numericJacobian(problem, problem.start, { typical, predicted, out: new Float64Array(4) });
      for (const [i, t] of x.entries()) expect((out[i] * scale) / t).toBeCloseTo(1, 4);
    }
  });
});
