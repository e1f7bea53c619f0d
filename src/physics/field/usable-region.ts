import { FerruleError } from "../../errors.js";
import { findRoot, finishSteps, type Steps } from "../../numerics/index.js";
import type { FieldFunction, Vector3 } from "../sources/source.js";
import { moved } from "../sources/vector3.js";
import { type BoreCylinder, borePoint, isInBore, reachInBore, requireBore } from "./bore-cylinder.js";
import { fieldErrors, type GradientReference, gradientErrors } from "./gradient-error.js";
import { type Axis, axisIndex } from "./ideal-gradient.js";
import { cylinderProfile, type ErrorScene, largestBody, sphereProfile } from "./largest-body.js";

export interface Reach {
  readonly distance_m: number;
  /** The bore's wall or end comes first: the error is still within the share there. */
  readonly isBore: boolean;
}

export interface UsableRegion {
  readonly share: number;
  /** From the centre along each axis until the error first exceeds the share: [towards minus, towards plus]. */
  readonly along: Readonly<Record<Axis, readonly [Reach, Reach]>>;
  /** Largest ball about the centre within the share. */
  readonly sphere: Reach;
  /** Largest cylinder about the centre, coaxial with the bore and of its proportions (or `halfLengthOverRadius`). */
  readonly cylinder: { readonly radius_m: number; readonly halfLength_m: number; readonly isBore: boolean };
  /** Part of the bore's volume within the share. */
  readonly volumeFraction: number;
  /** Share of the points that decide it: the volume fraction is known to about this. */
  readonly volumeUncertainty: number;
}

export interface UsableOptions {
  readonly reference: GradientReference;
  readonly within: BoreCylinder;
  /** Default 0.1: about 10 % of gradient error is common practice (from memory). */
  readonly share?: number;
  readonly measure?: "gradient" | "field";
  /** Proportions of the cylinder; default the bore's. */
  readonly halfLengthOverRadius?: number;
  /** Points that fill the bore for the volume fraction. */
  readonly volumePoints?: number;
}

const rayPoints = 48;

/**
 * Where the gradient error stays within a share of the gradient.
 * Ball and cylinder are searched on their surfaces only: in free space each element of J - G is harmonic, so the sum of
 * their squares is largest on the surface of any body and grows with its size. The largest body is one root. (The field
 * error is not harmonic; there the surface is a sample.) The surfaces are sampled and the worst place is then refined.
 *
 * Valid for   sources outside the bore; radii to about 1e-4 relative, volume fraction to its stated uncertainty
 * Source      maximum principle for harmonic functions; derived
 * Checked by  usable-region.test.ts (cubic term, closed form), checks/field-free (Maxwell pair, 30 digits)
 */
export function* usableRegionSteps(field: FieldFunction, options: UsableOptions): Steps<UsableRegion> {
  const { reference, within, share = 0.1, measure = "gradient", volumePoints = 4000 } = options;
  requireUsable(options);
  const step_m = within.radius_m / 400;
  const errorsAt = (points: readonly Vector3[]): Float64Array => {
    const flat = Float64Array.from(points.flat());
    return measure === "field"
      ? fieldErrors(field, flat, { reference })
      : gradientErrors(field, flat, { reference, step_m, order: 4 });
  };
  const scene: ErrorScene = { errorsAt, center_m: reference.center_m, within, share };
  yield 0;
  const along = { x: bothReaches(scene, "x"), y: bothReaches(scene, "y"), z: bothReaches(scene, "z") };
  yield 0.2;
  const sphere = largestBody(scene, sphereProfile);
  yield 0.35;
  const aspect = options.halfLengthOverRadius ?? within.halfLength_m / within.radius_m;
  const body = largestBody(scene, cylinderProfile(aspect));
  yield 0.5;
  let inside = 0;
  for (let done = 0; done < volumePoints; ) {
    const next = Math.min(volumePoints, done + 256);
    const points = Array.from({ length: next - done }, (_, k) => spreadPoint(within, done + k));
    for (const error of errorsAt(points)) if (error <= share) inside++;
    done = next;
    yield 0.5 + (0.5 * done) / volumePoints;
  }
  return {
    share,
    along,
    sphere: { distance_m: sphere.size_m, isBore: sphere.isBore },
    cylinder: { radius_m: body.size_m, halfLength_m: body.size_m * aspect, isBore: body.isBore },
    volumeFraction: inside / volumePoints,
    volumeUncertainty: 1 / volumePoints ** (2 / 3),
  };
}

export const usableRegion = (field: FieldFunction, options: UsableOptions): UsableRegion =>
  finishSteps(usableRegionSteps(field, options));

function bothReaches(scene: ErrorScene, axis: Axis): [Reach, Reach] {
  const along = (sign: number): Vector3 => {
    const unit: [number, number, number] = [0, 0, 0];
    unit[axisIndex(axis)] = sign;
    return unit;
  };
  return [firstReach(scene, along(-1)), firstReach(scene, along(1))];
}

/** First crossing of the share along a ray. */
function firstReach({ errorsAt, center_m, within, share }: ErrorScene, direction: Vector3): Reach {
  const whole = reachInBore(within, center_m, direction);
  const at = (k: number): number => (whole * k) / rayPoints;
  const errors = errorsAt(Array.from({ length: rayPoints }, (_, k) => moved(center_m, direction, at(k + 1))));
  const first = errors.findIndex((error) => error > share);
  if (first < 0) return { distance_m: whole, isBore: true };
  const excess = (reach: number): number => errorsAt([moved(center_m, direction, reach)])[0] - share;
  // At the centre itself the field error has no value, and the gradient error is that of the reference: mostly 0.
  const start = first === 0 ? at(1) * 1e-6 : at(first);
  if (excess(start) >= 0) return { distance_m: 0, isBore: false };
  return { distance_m: findRoot(excess, [start, at(first + 1)], { absolute: 1e-7 * whole }).root, isBore: false };
}

/** Points that fill the bore evenly: additive recurrence with the powers of 1/g, g^4 = g + 1 (common practice). */
function spreadPoint(within: BoreCylinder, k: number): Vector3 {
  const g = 1.2207440846057596;
  const [a, b, c] = [1, 2, 3].map((power) => (0.5 + (k + 1) / g ** power) % 1);
  const radial = within.radius_m * Math.sqrt(a);
  const phi = 2 * Math.PI * b;
  return borePoint(within, [radial * Math.cos(phi), radial * Math.sin(phi), within.halfLength_m * (2 * c - 1)]);
}

function requireUsable({ reference, within, share = 0.1, volumePoints = 4000 }: UsableOptions): void {
  requireBore(within);
  const refuse = (path: string, found: string, accepted: string): never => {
    throw new FerruleError("InvalidValue", { path, found, accepted });
  };
  if (!(share > 0 && share < 1)) refuse("share", String(share), "a share between 0 and 1, e.g. 0.1 for 10 %");
  if (!(Number.isInteger(volumePoints) && volumePoints >= 1))
    refuse("volumePoints", String(volumePoints), "a whole number of points, e.g. 4000");
  if (!isInBore(within, reference.center_m))
    refuse("reference.center_m", `(${reference.center_m.join(", ")}) m, outside the bore`, "a place within the bore");
}
