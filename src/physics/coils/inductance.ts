import { FerruleError } from "../../errors.js";
import { cross, dot, moved } from "../sources/vector3.js";
import { type CoaxialSection, coaxialInductance_H } from "./coaxial-inductance.js";
import { neumannInductance_H } from "./neumann.js";
import type { Coil, Winding, WindingShape } from "./winding.js";
import { requireWinding } from "./winding-refusals.js";
import { rectangleInductance_H, ringInductance_H, sheetInductance_H } from "./wire-inductance.js";

/**
 * Self inductance of a winding, H: turns² times that of its shape with one turn.
 *
 * Valid for   the current spread evenly over the section, as many turns do; see the shape's own function for its range
 * Checked by  checks/coil-engineering
 */
export function selfInductance_H(winding: Winding): number {
  requireWinding(winding);
  const { shape, turns, bundleRadius_m = 0 } = winding;
  if (shape.kind === "loop") return turns ** 2 * ringInductance_H(shape.radius_m, bundleRadius_m);
  if (shape.kind === "rectangle") return turns ** 2 * rectangleInductance_H(shape.size_m, bundleRadius_m);
  if (shape.outerRadius_m === shape.innerRadius_m)
    return turns ** 2 * sheetInductance_H(shape.innerRadius_m, shape.length_m);
  const section = sectionOf(shape, shape.center_m);
  return turns ** 2 * coaxialInductance_H(section, section);
}

/**
 * Mutual inductance of two windings, H, with its sign: positive where a current in one gives flux the other's way.
 * Loops and stacks about one axis by closed forms, everything else by Neumann's integral. Bundles of turns of loops and
 * rectangles act as filaments at their middle.
 *
 * Valid for   windings that do not touch (coaxial stacks may even overlap); bundles thin against their distance
 * Checked by  checks/coil-engineering
 */
export function mutualInductance_H(a: Winding, b: Winding): number {
  requireWinding(a);
  requireWinding(b);
  const sign = (a.sense ?? 1) * (b.sense ?? 1) * a.turns * b.turns;
  if (!isCoaxial(a.shape, b.shape)) return sign * neumannInductance_H(a.shape, b.shape);
  const direction = Math.sign(dot(a.shape.normal, b.shape.normal));
  const sections = [a, b].map(({ shape }) => sectionOf(shape, a.shape.center_m, a.shape.normal));
  requireApart(sections, bundleOf_m(a) + bundleOf_m(b));
  return sign * direction * coaxialInductance_H(sections[0], sections[1]);
}

/** All self and mutual inductances of a coil's windings, H, row-major [n, n]; symmetric, signs of `sense` included. */
export function inductanceMatrix_H({ windings }: Coil): Float64Array {
  const n = windings.length;
  const matrix = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    matrix[i * n + i] = selfInductance_H(windings[i]);
    for (let j = 0; j < i; j++) {
      matrix[i * n + j] = mutualInductance_H(windings[i], windings[j]);
      matrix[j * n + i] = matrix[i * n + j];
    }
  }
  return matrix;
}

/** Inductance of all windings in series, H: L = Σ_i Σ_j M_ij. */
export function coilInductance_H(coil: Coil): number {
  if (coil.windings.length === 0)
    throw new FerruleError("InvalidValue", { path: "windings", found: "none", accepted: "at least one winding" });
  return inductanceMatrix_H(coil).reduce((sum, value) => sum + value, 0);
}

function isCoaxial(a: WindingShape, b: WindingShape): boolean {
  if (a.kind === "rectangle" || b.kind === "rectangle") return false;
  const from = moved(b.center_m, a.center_m, -1);
  const off = Math.hypot(...cross(a.normal, from));
  const radius = Math.min(...[a, b].map((s) => (s.kind === "loop" ? s.radius_m : s.innerRadius_m)));
  return Math.hypot(...cross(a.normal, b.normal)) < 1e-12 && off < 1e-12 * (radius + Math.hypot(...from));
}

/** Radii and place along an axis through `origin_m`. */
function sectionOf(shape: WindingShape, origin_m: WindingShape["center_m"], normal = shape.normal): CoaxialSection {
  const z = dot(moved(shape.center_m, origin_m, -1), normal);
  if (shape.kind === "coil-stack")
    return {
      innerRadius_m: shape.innerRadius_m,
      outerRadius_m: shape.outerRadius_m,
      from_m: z - shape.length_m / 2,
      to_m: z + shape.length_m / 2,
    };
  const radius = shape.kind === "loop" ? shape.radius_m : 0;
  return { innerRadius_m: radius, outerRadius_m: radius, from_m: z, to_m: z };
}

/** A stack has a section of its own. */
const bundleOf_m = ({ shape, bundleRadius_m = 0 }: Winding): number =>
  shape.kind === "coil-stack" ? 0 : bundleRadius_m;

/** Bundles act as filaments at their middles, which must not be closer than the bundles are thick. */
function requireApart([a, b]: readonly CoaxialSection[], thickness_m: number): void {
  const axial = Math.max(a.from_m - b.to_m, b.from_m - a.to_m, 0);
  const radial = Math.max(a.innerRadius_m - b.outerRadius_m, b.innerRadius_m - a.outerRadius_m, 0);
  const gap_m = Math.hypot(axial, radial);
  if (thickness_m === 0 || gap_m >= thickness_m * (1 - 1e-9)) return;
  throw new FerruleError("InvalidValue", {
    path: "windings",
    found: `two windings ${gap_m} m apart whose bundles need ${thickness_m} m`,
    accepted: "windings that do not overlap, e.g. with a smaller bundleRadius_m",
  });
}
