import { describe, expect, it } from "vitest";
import { stream } from "../random/stream.js";
import { triangularise } from "./householder.js";

describe("Householder reduction", () => {
  it("keeps the Gram matrix and the projections of the right-hand side", () => {
    const [m, n] = [9, 3];
    const a = stream(1).fillNormal(new Float64Array(m * n));
    const b = stream(2).fillNormal(new Float64Array(m));
    const c = Float64Array.from(b);
    const r = triangularise(Float64Array.from(a), c, n);
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < i; j++) expect(r[i * n + j]).toBe(0);
      for (let j = 0; j < n; j++) {
        const gram = sum(m, (k) => a[k * n + i] * a[k * n + j]);
        expect(sum(n, (k) => r[k * n + i] * r[k * n + j])).toBeCloseTo(gram, 13);
      }
      expect(sum(n, (k) => r[k * n + i] * c[k])).toBeCloseTo(
        sum(m, (k) => a[k * n + i] * b[k]),
        13,
      );
    }
    expect(sum(m, (k) => c[k] ** 2)).toBeCloseTo(
      sum(m, (k) => b[k] ** 2),
      13,
    );
  });

  it("survives a column of zeros and values whose squares underflow", () => {
    const r = triangularise(Float64Array.of(0, 3e-140, 0, 4e-140), new Float64Array(2), 2);
    expect(r[0]).toBe(0);
    expect(Math.hypot(r[1], r[3])).toBeCloseTo(5e-140, 150);
  });
});

function sum(count: number, term: (k: number) => number): number {
  return Array.from({ length: count }, (_, k) => term(k)).reduce((total, value) => total + value, 0);
}
