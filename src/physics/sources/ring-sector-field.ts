import { dipoleField, nearAndFar } from "./dipole-cloud.js";
import { type Emitter, emitterInFrame, type LocalField } from "./emitter.js";
import { alongLine, inverseCube } from "./line-integrals.js";
import { rectangleVector } from "./rectangle-integrals.js";
import { farSector, type RingSectorShape, shapeOf, visitArc } from "./ring-sector-shape.js";
import type { RingSectorSource } from "./source.js";

/**
 * Field of a ring sector of uniform magnetisation: B everywhere, that is mu0·H outside and mu0·(H + M) inside.
 * The part of M across the axis acts by its surface charges M·n, the part along the axis by its surface currents M x n:
 * neither has charge on the flat ends, so two kinds of face remain.
 *   curved faces  B = ±(1/4π)·∫ r·[(J·n)·V + (J_z·z x n) x V] dφ,   V = ∫ R dz/R³ in closed form
 *   side planes   the same with V = ∫∫ R dA/R³ in closed form
 *
 * Valid for   everywhere but on the edges; error below 1e-13 of |B|, also 1e-9 radii from a curved face. Within 1e-10 radii of a curved face the value is that just
 *             outside (larger radius); on a side plane that of the larger angle. Beyond 8 bounding radii dipoles at
 *             Gauss points take over (`nearAndFar`).
 * Source      surface charges and currents of a magnetised body, derived
 * Checked by  checks/coil-fields (the other model of each part: charges on the ends, currents on the ends)
 */
export function ringSectorEmitter(source: RingSectorSource): Emitter {
  const shape = shapeOf(source);
  const near = emitterInFrame(source.center_m, shape.frame, sectorField(shape));
  return nearAndFar(near, farSector(source), { remanence_T: source.remanence_T, add: dipoleField });
}

/** The radius of the observer, kept off the curved faces. */
export function offFaces(rho: number, { inner_m, outer_m }: RingSectorShape): number {
  for (const r of [inner_m, outer_m]) if (Math.abs(rho - r) < 1e-10 * r) return r * (1 + 1e-10);
  return rho;
}

function sectorField(shape: RingSectorShape): LocalField {
  const faces = new Float64Array(3);
  const { from_rad, to_rad, isFullTurn, remanence_T } = shape;
  return (x, y, z, out) => {
    const rho = offFaces(Math.hypot(x, y), shape);
    const azimuth = Math.atan2(y, x);
    // Seen in a frame turned so that the observer lies at azimuth 0.
    curvedFaces(shape, { rho, z, azimuth }, faces);
    const [cos, sin] = [Math.cos(azimuth), Math.sin(azimuth)];
    out[0] = cos * faces[0] - sin * faces[1];
    out[1] = sin * faces[0] + cos * faces[1];
    out[2] = faces[2];
    const pastFrom = isFullTurn ? 0 : sidePlane(shape, { angle: from_rad, outward: -1 }, [x, y, z], out);
    const pastTo = isFullTurn ? 0 : sidePlane(shape, { angle: to_rad, outward: 1 }, [x, y, z], out);
    const isBetween =
      isFullTurn || (to_rad - from_rad <= Math.PI ? pastFrom >= 0 && pastTo < 0 : pastFrom >= 0 || pastTo < 0);
    const isWithin =
      isBetween && rho >= shape.inner_m && rho < shape.outer_m && z >= -shape.halfLength_m && z < shape.halfLength_m;
    for (let i = 0; i < 3; i++) out[i] /= 4 * Math.PI;
    if (isWithin) for (let i = 0; i < 2; i++) out[i] += remanence_T[i];
  };
}

interface SectorView {
  readonly rho: number;
  readonly z: number;
  readonly azimuth: number;
}

/** Writes 4π times the field of both curved faces, in the observer's turned frame. */
function curvedFaces(shape: RingSectorShape, { rho, z, azimuth }: SectorView, sum: Float64Array): void {
  const [jx, jy, jz] = shape.remanence_T;
  const j1 = Math.cos(azimuth) * jx + Math.sin(azimuth) * jy;
  const j2 = Math.cos(azimuth) * jy - Math.sin(azimuth) * jx;
  const [s1, s2] = [z + shape.halfLength_m, shape.halfLength_m - z];
  sum.fill(0);
  const face = (r: number, outward: number) => {
    if (r === 0) return;
    visitArc([shape.from_rad - azimuth, shape.to_rad - azimuth], Math.abs(Math.log(rho / r)), (angle, weight) => {
      const [n1, n2] = [Math.cos(angle), Math.sin(angle)];
      const halfSine = Math.sin(angle / 2);
      const bow = 2 * r * halfSine * halfSine;
      const d2 = (rho - r) * (rho - r) + 2 * rho * bow;
      const across = inverseCube(d2, s1, s2);
      const v1 = (rho - r + bow) * across;
      const v2 = -r * n2 * across;
      const v3 = alongLine(d2, s1, s2);
      const charge = outward * weight * r * (j1 * n1 + j2 * n2);
      const turn = outward * weight * r * jz;
      sum[0] += charge * v1 + turn * n1 * v3;
      sum[1] += charge * v2 + turn * n2 * v3;
      sum[2] += charge * v3 - turn * (n2 * v2 + n1 * v1);
    });
  };
  face(shape.inner_m, -1);
  face(shape.outer_m, 1);
}

interface SidePlane {
  readonly angle: number;
  /** −1 at the first angle, 1 at the last: the outward normal is that times the unit vector of growing angle. */
  readonly outward: 1 | -1;
}

/** Adds 4π times the field of one side plane; returns how far the point lies beyond it, in the sense of growing angle. */
function sidePlane(
  shape: RingSectorShape,
  { angle, outward }: SidePlane,
  [x, y, z]: readonly [number, number, number],
  sum: Float64Array,
): number {
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const beyond = y * cos - x * sin;
  const rectangle = { halfU_m: (shape.outer_m - shape.inner_m) / 2, halfV_m: shape.halfLength_m };
  const middle = (shape.outer_m + shape.inner_m) / 2;
  const v = new Float64Array(3);
  rectangleVector(rectangle, { u_m: x * cos + y * sin - middle, v_m: z, w_m: beyond }, v);
  const [jx, jy, jz] = shape.remanence_T;
  const charge = outward * (jy * cos - jx * sin);
  const turn = -outward * jz;
  // In (radial, tangential, axial): charge·(v0, v2, v1) + turn·(radial x that) = turn·(0, −v1, v2).
  const radial = charge * v[0];
  const tangential = charge * v[2] - turn * v[1];
  sum[0] += cos * radial - sin * tangential;
  sum[1] += sin * radial + cos * tangential;
  sum[2] += charge * v[1] + turn * v[2];
  return beyond;
}
