import { isFullTurn } from "./ring-sector-shape.js";
import { sidesOf } from "./segment-field.js";
import type { FieldSource, RingSectorSource, SegmentSource, Vector3 } from "./source.js";
import { dot, frameAbout, intoFrame, length, moved, scannerFrame, subtract } from "./vector3.js";

/**
 * Distance from a point to the surface of the nearest conductor or magnet, m; negative inside one. Filaments and sheets
 * have no inside.
 *
 * Valid for   every point; Infinity without sources
 * Source      elementary geometry
 * Checked by  clearance.test.ts (against the nearest of many surface points)
 */
export function clearance_m(sources: readonly FieldSource[], point_m: Vector3): number {
  return sources.reduce((least, source) => Math.min(least, clearanceOf(source, point_m)), Number.POSITIVE_INFINITY);
}

function clearanceOf(source: FieldSource, point_m: Vector3): number {
  switch (source.kind) {
    case "loop": {
      const [rho, z] = meridian(source, point_m);
      return Math.hypot(rho - source.radius_m, z);
    }
    case "coil-stack": {
      const [rho, z] = meridian(source, point_m);
      const fromInner = source.innerRadius_m === 0 ? Number.NEGATIVE_INFINITY : source.innerRadius_m - rho;
      return joined(Math.max(fromInner, rho - source.outerRadius_m), Math.abs(z) - source.length_m / 2);
    }
    case "segment":
      return fromSegment(source, point_m);
    case "rectangle":
      return Math.min(...sidesOf(source).map((side) => fromSegment(side, point_m)));
    case "block": {
      const local = intoFrame(subtract(point_m, source.center_m), source.edges ?? scannerFrame);
      const [x, y, z] = local.map((at, i) => Math.abs(at) - source.size_m[i] / 2);
      return joined(joined(x, y), z);
    }
    case "ring-sector":
      return fromRingSector(source, point_m);
  }
}

/** Signed distance from the product of two bodies, of which each has its own: outside both they add as a hypotenuse. */
function joined(a: number, b: number): number {
  return a > 0 && b > 0 ? Math.hypot(a, b) : Math.max(a, b);
}

function meridian(
  { center_m, normal }: { readonly center_m: Vector3; readonly normal: Vector3 },
  point_m: Vector3,
): readonly [number, number] {
  const from = subtract(point_m, center_m);
  const z = dot(from, normal);
  return [length(moved(from, normal, -z)), z];
}

function fromSegment({ from_m, to_m }: SegmentSource, point_m: Vector3): number {
  const whole = subtract(to_m, from_m);
  const from = subtract(point_m, from_m);
  const part = Math.min(1, Math.max(0, dot(from, whole) / dot(whole, whole)));
  return length(moved(from, whole, -part));
}

function fromRingSector(source: RingSectorSource, point_m: Vector3): number {
  const [x, y, z] = intoFrame(subtract(point_m, source.center_m), frameAbout(source.axis, source.reference));
  const rho = Math.hypot(x, y);
  const fromInner = source.innerRadius_m === 0 ? Number.NEGATIVE_INFINITY : source.innerRadius_m - rho;
  const radial = Math.max(fromInner, rho - source.outerRadius_m);
  return joined(isFullTurn(source) ? radial : inSector(source, [x, y], radial), Math.abs(z) - source.length_m / 2);
}

/** Signed distance from the sector in its plane, from that of the full ring. */
function inSector(source: RingSectorSource, [x, y]: readonly [number, number], radial: number): number {
  const toSide = (angle: number) => {
    const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
    const foot = Math.min(source.outerRadius_m, Math.max(source.innerRadius_m, x * cos + y * sin));
    return Math.hypot(x - foot * cos, y - foot * sin);
  };
  const sides = Math.min(toSide(source.fromAngle_rad), toSide(source.toAngle_rad));
  const turn = 2 * Math.PI;
  const past = (((Math.atan2(y, x) - source.fromAngle_rad) % turn) + turn) % turn;
  const isBetween = past <= source.toAngle_rad - source.fromAngle_rad;
  if (!isBetween) return sides;
  return radial > 0 ? radial : Math.max(radial, -sides);
}
