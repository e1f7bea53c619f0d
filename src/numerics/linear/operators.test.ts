import { describe, expect, it } from "vitest";
import { isKnownError } from "../../errors.js";
import { stream } from "../random/stream.js";
import { type BatteryResult, operatorBattery } from "./battery.js";
import { compose, scaled, stack, sum } from "./combine.js";
import { denseOperator } from "./dense-operator.js";
import { diagonal } from "./diagonal.js";
import { normal } from "./normal.js";
import type { LinearOperator } from "./operator.js";

const a = random("a", [2, 3], [4], 1);
const b = random("b", [2, 3], [4], 2);
const c = random("c", [4], [5, 2], 3);

function random(name: string, domain: number[], range: number[], seed: number): LinearOperator {
  const size = [...domain, ...range].reduce((product, extent) => product * extent, 1);
  return denseOperator(stream(seed).fillNormal(new Float64Array(size)), {
    name,
    domain: { shape: domain, unit: "kg" },
    range: { shape: range, unit: "kg" },
  });
}

function expectSound(result: BatteryResult): void {
  // Dot products of a few dozen terms: rounding of some 1e-15.
  expect(result.adjointGap).toBeLessThan(1e-13);
  expect(result.linearityGap).toBeLessThan(1e-13);
  expect(result.denseGap).toBeLessThan(1e-14);
  expect(result.repeatGap).toBe(0);
  expect(result.returnsOut).toBe(true);
  expect(result.keepsInputs).toBe(true);
}

describe("operators and their combinations pass the battery", () => {
  const weights = stream(4).fillNormal(new Float64Array(4));
  it.each<[string, LinearOperator]>([
    ["dense", a],
    ["compose", compose(c, a)],
    ["scaled", scaled(a, -2.5)],
    ["sum", sum(a, b, a)],
    ["stack", stack(a, compose(c, b), b)],
    ["diagonal", diagonal(weights, a.range)],
    ["all together", stack(compose(c, sum(a, scaled(b, 3))), compose(diagonal(weights, a.range), b))],
  ])("%s", (_, operator) => {
    expectSound(operatorBattery(operator));
  });

  it("gives the values it should", () => {
    const m = denseOperator(Float64Array.of(1, 2, 3, 4), {
      domain: { shape: [2], unit: "1" },
      range: { shape: [2], unit: "1" },
    });
    const x = Float64Array.of(1, -1);
    expect(Array.from(m.forward(x))).toEqual([-1, -1]);
    expect(Array.from(m.adjoint(x))).toEqual([-2, -2]);
    expect(Array.from(compose(m, m).forward(x))).toEqual([-3, -7]);
    expect(Array.from(sum(m, scaled(m, 2)).forward(x))).toEqual([-3, -3]);
    expect(Array.from(stack(m, m).adjoint(Float64Array.of(1, 0, 0, 1)))).toEqual([4, 6]);
    // AᵀWA = [[1 + 18, 2 + 24], [2 + 24, 4 + 32]] for W = (1, 2); damping 10
    const lhs = normal(m, { weights: Float64Array.of(1, 2), damping: 10 });
    expect(Array.from(lhs(Float64Array.of(1, 0)))).toEqual([29, 26]);
  });

  it("lets a diagonal work in place", () => {
    const x = Float64Array.of(1, 2);
    expect(diagonal(Float64Array.of(3, 4), { shape: [2], unit: "1" }).forward(x, x)).toBe(x);
    expect(Array.from(x)).toEqual([3, 8]);
  });
});

describe("what does not fit is refused", () => {
  it("by shape and by unit, naming both", () => {
    expect(() => compose(a, c)).toThrow(/\[5, 2\] in kg; accepted: \[2, 3\] in kg/);
    const volts = { ...b, range: { ...b.range, unit: "V" } };
    try {
      sum(a, volts);
      expect.unreachable();
    } catch (error) {
      expect(isKnownError(error, "UnitMismatch")).toBe(true);
    }
    expect(() => a.forward(new Float64Array(5))).toThrow(/5 values; accepted: 6 values/);
    expect(() => stack()).toThrow(/at least one operator/);
    expect(() => normal(a, { damping: -1 })).toThrow(/0 or more/);
    expect(() => normal(a, { weights: new Float64Array(3) })).toThrow(/weights/);
  });
});

describe("the battery catches", () => {
  it("a wrong adjoint", () => {
    const broken = { ...a, adjoint: b.adjoint };
    expect(operatorBattery(broken).adjointGap).toBeGreaterThan(1e-3);
    expect(operatorBattery(broken).denseGap).toBeGreaterThan(1e-3);
  });
  it("an offset and a square", () => {
    const offset = { ...a, forward: (x: Float64Array) => a.forward(x).map((v) => v + 0.01) };
    expect(operatorBattery(offset).linearityGap).toBeGreaterThan(1e-4);
  });
  it("an `out` that is added to, or not used", () => {
    const adding: LinearOperator = {
      ...a,
      forward(x, out = new Float64Array(4)) {
        a.forward(x).forEach((value, i) => {
          out[i] += value;
        });
        return out;
      },
    };
    expect(operatorBattery(adding).repeatGap).toBeNaN();
    expect(operatorBattery({ ...a, adjoint: (y) => a.adjoint(y) }).returnsOut).toBe(false);
  });
  it("a shared result and a changed input", () => {
    const buffer = new Float64Array(4);
    expect(operatorBattery({ ...a, forward: (x, out = buffer) => a.forward(x, out) }).keepsInputs).toBe(false);
    const spoiling: LinearOperator = {
      ...a,
      forward(x, out) {
        const result = a.forward(x, out);
        x[0] = 0;
        return result;
      },
    };
    expect(operatorBattery(spoiling).keepsInputs).toBe(false);
  });
});
