import { type DipoleCloud, dipoleField, dipolePotential, nearAndFar, ruleAlong } from "./dipole-cloud.js";
import { type Emitter, emitterInFrame, type LocalField } from "./emitter.js";
import { inverseDistance } from "./line-integrals.js";
import { rectanglePotential, solidAngle } from "./rectangle-integrals.js";
import type { BlockSource, Vector3 } from "./source.js";
import { intoFrame, length, moved, scale, scannerFrame } from "./vector3.js";

/**
 * Field of a uniformly magnetised cuboid: B everywhere, that is mu0·H outside and mu0·(H + M) inside.
 *   B_i = (1/4π)·Σ_j N_ij·J_j + J_i (inside),   J = mu0·M
 *   N_ii = Ω(face at −a_i) to Ω(face at +a_i), difference of solid angles; N_ij = ±∫ ds/R over the four edges along k
 *
 * Valid for   everywhere but on the twelve edges (not finite); regular on face planes and
 *             on the lines that extend the edges. On a face: the component along the face jumps there, the value is that of
 *             the side of larger coordinate. Error about 1e-12 of |B| at worst, a few bounding radii away; beyond 8 of
 *             them dipoles at Gauss points take over (`nearAndFar`).
 * Source      surface charges M·n, elementary integrals, derived
 * Checked by  checks/coil-fields (surface-current quadrature, inside and outside; dipole limit)
 */
export function blockEmitter(source: BlockSource): Emitter {
  const { center_m, edges = scannerFrame, size_m, remanence_T } = source;
  const local = cuboidField(scale(size_m, 0.5), intoFrame(remanence_T, edges));
  return nearAndFar(emitterInFrame(center_m, edges, local), farBody(source), { remanence_T, add: dipoleField });
}

/**
 * Vector potential of the cuboid: surface currents M x n, closed form.
 *   A = (1/4π)·Σ_faces (J x n)·∫∫ dA/R
 * Valid for   everywhere; error as `blockEmitter`
 */
export function blockPotentialEmitter(source: BlockSource): Emitter {
  const { center_m, edges = scannerFrame, size_m, remanence_T } = source;
  const local = cuboidPotential(scale(size_m, 0.5), intoFrame(remanence_T, edges));
  return nearAndFar(emitterInFrame(center_m, edges, local), farBody(source), { remanence_T, add: dipolePotential });
}

function cuboidField([a, b, c]: Vector3, [jx, jy, jz]: Vector3): LocalField {
  const inside = (p: number, half: number) => p - half < 0 && p + half >= 0;
  return (x, y, z, out) => {
    const nxx = solidAngle(b, c, [y, z, x - a]) - solidAngle(b, c, [y, z, x + a]);
    const nyy = solidAngle(c, a, [z, x, y - b]) - solidAngle(c, a, [z, x, y + b]);
    const nzz = solidAngle(a, b, [x, y, z - c]) - solidAngle(a, b, [x, y, z + c]);
    const nyz = edgeSum([y, z, x], [b, c, a]);
    const nzx = edgeSum([z, x, y], [c, a, b]);
    const nxy = edgeSum([x, y, z], [a, b, c]);
    const within = inside(x, a) && inside(y, b) && inside(z, c) ? 1 : 0;
    const factor = 1 / (4 * Math.PI);
    out[0] = factor * (nxx * jx + nxy * jy + nzx * jz) + within * jx;
    out[1] = factor * (nxy * jx + nyy * jy + nyz * jz) + within * jy;
    out[2] = factor * (nzx * jx + nyz * jy + nzz * jz) + within * jz;
  };
}

/** The four edges along the third coordinate, signs by corner: N_12. */
function edgeSum([p, q, s]: Vector3, [a, b, c]: Vector3): number {
  const edge = (u: number, v: number) => inverseDistance(u * u + v * v, s + c, c - s);
  return edge(p - a, q - b) - edge(p + a, q - b) - edge(p - a, q + b) + edge(p + a, q + b);
}

function cuboidPotential([a, b, c]: Vector3, [jx, jy, jz]: Vector3): LocalField {
  const facing = (u: number, v: number, w: readonly [number, number], half: readonly [number, number]) => {
    const rectangle = { halfU_m: half[0], halfV_m: half[1] };
    const [at, reach] = w;
    const upper = rectanglePotential(rectangle, { u_m: u, v_m: v, w_m: at - reach });
    return (upper - rectanglePotential(rectangle, { u_m: u, v_m: v, w_m: at + reach })) / (4 * Math.PI);
  };
  return (x, y, z, out) => {
    const px = facing(y, z, [x, a], [b, c]);
    const py = facing(z, x, [y, b], [c, a]);
    const pz = facing(x, y, [z, c], [a, b]);
    // J x e_x = (0, Jz, −Jy), and so on round the axes.
    out[0] = jy * pz - jz * py;
    out[1] = jz * px - jx * pz;
    out[2] = jx * py - jy * px;
  };
}

function farBody({ center_m, edges = scannerFrame, size_m }: BlockSource) {
  const half = scale(size_m, 0.5);
  const bound_m = length(half);
  const cloudFor = (ratio: number): DipoleCloud => {
    const rules = half.map((extent) => ruleAlong(extent, bound_m, ratio));
    const points: number[] = [];
    const volumes: number[] = [];
    for (const [i, u] of rules[0].nodes.entries())
      for (const [j, v] of rules[1].nodes.entries())
        for (const [k, w] of rules[2].nodes.entries()) {
          const onU = moved(center_m, edges[0], u * half[0]);
          points.push(...moved(moved(onU, edges[1], v * half[1]), edges[2], w * half[2]));
          volumes.push(half[0] * half[1] * half[2] * rules[0].weights[i] * rules[1].weights[j] * rules[2].weights[k]);
        }
    return { points_m: Float64Array.from(points), volumes_m3: Float64Array.from(volumes) };
  };
  return { center_m, bound_m, cloudFor };
}
