import { FerruleError } from "../../errors.js";
import type { BlockSource, RingSectorSource, Vector3 } from "./source.js";
import { type Frame, frameAbout, moved, scale } from "./vector3.js";

/** What a Halbach ring makes of the field, and where it stands. */
export interface HalbachRing {
  /** 2: a uniform field in the bore (dipole). 4: a field-free line along the axis (quadrupole). */
  readonly poles: 2 | 4;
  /** Magnitude of mu0·M, T. */
  readonly remanence_T: number;
  /** Default: the origin. */
  readonly center_m?: Vector3;
  /** Unit vector along the bore; default z. */
  readonly axis?: Vector3;
  /** Unit vector across the axis, from which angles count; default x. */
  readonly reference?: Vector3;
  /** Angle ψ from `reference` of the bore's field (dipole) or of the direction whose gradient is +G (quadrupole); default 0. */
  readonly fieldAngle_rad?: number;
}

export interface HalbachSectors extends HalbachRing {
  /** Equal sectors; the first is centred on `reference`. */
  readonly segments: number;
  readonly innerRadius_m: number;
  readonly outerRadius_m: number;
  readonly length_m: number;
}

export interface HalbachBlocks extends HalbachRing {
  /** Number of equal blocks; the first stands on `reference`. */
  readonly count: number;
  /** Radius of the circle of their centres. */
  readonly ringRadius_m: number;
  /** Edges of a block: along `turn`, across it in the plane of the ring, along the axis. */
  readonly blockSize_m: Vector3;
  /** First edge along the radius (default) or along the block's own magnetisation. */
  readonly turn?: "radius" | "magnetisation";
}

/**
 * Halbach ring of sectors, each uniformly magnetised.
 *   angle of M at azimuth φ_k:  θ_k = (1 + p/2)·φ_k − (p/2)·ψ,   φ_k = 2π·k/N
 * Dipole (p = 2): the bore's field points along ψ, Br·ln(Ro/Ri) when long, and there is little outside.
 * Quadrupole (p = 4): B = G·r along ψ, −G across it, 0 along the axis: G = 2·Br·(1/Ri − 1/Ro) when long.
 * Segments lose a factor sin(x)/x, x = (1 + p/2)·π/N (facts trap 13): `halbachField_T`, `halbachGradient_T_per_m`.
 *
 * @returns N sources, in the order of the angle
 * Valid for   N > p/2 + 2 (fewer sectors make other fields than the one asked for: refused)
 * Source      Halbach, NIM 169:1 (1980), from memory; facts L8, L9
 * Checked by  halbach.test.ts (long and finite rings against the closed forms)
 */
export function halbachSectors(ring: HalbachSectors): RingSectorSource[] {
  const { segments, innerRadius_m, outerRadius_m, length_m, center_m = [0, 0, 0] } = ring;
  const { axis, reference } = directionsOf(ring);
  requireEnough(segments, ring.poles, "segments");
  return Array.from({ length: segments }, (_, k) => ({
    kind: "ring-sector",
    center_m,
    axis,
    reference,
    innerRadius_m,
    outerRadius_m,
    length_m,
    fromAngle_rad: ((2 * k - 1) * Math.PI) / segments,
    toAngle_rad: ((2 * k + 1) * Math.PI) / segments,
    remanence_T: magnetisationAt(ring, (2 * Math.PI * k) / segments).remanence_T,
  }));
}

/**
 * Halbach ring of equal cuboids on a circle; angles of magnetisation as `halbachSectors`.
 * Valid for   as there. Whether the blocks leave room for each other is the caller's question.
 */
export function halbachBlocks(ring: HalbachBlocks): BlockSource[] {
  const { count, ringRadius_m, blockSize_m, turn = "radius", center_m = [0, 0, 0] } = ring;
  const frame = frameOf(ring);
  requireEnough(count, ring.poles, "count");
  return Array.from({ length: count }, (_, k) => {
    const azimuth = (2 * Math.PI * k) / count;
    const { angle, remanence_T } = magnetisationAt(ring, azimuth);
    const first = turn === "radius" ? azimuth : angle;
    return {
      kind: "block",
      center_m: moved(center_m, inPlane(frame, azimuth), ringRadius_m),
      size_m: blockSize_m,
      edges: [inPlane(frame, first), inPlane(frame, first + Math.PI / 2), frame[2]],
      remanence_T,
    };
  });
}

function magnetisationAt(ring: HalbachRing, azimuth: number) {
  const order = ring.poles / 2;
  const angle = (1 + order) * azimuth - order * (ring.fieldAngle_rad ?? 0);
  return { angle, remanence_T: scale(inPlane(frameOf(ring), angle), ring.remanence_T) };
}

function directionsOf({ axis = [0, 0, 1], reference = [1, 0, 0] }: HalbachRing) {
  return { axis, reference };
}

function frameOf(ring: HalbachRing): Frame {
  const { axis, reference } = directionsOf(ring);
  return frameAbout(axis, reference);
}

function inPlane([u, v]: Frame, angle: number): Vector3 {
  return moved(scale(u, Math.cos(angle)), v, Math.sin(angle));
}

function requireEnough(count: number, poles: 2 | 4, path: "segments" | "count"): void {
  if (Number.isInteger(count) && count > poles / 2 + 2) return;
  throw new FerruleError("InvalidValue", {
    path,
    found: `${count} magnets for ${poles} poles`,
    accepted: `a whole number of at least ${poles / 2 + 3}, e.g. ${4 * poles}`,
  });
}
