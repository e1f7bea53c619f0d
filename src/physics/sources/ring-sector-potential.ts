import { dipolePotential, nearAndFar } from "./dipole-cloud.js";
import { type Emitter, emitterInFrame, type LocalField } from "./emitter.js";
import { visitNodes } from "./graded-nodes.js";
import { inverseDistance } from "./line-integrals.js";
import { rectanglePotential } from "./rectangle-integrals.js";
import { offFaces } from "./ring-sector-field.js";
import { farSector, type RingSectorShape, shapeOf, visitArc } from "./ring-sector-shape.js";
import type { RingSectorSource } from "./source.js";

/**
 * Vector potential of a ring sector, from its surface currents M x n.
 *   A = (1/4π)·Σ_faces ∫∫ (J x n) dA/R
 * Curved faces: closed along the axis, Gauss nodes in the angle. Side planes: closed. Ends: by the divergence theorem,
 * ∫∫ dA/R = ∮ (s·n)/(R + |h|) dl, s the vector from the foot of the point to the edge, h its height.
 *
 * Valid for   everywhere but on the edges; error below 1e-12 of |A|
 * Source      derived
 * Checked by  checks/coil-fields, vector-potential.test.ts (its curl is the field)
 */
export function ringSectorPotentialEmitter(source: RingSectorSource): Emitter {
  const shape = shapeOf(source);
  const near = emitterInFrame(source.center_m, shape.frame, sectorPotential(shape));
  return nearAndFar(near, farSector(source), { remanence_T: source.remanence_T, add: dipolePotential });
}

interface SectorView {
  readonly rho: number;
  readonly z: number;
  readonly azimuth: number;
}

function sectorPotential(shape: RingSectorShape): LocalField {
  const turned = new Float64Array(3);
  const [jx, jy, jz] = shape.remanence_T;
  const { halfLength_m: h } = shape;
  return (x, y, z, out) => {
    const rho = offFaces(Math.hypot(x, y), shape);
    const azimuth = Math.atan2(y, x);
    curvedFaces(shape, { rho, z, azimuth }, turned);
    const [cos, sin] = [Math.cos(azimuth), Math.sin(azimuth)];
    const ends = endPotential(shape, { rho, z: z - h, azimuth }) - endPotential(shape, { rho, z: z + h, azimuth });
    out[0] = cos * turned[0] - sin * turned[1] + jy * ends;
    out[1] = sin * turned[0] + cos * turned[1] - jx * ends;
    out[2] = turned[2];
    if (!shape.isFullTurn)
      for (const [angle, outward] of [
        [shape.from_rad, -1],
        [shape.to_rad, 1],
      ]) {
        const [nx, ny] = [-outward * Math.sin(angle), outward * Math.cos(angle)];
        const size = sidePotential(shape, angle, [x, y, z]);
        out[0] -= jz * ny * size;
        out[1] += jz * nx * size;
        out[2] += (jx * ny - jy * nx) * size;
      }
    for (let i = 0; i < 3; i++) out[i] /= 4 * Math.PI;
  };
}

function curvedFaces(shape: RingSectorShape, { rho, z, azimuth }: SectorView, sum: Float64Array): void {
  const [jx, jy, jz] = shape.remanence_T;
  const j1 = Math.cos(azimuth) * jx + Math.sin(azimuth) * jy;
  const j2 = Math.cos(azimuth) * jy - Math.sin(azimuth) * jx;
  sum.fill(0);
  const face = (r: number, outward: number) => {
    if (r === 0) return;
    visitArc([shape.from_rad - azimuth, shape.to_rad - azimuth], Math.abs(Math.log(rho / r)), (angle, weight) => {
      const [n1, n2] = [Math.cos(angle), Math.sin(angle)];
      const d2 = (rho - r) * (rho - r) + 4 * rho * r * Math.sin(angle / 2) ** 2;
      const size = outward * weight * r * inverseDistance(d2, z + shape.halfLength_m, shape.halfLength_m - z);
      sum[0] -= jz * n2 * size;
      sum[1] += jz * n1 * size;
      sum[2] += (j1 * n2 - j2 * n1) * size;
    });
  };
  face(shape.inner_m, -1);
  face(shape.outer_m, 1);
}

/** ∫∫ dA/R over one side plane. */
function sidePotential(shape: RingSectorShape, angle: number, [x, y, z]: readonly [number, number, number]): number {
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const rectangle = { halfU_m: (shape.outer_m - shape.inner_m) / 2, halfV_m: shape.halfLength_m };
  const middle = (shape.outer_m + shape.inner_m) / 2;
  return rectanglePotential(rectangle, { u_m: x * cos + y * sin - middle, v_m: z, w_m: y * cos - x * sin });
}

/** ∫∫ dA/R over a flat annular sector at height 0, round its edge. */
function endPotential(shape: RingSectorShape, { rho, z, azimuth }: SectorView): number {
  const height = Math.abs(z);
  let sum = 0;
  const arc = (r: number, outward: number) => {
    if (r === 0) return;
    visitArc([shape.from_rad - azimuth, shape.to_rad - azimuth], Math.abs(Math.log(rho / r)), (angle, weight) => {
      const bow = 2 * Math.sin(angle / 2) ** 2;
      const distance = Math.sqrt((rho - r) ** 2 + 2 * rho * r * bow + z * z);
      sum += (outward * weight * r * (r - rho + rho * bow)) / (distance + height);
    });
  };
  const side = (angle: number, outward: number) => {
    const beyond = rho * Math.sin(azimuth - angle);
    if (beyond === 0) return;
    const foot = rho * Math.cos(azimuth - angle);
    const off = Math.hypot(beyond, z);
    const split = Math.min(shape.outer_m, Math.max(shape.inner_m, foot));
    const visit = (r: number, weight: number) => {
      sum -= (outward * weight * beyond) / (Math.hypot(r - foot, off) + height);
    };
    visitNodes([shape.inner_m, split], { at: foot, off }, visit);
    visitNodes([split, shape.outer_m], { at: foot, off }, visit);
  };
  arc(shape.inner_m, -1);
  arc(shape.outer_m, 1);
  if (!shape.isFullTurn) {
    side(shape.from_rad, -1);
    side(shape.to_rad, 1);
  }
  return sum;
}
