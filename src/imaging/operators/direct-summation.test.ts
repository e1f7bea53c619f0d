import { describe, expect, it } from "vitest";
import { loop20mm_T_per_A, momentPerIron, pointGradient, smallGeometry } from "../../../checks/imaging/small-raster.js";
import { type Axis, axisIndex, langevin, xiPerTesla } from "../../physics/index.js";
import { drivePhase, positionAt, slowAxes } from "../acquisition/line-raster.js";
import { cutIntoPoints, type Vector } from "../acquisition/point-sources.js";
import { directSummation, directSummationSteps } from "./direct-summation.js";
import type { RasterGeometry } from "./raster-geometry.js";

const point = (center_m: Vector, iron_kg = 1e-12) =>
  cutIntoPoints([{ kind: "point", center_m, iron_kg }], [1e-3, 1e-3, 1e-3]);

/** Closed form: moment along the drive of single cores in the moving field, A·m². */
function moment(geometry: RasterGeometry, { at, frame, phase }: { at: Vector; frame: number; phase: number }): number {
  const { raster } = geometry;
  const [axisA, axisB] = slowAxes(raster.driveAxis);
  const patches = raster.patches.count;
  const line = Math.floor(frame / patches);
  const place = {
    [raster.driveAxis]: positionAt(raster.patches, frame % patches),
    [axisA]: positionAt(raster.lines.a, line % raster.lines.a.count),
    [axisB]: positionAt(raster.lines.b, Math.floor(line / raster.lines.a.count)),
  } as Record<Axis, number>;
  const field = (["x", "y", "z"] as const).map((axis, i) => pointGradient[i] * (at[i] - place[axis]));
  field[axisIndex(raster.driveAxis)] += raster.driveAmplitude_T * Math.cos(phase);
  const b = Math.hypot(...field);
  return (1e-12 * momentPerIron * langevin(xiPerTesla(25e-9, 446e3, 300) * b) * field[axisIndex(raster.driveAxis)]) / b;
}

describe("direct summation", () => {
  it.each<[Axis, Vector]>([
    ["z", [0.4e-3, -1.1e-3, 0.7e-3]],
    ["z", [2.9e-3, 0.3e-3, -2.2e-3]],
    ["x", [0.9e-3, 0.5e-3, -0.6e-3]],
    ["y", [-0.4e-3, 2.1e-3, 1.3e-3]],
  ])("drive %s, tracer at %j: u = −S dm/dt of a dipole differentiated numerically", (driveAxis, at) => {
    const geometry = smallGeometry({ driveAxis });
    const n = geometry.raster.samplesPerPeriod;
    const voltage = directSummation(point(at), geometry);
    const omega = 2 * Math.PI * geometry.raster.frequency_Hz;
    const peak = voltage.reduce((max, value) => Math.max(max, Math.abs(value)), 0);
    const h = 1e-3;
    let worst = 0;
    for (let frame = 0; frame < voltage.length / n; frame++)
      for (let j = 0; j < n; j++) {
        const m = (step: number) => moment(geometry, { at, frame, phase: drivePhase(j, n) + step * h });
        const rate = ((8 * (m(1) - m(-1)) - (m(2) - m(-2))) / (12 * h)) * omega;
        worst = Math.max(worst, Math.abs(voltage[frame * n + j] + loop20mm_T_per_A * rate) / peak);
      }
    // The five-point difference errs by h⁴ ξ₀⁴ m⁽⁵⁾/30 with ξ₀ = 17.6: measured up to 7e-9; the table adds 1e-11.
    expect(worst).toBeLessThan(2e-8);
  });

  it("adds up: many points are the sum of each, in proportion to their iron", () => {
    const geometry = smallGeometry();
    const [p, q]: Vector[] = [
      [0, 0, 1e-3],
      [2e-3, -1e-3, -2e-3],
    ];
    const both = directSummation(
      cutIntoPoints(
        [
          { kind: "point", center_m: p, iron_kg: 3e-12 },
          { kind: "point", center_m: q, iron_kg: 1e-12 },
        ],
        [1e-3, 1e-3, 1e-3],
      ),
      geometry,
    );
    const [alone, other] = [directSummation(point(p), geometry), directSummation(point(q), geometry)];
    const peak = Math.max(...both);
    both.forEach((value, i) => {
      expect(Math.abs(value - 3 * alone[i] - other[i]) / peak).toBeLessThan(1e-14);
    });
  });

  it("turns its sign with the coil's polarity, and holds no even part in time about a turning point", () => {
    const geometry = smallGeometry();
    const n = geometry.raster.samplesPerPeriod;
    const up = directSummation(point([0, 0, 1e-3]), geometry);
    const down = directSummation(point([0, 0, 1e-3]), { ...geometry, sensitivity_T_per_A: -loop20mm_T_per_A });
    up.forEach((value, i) => {
      expect(down[i]).toBe(-value);
      expect(up[i - (i % n) + n - 1 - (i % n)]).toBe(-value);
    });
  });

  it("puts lines and patches in the order [b][a][patch]", () => {
    const geometry = smallGeometry();
    const { raster } = geometry;
    const [a, b, p] = [2, 1, 0];
    const at: Vector = [positionAt(raster.lines.a, a), positionAt(raster.lines.b, b), positionAt(raster.patches, p)];
    const voltage = directSummation(point(at), geometry);
    const n = raster.samplesPerPeriod;
    const energy = Array.from({ length: voltage.length / n }, (_, frame) =>
      voltage.subarray(frame * n, (frame + 1) * n).reduce((sum, value) => sum + value * value, 0),
    );
    expect(energy.indexOf(Math.max(...energy))).toBe((b * 4 + a) * 3 + p);
  });

  it("gives silence for no iron, and the same by steps, one a line", () => {
    const geometry = smallGeometry();
    expect(directSummation(point([0, 0, 0], 0), geometry).every((value) => value === 0)).toBe(true);
    const steps = directSummationSteps(point([0, 0, 1e-3]), geometry);
    const heard: number[] = [];
    let step = steps.next();
    for (; !step.done; step = steps.next()) heard.push(step.value);
    expect(heard.map((fraction) => Math.round(fraction * 12))).toEqual([0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11]);
    expect([...step.value]).toEqual([...directSummation(point([0, 0, 1e-3]), geometry)]);
  });
});
