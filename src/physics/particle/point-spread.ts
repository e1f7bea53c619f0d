import { FerruleError } from "../../errors.js";
import { findRoot } from "../../numerics/index.js";
import { langevinRatio, langevinSlope } from "./langevin.js";
import { average, ensembleNodes, type ParticleEnsemble } from "./magnetisation.js";

/** Full width at half maximum of an even, decreasing function, in the unit of its argument; `start` is any scale of it. */
function fullWidth(profile: (x: number) => number, start: number): number {
  const half = profile(0) / 2;
  let high = start;
  while (profile(high) > half) high *= 2;
  return 2 * findRoot((x) => profile(x) - half, [0, high]).root;
}

/**
 * Full width at half maximum of L' in xi (4.161048...).
 * Source      Goodwill et al., IEEE TMI 29:1851 (2010) prints 4.16; from memory. Checked by checks/langevin.
 */
export const langevinSlopeWidth: number = fullWidth(langevinSlope, 2);

/**
 * Full width at half maximum of L(xi)/xi in xi (9.466639...).
 * Source      Goodwill et al., IEEE TMI 30:1581 (2011) prints 9.5; from memory. Checked by checks/langevin.
 */
export const langevinRatioWidth: number = fullWidth(langevinRatio, 2);

/**
 * Width of the static point spread function in field units, along the drive: the full width at half maximum of dM/dH.
 * A lower bound: relaxation and any filter widen it. It is called resolution only when dynamic data exist.
 *   one size: 4.161048 kB T / m;  distribution: half height of <d^6 L'(xi)>
 *
 * @returns width of mu0H, T
 * Valid for   equilibrium, non-interacting cores; measured widths stop shrinking beyond about 25 nm
 *             (Tay et al., Phys. Med. Biol. 2017; read)
 * Source      Goodwill et al., IEEE TMI 29:1851 (2010); from memory
 * Checked by  checks/handbook (computed table), checks/size-distribution
 */
export function staticWidth_T(ensemble: ParticleEnsemble): number {
  return profileWidth_T(ensemble, 1);
}

/**
 * Width across the drive in field units: the full width at half maximum of <d^3 L(xi)> / mu0H.
 *   one size: 9.466639 kB T / m
 *
 * @returns width of mu0H, T
 * Valid for, Checked by   as `staticWidth_T`
 * Source      Goodwill et al., IEEE TMI 30:1581 (2011); from memory
 */
export function staticTransverseWidth_T(ensemble: ParticleEnsemble): number {
  return profileWidth_T(ensemble, 0);
}

/**
 * Static width, in metres, of the image of a point along one direction, for a drive axis and a gradient tensor.
 * A step s along n moves the field by s G n, of length s |G n|, in the direction G n. The response along the drive v is
 *   h(s) = L'(xi) c^2 + (L(xi)/xi)(1 - c^2),  c = v . G n / |G n|,  xi proportional to s |G n|
 * so that the width in field is divided by the gradient along the direction concerned, |G n|, not along the drive.
 *
 * @param gradient_T_per_m  tensor of mu0H, row-major [3, 3]
 * @param options.drive  unit vector of the drive (and receive) axis
 * @param options.along  unit vector of the direction in which the width is asked
 * @returns full width at half maximum, m
 * Valid for   as `staticWidth_T`, and gradients uniform over the width
 * Source      N-dimensional response of Goodwill et al., IEEE TMI 30:1581 (2011), from memory; division by |G n| derived
 * Checked by  checks/handbook (widths along and across for three tensors)
 */
export function staticWidthAlong_m(
  ensemble: ParticleEnsemble,
  gradient_T_per_m: ArrayLike<number>,
  { drive, along }: { drive: readonly [number, number, number]; along: readonly [number, number, number] },
): number {
  if (gradient_T_per_m.length !== 9) {
    throw new FerruleError("ShapeMismatch", {
      path: "gradient_T_per_m",
      found: `${gradient_T_per_m.length} numbers`,
      accepted: "9 numbers, row-major [3, 3], e.g. [-3.5, 0, 0, 0, -3.5, 0, 0, 0, 7]",
    });
  }
  const [nx, ny, nz] = unitVector(along, "along");
  const v = unitVector(drive, "drive");
  const field = [0, 3, 6].map(
    (row) => gradient_T_per_m[row] * nx + gradient_T_per_m[row + 1] * ny + gradient_T_per_m[row + 2] * nz,
  );
  const slope = Math.hypot(...field);
  if (!(slope > 0)) {
    throw new FerruleError("InvalidValue", {
      path: "along",
      found: `no gradient along [${nx}, ${ny}, ${nz}]`,
      accepted: "a direction in which the field changes (along a field-free line there is no width)",
    });
  }
  const c = (v[0] * field[0] + v[1] * field[1] + v[2] * field[2]) / slope;
  return profileWidth_T(ensemble, Math.min(1, c * c)) / slope;
}

/** Width of c^2 L' + (1 - c^2) L/xi averaged over the d^6-weighted sizes: both kernels are 1/3 at zero. */
function profileWidth_T(ensemble: ParticleEnsemble, cosSquared: number): number {
  const { xiPerTesla: k, weight } = ensembleNodes(ensemble, 6);
  const kernel = (xi: number) => cosSquared * langevinSlope(xi) + (1 - cosSquared) * langevinRatio(xi);
  const scale_T = 1 / k[k.length >> 1];
  if (!(scale_T > 0 && Number.isFinite(scale_T))) {
    throw new FerruleError("InvalidValue", {
      found: `cores whose width is beyond double precision (kB T / m = ${scale_T} T)`,
      accepted: "cores of a usual size, e.g. 25 nm, 446 kA/m, 300 K",
    });
  }
  return fullWidth((field_T) => average(kernel, field_T, { k, weight }), scale_T);
}

function unitVector(vector: readonly [number, number, number], path: string): [number, number, number] {
  const length = Math.hypot(...vector);
  if (!(length > 0 && Number.isFinite(length))) {
    throw new FerruleError("InvalidValue", {
      path,
      found: `[${vector.join(", ")}]`,
      accepted: "a direction of non-zero finite length, e.g. [0, 0, 1]",
    });
  }
  return [vector[0] / length, vector[1] / length, vector[2] / length];
}
