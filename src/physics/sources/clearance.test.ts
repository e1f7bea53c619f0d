import { describe, expect, it } from "vitest";
import { clearance_m } from "./clearance.js";
import { clearanceFromAxis_m } from "./clearance-from-axis.js";
import { sidesOf } from "./segment-field.js";
import type { FieldSource, Vector3 } from "./source.js";
import { cross, intoFrame, moved, scannerFrame, subtract } from "./vector3.js";

const center_m: Vector3 = [0.11, -0.02, 0.05];
const axis: Vector3 = [0.36, 0.48, 0.8];
const across: Vector3 = [0.8, -0.6, 0];
const coil = {
  kind: "coil-stack",
  center_m,
  normal: axis,
  innerRadius_m: 0.03,
  outerRadius_m: 0.05,
  length_m: 0.04,
} as const;
const sector = {
  kind: "ring-sector",
  center_m,
  axis,
  reference: across,
  innerRadius_m: 0.03,
  outerRadius_m: 0.06,
} as const;
const remanence_T: Vector3 = [0, 0, 1];

const bodies: readonly FieldSource[] = [
  { kind: "loop", center_m, normal: axis, radius_m: 0.06, current_A: 1 },
  { ...coil, current_A: 1 },
  { ...coil, innerRadius_m: 0.05, current_A: 1 },
  { ...coil, innerRadius_m: 0, current_A: 1 },
  { kind: "segment", from_m: [0.1, 0.02, -0.1], to_m: [0.05, 0.1, 0.2], current_A: 1 },
  { kind: "rectangle", center_m, normal: axis, edge: across, size_m: [0.1, 0.06], current_A: 1 },
  { kind: "block", center_m, size_m: [0.05, 0.07, 0.03], edges: [across, cross(axis, across), axis], remanence_T },
  { ...sector, length_m: 0.05, fromAngle_rad: -0.4, toAngle_rad: 0.7, remanence_T },
  { ...sector, length_m: 0.05, fromAngle_rad: 1, toAngle_rad: 5, remanence_T },
  { ...sector, innerRadius_m: 0, length_m: 0.05, fromAngle_rad: 1, toAngle_rad: 1.8, remanence_T },
  { ...sector, length_m: 0.05, fromAngle_rad: 0, toAngle_rad: 2 * Math.PI, remanence_T },
];

const between = (a: number, b: number, n: number): number[] =>
  a === b ? [a] : Array.from({ length: n + 1 }, (_, i) => a + ((b - a) * i) / n);

/** Many points of a body: distances from them are never below the true distance, and little above. */
function pointsOf(source: FieldSource): Vector3[] {
  const turned = (radii: number[], heights: number[], angles: number[], frame: readonly [Vector3, Vector3, Vector3]) =>
    radii.flatMap((r) =>
      heights.flatMap((z) =>
        angles.map((angle) =>
          moved(moved(moved(center_m, frame[0], r * Math.cos(angle)), frame[1], r * Math.sin(angle)), frame[2], z),
        ),
      ),
    );
  const frame = [across, cross(axis, across), axis] as const;
  const round = between(0, 2 * Math.PI, 360);
  switch (source.kind) {
    case "loop":
      return turned([source.radius_m], [0], round, frame);
    case "coil-stack":
      return turned(between(source.innerRadius_m, source.outerRadius_m, 4), between(-0.02, 0.02, 8), round, frame);
    case "ring-sector":
      return turned(
        between(source.innerRadius_m, 0.06, 6),
        between(-0.025, 0.025, 8),
        between(source.fromAngle_rad, source.toAngle_rad, 240),
        frame,
      );
    case "segment":
      return between(0, 1, 4000).map((t) => moved(source.from_m, subtract(source.to_m, source.from_m), t));
    case "rectangle":
      return sidesOf(source).flatMap((side) => pointsOf(side));
    case "block": {
      const [u, v, w] = source.edges ?? scannerFrame;
      const reach = source.size_m.map((size) => between(-size / 2, size / 2, 16));
      return reach[0].flatMap((a) =>
        reach[1].flatMap((b) => reach[2].map((c) => moved(moved(moved(center_m, u, a), v, b), w, c))),
      );
    }
  }
}

