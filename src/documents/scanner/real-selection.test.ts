import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type FieldSource, fieldAtPoint, fieldOfSources, localGradient } from "../../physics/index.js";
import { vacuumPermeability_T_m_per_A as mu0 } from "../../units/index.js";
import type { Vector3 } from "../fields/vector-field.js";
import { boreOf, centreOf, fieldFreeRegionOf, idealised, pointCount, topologyOf } from "./real-selection.js";
import type { Tensor3 } from "./selection-tensor.js";

const element = fc.integer({ min: -1000, max: 1000 }).map((hundredths) => hundredths / 100);
const nine = fc.array(element, { minLength: 9, maxLength: 9 }).filter((each) => each.some((value) => value !== 0));
const unit = fc
  .tuple(element, element, element)
  .filter((vector) => Math.hypot(...vector) > 0.1)
  .map((vector) => vector.map((each) => each / Math.hypot(...vector)) as unknown as Vector3);

const traceOf = ([[xx], [, yy], [, , zz]]: Tensor3) => xx + yy + zz;
const largestOf = (tensor: Tensor3) => Math.max(...tensor.flat().map(Math.abs));
const times = (tensor: Tensor3, v: Vector3) => tensor.map((row) => row.reduce((sum, each, i) => sum + each * v[i], 0));

describe("idealised", () => {
  it("gives a symmetric tensor without trace, whatever comes", () => {
    fc.assert(
      fc.property(nine, fc.option(unit, { nil: undefined }), (values, direction) => {
        const tensor = idealised(Float64Array.from(values), direction);
        // Elements below 1e-8 of the largest are set to 0 one by one: up to three of them in the trace.
        expect(Math.abs(traceOf(tensor))).toBeLessThanOrEqual(3e-8 * largestOf(tensor) + 1e-13);
        tensor.forEach((row, i) => {
          row.forEach((each, j) => {
            expect(Math.abs(each - tensor[j][i])).toBeLessThan(1e-14 * 10);
          });
        });
      }),
    );
  });

  it("leaves nothing along a line, in any direction of it", () => {
    fc.assert(
      fc.property(nine, unit, (values, direction) => {
        const tensor = idealised(Float64Array.from(values), direction);
        for (const each of times(tensor, direction))
          expect(Math.abs(each)).toBeLessThan(1e-12 + 3e-8 * largestOf(tensor));
      }),
    );
  });

  it("changes nothing that is ideal already, and keeps a line's plane", () => {
    const point: Tensor3 = [
      [-1, 0.5, 0],
      [0.5, -2, 0.25],
      [0, 0.25, 3],
    ];
    expect(idealised(Float64Array.from(point.flat()), undefined)).toEqual(point);
    const line: Tensor3 = [
      [2, 1, 0],
      [1, -2, 0],
      [0, 0, 0],
    ];
    expect(idealised(Float64Array.from(line.flat()), [0, 0, 1])).toEqual(line);
    // A part along the line goes, and its trace is taken from the plane: (2.1, -2, -0.1) -> (2.05, -2.05, 0).
    const [[xx], [, yy], [, , zz]] = idealised(Float64Array.from([2.1, 0, 0, 0, -2, 0, 0, 0, -0.1]), [0, 0, 1]);
    expect([xx, yy, zz]).toEqual([2.05, -2.05, 0]);
  });

  it("sets what is rounding to 0", () => {
    const [[, xy]] = idealised(Float64Array.from([-1, 1e-9, 0, 1e-9, -1, 0, 0, 0, 2]), undefined);
    expect(xy).toBe(0);
  });
});

/** Opposed loops at z = ±(sqrt 3/2) a, 1e4 A turns, a = 0.1 m. */
const maxwell = (share = 1): FieldSource[] =>
  [1, -1].map((side) => ({
    kind: "loop",
    center_m: [0, 0, (side * Math.sqrt(3) * 0.1) / 2],
    normal: [0, 0, 1],
    radius_m: 0.1,
    current_A: side * 1e4 * (side === 1 ? share : 1),
  }));

describe("the region of a Maxwell pair", () => {
  const bore = boreOf({ boreDiameter: 0.06 });
  const region = fieldFreeRegionOf(maxwell(), bore);

  it("is one point, in the middle", () => {
    expect(topologyOf(region)).toBe("field-free-point");
    expect(pointCount(region)).toBe(1);
    expect(Math.hypot(...(centreOf(region)?.position_m ?? [1, 1, 1]))).toBeLessThan(1e-12);
  });

  it("has the gradient of the closed form along the axis, and half of it across", () => {
    // facts L5, L6. The numerical gradient is good to about 1e-10 of the field over the step: 1e-8 here.
    const truth = ((48 / 49) * Math.sqrt(3 / 7) * mu0 * 1e4) / 0.1 ** 2;
    const gradient = centreOf(region)?.gradient_T_per_m ?? new Float64Array(9);
    for (const [i, share] of [
      [0, -0.5],
      [4, -0.5],
      [8, 1],
    ])
      expect(Math.abs(gradient[i] / (share * truth) - 1)).toBeLessThan(1e-8);
    const [[xx], , [, , zz]] = idealised(gradient, undefined);
    expect(Math.abs(zz / truth - 1)).toBeLessThan(1e-8);
    expect(Math.abs(xx / zz + 0.5)).toBeLessThan(1e-12);
  });

  it("of unequal loops lies where the field is zero", () => {
    const sources = maxwell(1.05);
    const { position_m, gradient_T_per_m } = centreOf(fieldFreeRegionOf(sources, bore)) ?? {
      position_m: [1, 1, 1] as const,
      gradient_T_per_m: new Float64Array(9),
    };
    expect(position_m[2]).toBeLessThan(-1e-3); // away from the stronger loop
    expect(Math.hypot(...fieldAtPoint(sources, position_m))).toBeLessThan(1e-14);
    const again = localGradient(fieldOfSources(sources), position_m, { step_m: 1e-3 });
    expect(Math.abs(gradient_T_per_m[8] / again[8] - 1)).toBeLessThan(1e-6);
  });
});

describe("boreOf", () => {
  it("is twice its diameter long about z unless it is said", () => {
    expect(boreOf({ boreDiameter: 0.1 })).toEqual({ axis: "z", radius_m: 0.05, halfLength_m: 0.1 });
    expect(boreOf({ boreDiameter: 0.1, boreLength: 0.3, boreAxis: "y" })).toEqual({
      axis: "y",
      radius_m: 0.05,
      halfLength_m: 0.15,
    });
  });
});
