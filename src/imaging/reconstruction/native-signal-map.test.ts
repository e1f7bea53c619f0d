import { describe, expect, it } from "vitest";
import { smallGeometry } from "../../../checks/imaging/small-raster.js";
import type { Axis } from "../../physics/index.js";
import { drivePhase, positionAt } from "../acquisition/line-raster.js";
import { removeFundamental } from "../acquisition/period-harmonics.js";
import { type RasterGeometry, rasterSizes } from "../operators/raster-geometry.js";
import { nativeSignalMap } from "./native-signal-map.js";

/** Speed amplitude S A ω of a geometry's coil and drive. */
const speedOf = ({ raster, sensitivity_T_per_A: s }: RasterGeometry) =>
  s * raster.driveAmplitude_T * 2 * Math.PI * raster.frequency_Hz;

/** Frames of a known image along the drive axis, different for every line: u = S A ω sin θ · image(s, line). */
function framesOf(geometry: RasterGeometry, image: (s_m: number, line: number) => number): Float64Array {
  const { raster, gradient_T_per_m } = geometry;
  const { linesA, linesB, patches } = rasterSizes(geometry);
  const n = raster.samplesPerPeriod;
  const gradient = gradient_T_per_m[raster.driveAxis === "z" ? 2 : 0];
  return Float64Array.from({ length: linesA * linesB * patches * n }, (_, i) => {
    const frame = Math.floor(i / n);
    const theta = drivePhase(i % n, n);
    const s = positionAt(raster.patches, frame % patches) - (raster.driveAmplitude_T / gradient) * Math.cos(theta);
    return speedOf(geometry) * Math.sin(theta) * image(s, Math.floor(frame / patches));
  });
}
const gauss = (s: number) => Math.exp(-((s / 2e-3) ** 2));
const wide = { patches: 7, samplesPerPeriod: 500, depth: 91, voxelStep_m: 0.2e-3 };
const place = (geometry: RasterGeometry, d: number) => positionAt(geometry.voxels.drive, d);

describe("native signal map", () => {
  it.each<[Axis, "whole" | "filtered"]>([
    ["z", "whole"],
    ["z", "filtered"],
    ["x", "filtered"],
  ])("drive %s, %s frames: brings a known image back on every line", (driveAxis, kind) => {
    const scale = driveAxis === "x" ? 2 : 1; // half the gradient: patches twice as wide
    const geometry = smallGeometry({ ...wide, driveAxis, voxelStep_m: 0.2e-3 * scale });
    const image = (s: number, line: number) => (line + 1) * gauss(s / scale - 1e-3 * Math.sin(line));
    const frames = framesOf(geometry, image);
    if (kind === "filtered") removeFundamental(frames, 500);
    const map = nativeSignalMap(frames, geometry);
    for (let line = 0; line < 12; line++)
      for (let d = 0; d < 91; d++) {
        // A sample counts for its bin's middle: the slope (0.43 per mm) times what is left of 0.1 mm after averaging.
        const expected = image(place(geometry, d), line);
        expect(Math.abs(map[line * 91 + d] - expected) / (line + 1)).toBeLessThan(0.015);
      }
  });

  it.each([1, -1])("margin %i: lines keep their columns, the rest of the map is 0", (marginLines) => {
    const geometry = smallGeometry({ ...wide, linesA: 5, linesB: 4, marginLines });
    const { columnsA, columnsB } = rasterSizes(geometry);
    const map = nativeSignalMap(
      framesOf(geometry, (s, line) => (line + 1) * gauss(s)),
      geometry,
    );
    for (let b = 0; b < columnsB; b++)
      for (let a = 0; a < columnsA; a++) {
        const [la, lb] = [a - marginLines, b - marginLines];
        const expected = la < 0 || lb < 0 || la >= 5 || lb >= 4 ? 0 : lb * 5 + la + 1;
        expect(Math.abs(map[(b * columnsA + a) * 91 + 45] - expected)).toBeLessThan(0.01 * expected + 1e-12);
      }
  });

  it("has no holes where voxels are finer than the way between two samples (0.28 mm)", () => {
    const geometry = smallGeometry({ patches: 7, samplesPerPeriod: 64, depth: 301, voxelStep_m: 0.05e-3 });
    const map = nativeSignalMap(removeFundamental(framesOf(geometry, gauss), 64), geometry);
    // Linear bridges across 0.28 mm, bins of 0.05 mm, and 7 patches that sample at different places.
    for (let d = 0; d < 301; d++) expect(Math.abs(map[d] - gauss(place(geometry, d)))).toBeLessThan(0.02);
  });

  it("is linear, and turns its sign with the voltage", () => {
    const geometry = smallGeometry(wide);
    const [f, g] = [framesOf(geometry, gauss), framesOf(geometry, (s) => s * 100)];
    const [mapF, mapG] = [nativeSignalMap(f, geometry), nativeSignalMap(g, geometry)];
    const mixed = nativeSignalMap(
      f.map((value, i) => 2 * value - g[i]),
      geometry,
    );
    mixed.forEach((value, i) => {
      expect(value).toBeCloseTo(2 * mapF[i] - mapG[i], 9);
    });
  });
});
