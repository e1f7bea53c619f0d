import { describe, expect, it } from "vitest";
import { vacuumPermeability_T_m_per_A as mu0 } from "../../units/index.js";
import { fieldAtPoint } from "./field-of-sources.js";
import type { RectangleSource, SegmentSource } from "./source.js";

const wire: SegmentSource = { kind: "segment", from_m: [0, 0, -500], to_m: [0, 0, 500], current_A: 10 };
const rectangle: RectangleSource = {
  kind: "rectangle",
  center_m: [0, 0, 0],
  normal: [0, 0, 1],
  edge: [1, 0, 0],
  size_m: [0.3, 0.2],
  current_A: 10,
};

describe("straight conductors", () => {
  it("a long wire: mu0 I/(2 pi d), right-handed about the current", () => {
    const [x, y, z] = fieldAtPoint([wire], [0.1, 0, 0]);
    expect(y / ((mu0 * 10) / (2 * Math.PI * 0.1))).toBeCloseTo(1, 7);
    expect([x, z].map(Math.abs)).toEqual([0, 0]);
  });

  it("nothing on the extension, no value on the wire", () => {
    expect(Math.hypot(...fieldAtPoint([wire], [0, 0, 600]))).toBe(0);
    expect(fieldAtPoint([wire], [0, 0, 0]).every(Number.isFinite)).toBe(false);
  });

  it("a rectangle at its centre: 2 mu0 I √(a² + b²)/(pi a b) along the normal", () => {
    const expected = (2 * mu0 * 10 * Math.hypot(0.3, 0.2)) / (Math.PI * 0.3 * 0.2);
    const [x, y, z] = fieldAtPoint([rectangle], [0, 0, 0]);
    expect(z / expected).toBeCloseTo(1, 14);
    expect(Math.hypot(x, y)).toBeLessThan(1e-15 * expected);
  });

  it("a rectangle far away is a dipole of moment I a b", () => {
    const z = fieldAtPoint([rectangle], [0, 0, 1000])[2];
    expect(z / ((mu0 * 10 * 0.06) / (2 * Math.PI * 1e9))).toBeCloseTo(1, 6);
  });
});