describe("clearance from a body", () => {
  const probes: readonly Vector3[] = [
    [0, 0, 0],
    [0.11, -0.02, 0.05],
    [0.2, 0.1, -0.05],
    [0.15, 0.05, 0.1],
    [0.05, -0.08, 0.08],
    [0.12, 0.01, 0.12],
  ];
  for (const source of bodies)
    it(`${source.kind}: the nearest of many points of the body, from outside`, () => {
      const points = pointsOf(source);
      for (const probe of probes) {
        const found = clearance_m([source], probe);
        if (found <= 0) continue;
        const nearest = Math.min(...points.map((p) => Math.hypot(...subtract(p, probe))));
        // Neighbouring points lie up to 6 mm apart across the line of sight, 40 mm away: 3²/(2·40) mm.
        expect(found).toBeLessThanOrEqual(nearest + 1e-12);
        expect(found).toBeGreaterThan(nearest - 5e-4);
      }
    });

  it("is negative inside: the distance to the nearest face", () => {
    const at = (rho: number, z: number): Vector3 => moved(moved(center_m, across, rho), axis, z);
    expect(clearance_m([bodies[1]], at(0.035, 0))).toBeCloseTo(-0.005, 14);
    expect(clearance_m([bodies[1]], at(0.04, 0.019))).toBeCloseTo(-0.001, 14);
    expect(clearance_m([bodies[3]], at(0, 0))).toBeCloseTo(-0.02, 14);
    expect(clearance_m([bodies[6]], center_m)).toBeCloseTo(-0.015, 14);
    expect(clearance_m([bodies[7]], at(0.04, 0))).toBeCloseTo(-0.01, 14);
    expect(clearance_m([bodies[10]], at(0.055, 0))).toBeCloseTo(-0.005, 14);
    expect(intoFrame(subtract(at(0.04, 0), center_m), [across, cross(axis, across), axis])[0]).toBeCloseTo(0.04, 14);
  });

  it("takes the nearest of several bodies; none is infinitely far", () => {
    const single = bodies.map((source) => clearance_m([source], [0.3, 0, 0]));
    expect(clearance_m(bodies, [0.3, 0, 0])).toBe(Math.min(...single));
    expect(clearance_m([], [0, 0, 0])).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("clearance from a scanner axis", () => {
  for (const source of bodies)
    it(`${source.kind}: the nearest of many points of the body`, () => {
      const points = pointsOf(source);
      for (const [k, name] of (["x", "y", "z"] as const).entries()) {
        const nearest = Math.min(...points.map((p) => Math.hypot(p[(k + 1) % 3], p[(k + 2) % 3])));
        const found = clearanceFromAxis_m(source, name);
        expect(found).toBeLessThanOrEqual(nearest + 1e-9);
        // Points lie up to 6 mm apart; where the axis runs through the body the nearest is half that far.
        expect(found).toBeGreaterThan(nearest - 3e-3);
      }
    });

  it("of a coil that stands on the axis it is the inner radius; 0 where the axis runs through", () => {
    const upright: FieldSource = { ...coil, center_m: [0, 0, 0.3], normal: [0, 0, 1], current_A: 1 };
    expect(clearanceFromAxis_m(upright, "z")).toBeCloseTo(0.03, 12);
    expect(clearanceFromAxis_m({ ...upright, center_m: [0, 0, 0] }, "x")).toBeCloseTo(0, 12);
    const block: FieldSource = { kind: "block", center_m: [0.05, 0, 0], size_m: [0.02, 0.02, 0.02], remanence_T };
    expect(clearanceFromAxis_m(block, "z")).toBeCloseTo(0.04, 14);
    expect(clearanceFromAxis_m(block, "x")).toBe(0);
  });
});
