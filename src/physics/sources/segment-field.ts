import { vacuumPermeability_T_m_per_A } from "../../units/index.js";
import type { Emitter } from "./emitter.js";
import { inverseCube, inverseDistance } from "./line-integrals.js";
import type { RectangleSource, SegmentSource, Vector3 } from "./source.js";
import { cross, length, moved, scale, subtract } from "./vector3.js";

/**
 * Field of a straight filament of finite length.
 *   B = mu0·I/(4π)·(t x d)·∫ ds/R³,  t the direction of the current, d the vector from the line to the point
 *
 * Valid for   everywhere but on the filament (not finite); 0 on its extension. Total error a few 1e-16 of |B| times
 *             (distance from the ends)/(distance from the line), which is what the coordinates' own rounding does.
 *             Alone it is the part of a closed circuit: its field is divergence-free, its curl is not zero outside.
 * Source      Biot and Savart, elementary
 * Checked by  checks/coil-fields (high-precision quadrature)
 */
export function segmentEmitter({ from_m, to_m, current_A }: SegmentSource): Emitter {
  const strength = (vacuumPermeability_T_m_per_A * current_A) / (4 * Math.PI);
  const [ax, ay, az] = from_m;
  const whole = length(subtract(to_m, from_m));
  const [tx, ty, tz] = scale(subtract(to_m, from_m), 1 / whole);
  return (x, y, z, sum) => {
    const px = x - ax;
    const py = y - ay;
    const pz = z - az;
    const s1 = px * tx + py * ty + pz * tz;
    const cx = ty * pz - tz * py;
    const cy = tz * px - tx * pz;
    const cz = tx * py - ty * px;
    const factor = strength * inverseCube(cx * cx + cy * cy + cz * cz, s1, whole - s1);
    sum[0] += factor * cx;
    sum[1] += factor * cy;
    sum[2] += factor * cz;
  };
}

/**
 * Vector potential of the filament.
 *   A = mu0·I/(4π)·t·∫ ds/R
 * Valid for   everywhere but on the filament. Alone its divergence is not zero; that of a closed path is.
 */
export function segmentPotentialEmitter({ from_m, to_m, current_A }: SegmentSource): Emitter {
  const strength = (vacuumPermeability_T_m_per_A * current_A) / (4 * Math.PI);
  const [ax, ay, az] = from_m;
  const whole = length(subtract(to_m, from_m));
  const [tx, ty, tz] = scale(subtract(to_m, from_m), 1 / whole);
  return (x, y, z, sum) => {
    const px = x - ax;
    const py = y - ay;
    const pz = z - az;
    const s1 = px * tx + py * ty + pz * tz;
    const cx = ty * pz - tz * py;
    const cy = tz * px - tx * pz;
    const cz = tx * py - ty * px;
    const factor = strength * inverseDistance(cx * cx + cy * cy + cz * cz, s1, whole - s1);
    sum[0] += factor * tx;
    sum[1] += factor * ty;
    sum[2] += factor * tz;
  };
}

/** The four sides of a rectangle, in the order of the current: right-handed about the normal. */
export function sidesOf({ center_m, normal, edge, size_m, current_A }: RectangleSource): SegmentSource[] {
  const other = cross(normal, edge);
  const corner = (u: number, v: number): Vector3 =>
    moved(moved(center_m, edge, (u * size_m[0]) / 2), other, (v * size_m[1]) / 2);
  const corners = [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)];
  return corners.map((from_m, i) => ({ kind: "segment", from_m, to_m: corners[(i + 1) % 4], current_A }));
}

/**
 * Field, or vector potential, of a rectangular filament: its four sides.
 * Valid for   as `segmentEmitter`; far away the sides cancel and the error grows as 1e-16·(distance/size).
 */
export function rectangleEmitter(source: RectangleSource, sideEmitter: typeof segmentEmitter): Emitter {
  const sides = sidesOf(source).map(sideEmitter);
  return (x, y, z, sum) => {
    for (const emit of sides) emit(x, y, z, sum);
  };
}
