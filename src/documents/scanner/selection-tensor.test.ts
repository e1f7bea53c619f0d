import fc from "fast-check";
import { EigenvalueDecomposition, Matrix } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { diagonalTensor, distanceFromLine, type Tensor3 } from "./selection-tensor.js";

describe("distanceFromLine", () => {
  it("is 0 for a field-free line and 2/3^1.5 for a point of revolution, at any strength", () => {
    expect(distanceFromLine(diagonalTensor([7, -7, 0]))).toBe(0);
    // det = G^3/4 and |G|_F = G sqrt(1.5), so the ratio is (1/4) / 0.75^1.5 = 0.3849; a few roundings.
    for (const strength of [1e-200, 7, 1e200])
      expect(distanceFromLine(diagonalTensor([-strength / 2, -strength / 2, strength]))).toBeCloseTo(2 / 3 ** 1.5, 14);
  });

  it("agrees with the eigenvalues of a general library for tilted tensors", () => {
    // Hundredths: the library's decomposition fails on subnormal elements.
    const element = fc.integer({ min: -1000, max: 1000 }).map((hundredths) => hundredths / 100);
    fc.assert(
      fc.property(element, element, element, element, element, (xx, yy, xy, xz, yz) => {
        const tensor: Tensor3 = [
          [xx, xy, xz],
          [xy, yy, yz],
          [xz, yz, -xx - yy],
        ];
        fc.pre(tensor.flat().some((each) => each !== 0));
        const values = new EigenvalueDecomposition(new Matrix(tensor as unknown as number[][])).realEigenvalues;
        const norm = Math.sqrt(values.reduce((sum, each) => sum + each * each, 0) / 2);
        const product = Math.abs(values.reduce((all, each) => all * (each / norm), 1));
        // Both sides lose digits to the same cancellation near a line: absolute, not relative, 1e-12.
        expect(Math.abs(distanceFromLine(tensor) - product)).toBeLessThan(1e-12);
      }),
    );
  });

  it("tends to the ratio of the smallest to the largest eigenvalue near a line", () => {
    expect(distanceFromLine(diagonalTensor([7, -7.0007, 0.0007])) / 1e-4).toBeCloseTo(1, 3);
  });
});
