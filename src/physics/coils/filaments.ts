import { gaussLegendre } from "../../numerics/index.js";
import { vacuumPermeability_T_m_per_A as mu0 } from "../../units/index.js";
import type { Vector3 } from "../sources/source.js";
import { cross, distance, dot, moved } from "../sources/vector3.js";
import { loopFlux_H, loopFluxOverLength_H_m } from "./loop-flux.js";
import type { WindingShape } from "./winding.js";

export interface Ring {
  readonly kind: "ring";
  readonly center_m: Vector3;
  readonly normal: Vector3;
  readonly radius_m: number;
}

/** Closed path of straight edges. */
export interface Polygon {
  readonly kind: "polygon";
  readonly corners_m: readonly Vector3[];
}

/** One turn spread over a cylinder. */
export interface Sheet {
  readonly kind: "sheet";
  readonly center_m: Vector3;
  readonly normal: Vector3;
  readonly radius_m: number;
  readonly length_m: number;
}

export type Filament = Ring | Polygon;

/** A part of a winding, with the share of the turns that it stands for. */
export interface Part<Kind> {
  readonly part: Kind;
  readonly weight: number;
}

/** A winding as filaments whose weights sum to 1: a stack by Gauss-Legendre rings, others as they are. */
export function filamentsOf(
  shape: WindingShape,
  { radial, axial }: { readonly radial: number; readonly axial: number },
): Part<Filament>[] {
  const { center_m, normal } = shape;
  if (shape.kind === "loop") return [{ part: { kind: "ring", center_m, normal, radius_m: shape.radius_m }, weight: 1 }];
  if (shape.kind === "rectangle") {
    const { edge, size_m } = shape;
    const other = cross(normal, edge);
    const corner = (u: number, v: number) =>
      moved(moved(center_m, edge, (u * size_m[0]) / 2), other, (v * size_m[1]) / 2);
    const corners_m = [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)];
    return [{ part: { kind: "polygon", corners_m }, weight: 1 }];
  }
  const along_m = gaussLegendre(axial, { interval: [-shape.length_m / 2, shape.length_m / 2] });
  return sheetsOf(shape, radial).flatMap(({ part: { radius_m }, weight }) =>
    Array.from(along_m.nodes, (z, j) => ({
      part: { kind: "ring" as const, center_m: moved(center_m, normal, z), normal, radius_m },
      weight: (weight * along_m.weights[j]) / shape.length_m,
    })),
  );
}

/** A stack as thin sheets over its radii, whose weights sum to 1. */
export function sheetsOf(shape: Extract<WindingShape, { kind: "coil-stack" }>, radial: number): Part<Sheet>[] {
  const { center_m, normal, innerRadius_m: inner, outerRadius_m: outer, length_m } = shape;
  const sheet = (radius_m: number): Sheet => ({ kind: "sheet", center_m, normal, radius_m, length_m });
  if (inner === outer) return [{ part: sheet(inner), weight: 1 }];
  const rule = gaussLegendre(radial, { interval: [0, 1] });
  return Array.from(rule.nodes, (t, i) => ({ part: sheet(inner + t * (outer - inner)), weight: rule.weights[i] }));
}

/**
 * Vector potential of a filament or sheet of 1 A at a point, T m/A.
 *   ring     A_φ = M(a, ρ, z)/(2π·ρ), M the flux through the coaxial loop of radius ρ
 *   sheet    the same with M averaged over its length; close to the axis A_φ = ρ·B/2
 *   edge     A = (μ0/4π)·ln((R1 + R2 + L)/(R1 + R2 − L)) along it
 *
 * Valid for   points off the filament; the gauge is ∇·A = 0
 * Source      Stokes; textbooks (from memory)
 * Checked by  checks/coil-engineering (as part of mutual inductances)
 */
export function potentialPerAmpere(filament: Filament | Sheet, point_m: Vector3): [number, number, number] {
  if (filament.kind !== "polygon") return roundPotential(filament, point_m);
  const total: [number, number, number] = [0, 0, 0];
  filament.corners_m.forEach((from, i) => {
    const to = filament.corners_m[(i + 1) % filament.corners_m.length];
    const length = distance(from, to);
    const around = distance(from, point_m) + distance(to, point_m);
    const size = (mu0 / (4 * Math.PI)) * Math.log1p((2 * length) / (around - length));
    for (let axis = 0; axis < 3; axis++) total[axis] += (size * (to[axis] - from[axis])) / length;
  });
  return total;
}

function roundPotential(source: Ring | Sheet, point_m: Vector3): [number, number, number] {
  const { center_m, normal } = source;
  const from = moved(point_m, center_m, -1);
  const z = dot(from, normal);
  const out = moved(from, normal, -z);
  const rho = Math.hypot(...out);
  if (rho === 0) return [0, 0, 0];
  const scale = azimuthalOverRadius(source, rho, z);
  const [x, y, w] = cross(normal, out);
  return [scale * x, scale * y, scale * w];
}

/** A_φ/ρ, T/A. */
function azimuthalOverRadius(source: Ring | Sheet, rho: number, z: number): number {
  const { radius_m } = source;
  if (source.kind === "ring") return loopFlux_H(radius_m, rho, z) / (2 * Math.PI * rho * rho);
  const { length_m } = source;
  const [low, high] = [z - length_m / 2, z + length_m / 2];
  // The closed form loses figures as (ρ/a)²; there the field of the axis is good to the same.
  if (rho < 1e-4 * radius_m)
    return (mu0 * (high / Math.hypot(high, radius_m) - low / Math.hypot(low, radius_m))) / (4 * length_m);
  const flux = loopFluxOverLength_H_m(radius_m, rho, high) - loopFluxOverLength_H_m(radius_m, rho, low);
  return flux / (2 * Math.PI * rho * rho * length_m);
}
