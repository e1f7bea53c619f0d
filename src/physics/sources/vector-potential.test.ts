import { describe, expect, it } from "vitest";
import { centralDifference } from "./central-difference.js";
import { clearance_m } from "./clearance.js";
import { fieldAtPoint } from "./field-of-sources.js";
import type { FieldSource, Vector3 } from "./source.js";
import { vectorPotentialOfSources } from "./vector-potential.js";

const center_m: Vector3 = [0.01, -0.02, 0.005];
const normal: Vector3 = [0.36, 0.48, 0.8];
const across: Vector3 = [0.8, -0.6, 0];
const coil = { kind: "coil-stack", center_m, normal, innerRadius_m: 0.05, outerRadius_m: 0.08, length_m: 0.1 } as const;
const sector = { kind: "ring-sector", center_m, axis: normal, reference: across, innerRadius_m: 0.05 } as const;
const remanence_T: Vector3 = [0.3, 0.5, -0.7];

const sources: Record<string, FieldSource> = {
  loop: { kind: "loop", center_m, normal, radius_m: 0.06, current_A: 100 },
  sheet: { ...coil, innerRadius_m: 0.08, current_A: 1000 },
  "thick coil": { ...coil, current_A: 1000 },
  rectangle: { kind: "rectangle", center_m, normal, edge: across, size_m: [0.1, 0.07], current_A: 100 },
  block: {
    kind: "block",
    center_m,
    size_m: [0.05, 0.07, 0.03],
    edges: [across, [-0.48, -0.64, 0.6], [-0.36, -0.48, -0.8]],
    remanence_T,
  },
  sector: { ...sector, outerRadius_m: 0.09, length_m: 0.06, fromAngle_rad: -0.4, toAngle_rad: 0.7, remanence_T },
  ring: { ...sector, outerRadius_m: 0.09, length_m: 0.06, fromAngle_rad: 0, toAngle_rad: 2 * Math.PI, remanence_T },
};

const points: readonly Vector3[] = [
  [0.02, 0.01, 0.03],
  [0.055, -0.056, 0.005],
  [0.04, 0.05, -0.09],
  [0.3, -0.2, 0.5],
  [2, 3, -1],
];

describe("vector potential", () => {
  // Differences of tenth order, an eightieth of the clearance: 1e-13 of truncation; rounding 80 times the error of |A|, and |A| is of the
  // size |B|·distance at most.
  for (const [name, source] of Object.entries(sources))
    it(`${name}: its curl is the field, its divergence 0, inside and out`, () => {
      const potential = vectorPotentialOfSources([source]);
      const at = new Float64Array(3);
      const add = (x: number, y: number, z: number, sum: Float64Array) => {
        at.set([x, y, z]);
        const found = potential(at);
        for (let i = 0; i < 3; i++) sum[i] += found[i];
      };
      for (const point of points) {
        const g = centralDifference(add, point, Math.abs(clearance_m([source], point)) / 80);
        const field = fieldAtPoint([source], point);
        const size = Math.hypot(...field);
        const curl = [g[7] - g[5], g[2] - g[6], g[3] - g[1]];
        const gap = Math.hypot(...curl.map((value, i) => value - field[i]));
        expect(gap / size, `curl at ${point}`).toBeLessThan(2e-10);
        expect(Math.abs(g[0] + g[4] + g[8]) / size, `divergence at ${point}`).toBeLessThan(2e-10);
      }
    });
});
