import { describe, expect, it } from "vitest";
import {
  cutIntoPoints,
  directSummation,
  fullRasterOperator,
  periodBasis,
  projectFrames,
  type RasterGeometry,
  voxelVolume_m3,
} from "../../src/imaging/index.js";
import { ensembleResponse, xiPerTesla } from "../../src/physics/index.js";
import { momentPerIron, smallGeometry, tracer25 } from "./small-raster.js";
import { truth } from "./truth.js";

const omega = 2 * Math.PI * 25e3;
const pointOf = (iron_kg: number, z_m = 0) =>
  cutIntoPoints([{ kind: "point", center_m: [0, 0, z_m], iron_kg }], [1e-3, 1e-3, 1e-3]);

/** One line, one patch, both on the origin. */
function singleLine(change: Partial<RasterGeometry["raster"]>): RasterGeometry {
  const geometry = smallGeometry({ linesA: 1, linesB: 1, patches: 1, depth: 1 });
  return { ...geometry, raster: { ...geometry.raster, ...change } };
}

describe("reciprocity, N14: 1 ng Fe at the field-free point in a 20 mm loop", () => {
  // 66 samples put one on the passage through zero field, θ = π/2, where slope and speed are both largest.
  const voltage = directSummation(pointOf(1e-12), singleLine({ samplesPerPeriod: 66 }));
  const peak = voltage.reduce((max, value) => Math.max(max, Math.abs(value)), 0);
  it("gives the printed 3.4485 nV (half a unit of its last digit)", () => {
    expect(Math.abs(peak - 3.4485e-9)).toBeLessThan(0.5e-13);
  });
  it("gives the recomputed value", () => {
    // Our iron fraction of magnetite has more digits than the sheet's 0.7236: 3e-5 of it.
    expect(Math.abs(peak / Number(truth.N14.voltage_V) - 1)).toBeLessThan(5e-5);
    expect(Math.abs(3.141592653589793e-5 / Number(truth.N14.loop_T_per_A) - 1)).toBeLessThan(1e-11);
  });
  it("there, on the way up: the voltage is positive while the drive falls (u = −dΦ/dt, dB/dt < 0)", () => {
    expect(voltage[16]).toBe(peak);
    expect(voltage[66 - 17]).toBe(-peak);
  });
});

describe("harmonics at the field-free point, W9 and W10", () => {
  it.each([...truth.harmonics])("$row: L(ξ₀ cos θ), ξ₀ = $xi0", ({ xi0, n, value }) => {
    const amplitude_T = xi0 / xiPerTesla(25e-9, 446e3, 300);
    // 256 samples: aliases start at harmonic 249, far below rounding.
    const geometry = singleLine({ samplesPerPeriod: 256, driveAmplitude_T: amplitude_T });
    const voltage = directSummation(pointOf(1e-12), geometry);
    const sine = projectFrames(voltage, periodBasis(256, 1, 8).sine, 256);
    const scale = geometry.sensitivity_T_per_A * 1e-12 * momentPerIron * omega;
    n.forEach((harmonic, i) => {
      // u = −S dm/dt turns a_n cos nθ into + n a_n ω sin nθ. Error: the table's, 1e-12 of its peak, times n.
      expect(Math.abs(sine[harmonic - 1] / (harmonic * scale) - Number(value[i]))).toBeLessThan(1e-10);
    });
    for (const even of [2, 4, 6, 8]) expect(Math.abs(sine[even - 1]) / scale).toBeLessThan(1e-12);
  });

  it("the operator gives the same for a voxel of 1 µm", () => {
    const { xi0, n, value } = truth.harmonics[1];
    const small = smallGeometry({
      linesA: 2,
      linesB: 2,
      pitch_m: 1e-6,
      patches: 1,
      depth: 1,
      voxelStep_m: 1e-6,
      samplesPerPeriod: 256,
    });
    const raster = { ...small.raster, driveAmplitude_T: xi0 / xiPerTesla(25e-9, 446e3, 300) };
    const geometry = { ...small, raster };
    const rows = fullRasterOperator(geometry).forward(Float64Array.of(1, 0, 0, 0));
    const scale = geometry.sensitivity_T_per_A * voxelVolume_m3(geometry) * momentPerIron * omega;
    for (const [i, harmonic] of n.entries())
      if (harmonic > 1)
        // Gauss points 0.3 µm off see 2 µT: (ξ = 2e-3)² n²/24 of the amplitude.
        expect(Math.abs(rows[harmonic - 2] / (harmonic * scale) - Number(value[i]))).toBeLessThan(1e-5);
  });
});

describe("harmonics of a step response at y, S2-S3 and W11", () => {
  it.each([...truth.step])("sin(n arccos y), n = $n, y = $y", ({ n, y, value }) => {
    // Cores of 100 nm stand for the step: L(ξ) = sign ξ − 1/ξ up to exponentials. The tail −1/ξ takes the known part
    // π n/(2 ξ₀ √(1 − y²)) of every harmonic (Glauert's integral ∫₀^π cos nθ/(cos θ − y) dθ = π sin nφ/sin φ), 0.3 % here.
    const step = ensembleResponse({ ...tracer25, sizes: { kind: "single", diameter_m: 100e-9 } }, momentPerIron);
    const xi0 = 0.02 * xiPerTesla(100e-9, 446e3, 300);
    const geometry = { ...singleLine({ samplesPerPeriod: 8192 }), response: step };
    // B = G z + A cos θ changes sign where cos θ = −G z/A = y.
    const voltage = directSummation(pointOf(1e-12, (-y * 0.02) / 7), geometry);
    const sine = projectFrames(voltage, periodBasis(8192, 1, 8).sine, 8192);
    const scale = geometry.sensitivity_T_per_A * 1e-12 * momentPerIron * omega * (4 / Math.PI);
    const tail = (Math.PI * n) / (2 * xi0 * Math.sqrt(1 - y * y));
    // What remains is the rounded foot of the step, (n/ξ₀)² = 4e-5 at n = 7: measured up to 1.6e-5.
    expect(Math.abs(sine[n - 1] / scale - Number(value) * (1 - tail))).toBeLessThan(4e-5);
  });
});
