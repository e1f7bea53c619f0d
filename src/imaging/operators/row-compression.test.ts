import { describe, expect, it } from "vitest";
import { smallGeometry } from "../../../checks/imaging/small-raster.js";
import { stream } from "../../numerics/index.js";
import { rasterSizes } from "./raster-geometry.js";
import { fullRasterOperator, rasterModel } from "./raster-model.js";
import { compressData, expandData } from "./row-compression.js";

const norm = (x: Float64Array) => Math.sqrt(x.reduce((sum, value) => sum + value * value, 0));
const minus = (x: Float64Array, y: Float64Array) => x.map((value, i) => value - y[i]);

/** Seven patches 1 mm apart see the same 8 mm over and over: 133 rows of which 36 are worth keeping. */
const crowded = smallGeometry({ linesA: 3, linesB: 3, patches: 7, patchStep_m: 1e-3, lastHarmonic: 20 });
const sparse = smallGeometry({ patches: 2 });

describe("row compression", () => {
  const model = rasterModel(crowded);
  const { compression, operator } = model;
  const full = fullRasterOperator(crowded);
  const { voxels, rows: fullRows } = rasterSizes(crowded);

  it("makes the lines shorter where patches overlap, and not where every row counts", () => {
    expect(compression.fullRows).toBe(fullRows);
    expect(compression.rows).toBeLessThan(fullRows / 3);
    expect(rasterModel(sparse).compression.rows).toBe(16);
    expect(rasterModel(sparse).compression.leftOut).toBe(0);
  });

  it("has orthonormal columns, each even or odd under the mirror of patches and harmonics", () => {
    const { basis, rows, parity } = compression;
    const kept = 19;
    for (let r = 0; r < rows; r++) {
      for (let s = 0; s <= r; s++) {
        let inner = 0;
        for (let i = 0; i < fullRows; i++) inner += basis[i * rows + r] * basis[i * rows + s];
        expect(Math.abs(inner - (r === s ? 1 : 0))).toBeLessThan(1e-12);
      }
      for (let p = 0; p < 7; p++)
        for (let h = 0; h < kept; h++) {
          const sign = h % 2 === 1 ? 1 : -1; // harmonic h + 2: odd harmonics keep their sign
          const mirrored = basis[((6 - p) * kept + h) * rows + r];
          expect(Math.abs(basis[(p * kept + h) * rows + r] - sign * parity[r] * mirrored)).toBeLessThan(1e-12);
        }
    }
  });

  it("loses nothing that the operator can say: ‖(I − QQᵀ)A x‖ within its tolerance of ‖A x‖", () => {
    expect(compression.leftOut).toBeLessThan(1e-6);
    const images = [stream(1).fillNormal(new Float64Array(voxels)), new Float64Array(voxels).fill(1)];
    for (let k = 0; k < voxels; k += 5) images.push(Float64Array.from({ length: voxels }, (_, i) => (i === k ? 1 : 0)));
    for (const x of images) {
      const y = full.forward(x);
      const shortened = compressData(y, compression);
      // Left-out directions are below 1e-6 of the largest; a single voxel is smaller than that: measured 4e-7.
      expect(norm(minus(expandData(shortened, compression), y)) / norm(y)).toBeLessThan(2e-6);
      expect(norm(minus(operator.forward(x), shortened)) / norm(y)).toBeLessThan(1e-13);
    }
  });

  it("keeps white noise white: its Gram matrix over many noise lines is the unit matrix (Bonferroni 1e-3)", () => {
    const lines = 4000;
    const noise = compressData(stream(5).fillNormal(new Float64Array(lines * fullRows)), compression);
    const { rows } = compression;
    const entries = (rows * (rows + 1)) / 2;
    let worst = 0;
    for (let r = 0; r < rows; r++)
      for (let s = 0; s <= r; s++) {
        let sum = 0;
        for (let line = 0; line < lines; line++) sum += noise[line * rows + r] * noise[line * rows + s];
        worst = Math.max(worst, Math.abs(sum / lines - (r === s ? 1 : 0)) / Math.sqrt((r === s ? 2 : 1) / lines));
      }
    expect(entries).toBe(666);
    // Two-sided 1e-3/666 of a normal is 5.0 sd.
    expect(worst).toBeLessThan(5);
  });

  it("compressing and expanding are adjoint", () => {
    const lines = 9;
    const y = stream(8).fillNormal(new Float64Array(lines * fullRows));
    const z = stream(9).fillNormal(new Float64Array(lines * compression.rows));
    const dot = (a: Float64Array, b: Float64Array) => a.reduce((sum, value, i) => sum + value * b[i], 0);
    expect(dot(compressData(y, compression), z)).toBeCloseTo(dot(y, expandData(z, compression)), 9);
  });
});
