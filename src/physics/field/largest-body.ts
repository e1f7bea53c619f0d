import { findRoot } from "../../numerics/index.js";
import type { Vector3 } from "../sources/source.js";
import { moved } from "../sources/vector3.js";
import { type BoreCylinder, boreFrame, placeInBore } from "./bore-cylinder.js";

export interface ErrorScene {
  readonly errorsAt: (points: readonly Vector3[]) => Float64Array;
  readonly center_m: Vector3;
  readonly within: BoreCylinder;
  readonly share: number;
}

/** Outline of a body of revolution about the bore's direction: t from 0 to 1 gives [radial, along], in units of its size. */
export interface BodyProfile {
  readonly outline: (t: number) => readonly [number, number];
  /** Half length in units of the size. */
  readonly halfLength: number;
}

export interface LargestBody {
  readonly size_m: number;
  readonly isBore: boolean;
}

export const sphereProfile: BodyProfile = {
  outline: (t) => [Math.sin(Math.PI * t), Math.cos(Math.PI * t)],
  halfLength: 1,
};

/** One third of the outline for each end and for the wall, so that the edges are sampled. */
export const cylinderProfile = (aspect: number): BodyProfile => ({
  outline: (t) => {
    if (t <= 1 / 3) return [3 * t, aspect];
    return t < 2 / 3 ? [1, aspect * (3 - 6 * t)] : [3 - 3 * t, -aspect];
  },
  halfLength: aspect,
});

const [along, around] = [19, 16];

/** A place on the surface: t along the outline, phi around. */
type Surface = readonly [number, number];

/**
 * Size of the largest body about the centre on whose surface the error stays within the share.
 *   largest error over the surface = share, solved for the size; then the worst place is moved over the surface to where
 *   the error is largest, and the size reduced to it
 *
 * Valid for   errors that grow with the body (harmonic gradient errors do); the bore ends it where it comes first
 * Checked by  usable-region.test.ts, checks/field-free
 */
export function largestBody(scene: ErrorScene, profile: BodyProfile): LargestBody {
  const { errorsAt, within, share, center_m } = scene;
  const { radial_m, along_m } = placeInBore(within, center_m);
  const most = Math.min(within.radius_m - radial_m, (within.halfLength_m - Math.abs(along_m)) / profile.halfLength);
  if (!(most > 0)) return { size_m: 0, isBore: true };
  const shape = shapeOf(scene, profile);
  const surface = surfaceGrid();
  const errorsOn = (places: readonly Surface[], size: number): Float64Array =>
    errorsAt(places.map((place) => moved(center_m, shape(place), size)));
  const worstAt = (size: number): Surface => {
    const errors = errorsOn(surface, size);
    return surface[errors.indexOf(Math.max(...errors))];
  };
  let size = most;
  let isBore = true;
  const least = 1e-6 * most;
  const shrinkTo = (excess: (size: number) => number): void => {
    if (!(excess(size) > 0)) return;
    isBore = false;
    size = excess(least) >= 0 ? 0 : findRoot(excess, [least, size], { absolute: 1e-6 * most }).root;
  };
  // A place of the surface has its error at or below the largest, so its root lies at or outside the body: from outside in,
  // each time by the place that is worst there, until that is a place already met.
  const met = new Set<Surface>();
  for (let worst = worstAt(size); size > 0 && !met.has(worst); worst = worstAt(size)) {
    met.add(worst);
    const sample = worst;
    shrinkTo((s) => errorsOn([sample], s)[0] - share);
  }
  for (let round = 0; round < 3 && size > 0; round++) {
    const before = size;
    const worst = worstPlace((places) => errorsOn(places, size), worstAt(size));
    shrinkTo((s) => errorsOn([worst], s)[0] - share);
    if (size === before) break;
  }
  return { size_m: size, isBore };
}

function surfaceGrid(): Surface[] {
  return Array.from(
    { length: along * around },
    (_, k): Surface => [Math.floor(k / around) / (along - 1), ((k % around) * 2 * Math.PI) / around],
  );
}

/** Surface point in units of the size, in scanner axes. */
function shapeOf({ within }: ErrorScene, { outline }: BodyProfile): (place: Surface) => Vector3 {
  const [iu, iv, iw] = boreFrame(within);
  return ([t, phi]) => {
    const [radial, height] = outline(t);
    const point: [number, number, number] = [0, 0, 0];
    point[iu] = radial * Math.cos(phi);
    point[iv] = radial * Math.sin(phi);
    point[iw] = height;
    return point;
  };
}

/** Compass search over the surface from the worst sample. */
function worstPlace(errorsOn: (places: readonly Surface[]) => Float64Array, start: Surface): Surface {
  let [best, value] = [start, errorsOn([start])[0]];
  let scale = 0.5;
  while (scale > 1e-3) {
    const [dt, dphi] = [scale / (along - 1), (scale * 2 * Math.PI) / around];
    const tried: Surface[] = [-1, 0, 1].flatMap((i) =>
      [-1, 0, 1].map((j): Surface => [Math.max(0, Math.min(1, best[0] + i * dt)), best[1] + j * dphi]),
    );
    const errors = errorsOn(tried);
    const k = errors.indexOf(Math.max(...errors));
    if (errors[k] > value) [best, value] = [tried[k], errors[k]];
    else scale /= 2;
  }
  return best;
}
