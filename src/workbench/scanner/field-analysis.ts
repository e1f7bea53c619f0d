import type { ScannerModel } from "../../documents/index.js";
import { partOf, type Steps } from "../../numerics/index.js";
import {
  axes,
  axisIndex,
  type FieldFreeRegion,
  type FieldFunction,
  fieldSelfCheck,
  findFieldFreeRegion,
  type GradientReference,
  gradientReference,
  imageDistortion,
  massErrorOfSphere,
  principalGradients,
  type UsableRegion,
  usableRegionSteps,
  type Vector3,
} from "../../physics/index.js";
import { selectionField } from "./scanner-fields.js";

/** The share of gradient error up to which a region counts as usable: common practice. */
export const usableShare = 0.1;

/** What the error does at the edge of the usable region. */
export interface EdgeEffect {
  readonly axis: "x" | "y" | "z";
  readonly distance_m: number;
  /** Where iron there is drawn, less where it is, along the axis; outwards is positive. */
  readonly positionError_m: number;
  /** Drawn over true concentration. */
  readonly concentrationFactor: number;
}

export interface FieldAnalysis {
  readonly region: FieldFreeRegion;
  readonly reference: GradientReference;
  /** Signed, largest magnitude first, with their directions. */
  readonly principal: ReturnType<typeof principalGradients>;
  readonly usable: UsableRegion;
  readonly edges: readonly EdgeEffect[];
  /** Iron of a ball of a tenth of the bore at the edge of the usable sphere that its own outline misses. */
  readonly ballAtEdge: { readonly radius_m: number; readonly distance_m: number; readonly missedShare: number } | null;
  /** Relative to the gradient, at the centre of the region: zero but for rounding. */
  readonly selfCheck: { readonly divergence: number; readonly curl: number };
}

/** Field-free region, gradient, where it stays within 10 %, and what its error does to place, concentration and mass. */
export function* fieldAnalysisSteps(scanner: ScannerModel): Steps<FieldAnalysis> {
  const field = selectionField(scanner);
  const { bore } = scanner;
  yield 0;
  const region = findFieldFreeRegion(field, { within: bore });
  yield 0.2;
  const step_m = bore.radius_m / 100;
  const center_m = region.lines[0]?.point_m ?? region.zeros[0]?.position_m ?? scanner.selectionField.center_m;
  const reference = gradientReference(field, center_m, { step_m });
  const usable = yield* partOf(
    usableRegionSteps(field, { reference, within: bore, share: usableShare, volumePoints: 800 }),
    0.2,
    0.9,
  );
  const edges = edgeEffects(field, { reference, usable, step_m });
  yield 0.95;
  const ballAtEdge = missedAtEdge(field, { reference, usable, radius_m: bore.radius_m / 10 });
  return {
    region,
    reference,
    principal: principalGradients(reference.gradient_T_per_m),
    usable,
    edges,
    ballAtEdge,
    selfCheck: fieldSelfCheck(field, center_m, bore.radius_m / 4),
  };
}

interface EdgeOptions {
  readonly reference: GradientReference;
  readonly usable: UsableRegion;
}

/** Along each axis, at the nearer of the two ends of the usable stretch. */
function edgeEffects(
  field: FieldFunction,
  { reference, usable, step_m }: EdgeOptions & { step_m: number },
): EdgeEffect[] {
  return axes.map((axis) => {
    const [minus, plus] = usable.along[axis];
    const sign = minus.distance_m < plus.distance_m ? -1 : 1;
    const distance_m = Math.min(minus.distance_m, plus.distance_m);
    const point = [...reference.center_m];
    point[axisIndex(axis)] += sign * distance_m;
    const { image_m, concentrationFactor } = imageDistortion(field, Float64Array.from(point), {
      reference,
      weakShare: lineShare,
      step_m,
    });
    const moved = sign * (image_m[axisIndex(axis)] - point[axisIndex(axis)]);
    return { axis, distance_m, positionError_m: moved, concentrationFactor: concentrationFactor[0] };
  });
}

/** A direction whose gradient is below this part of the largest is a line's own: nothing is encoded along it. */
const lineShare = 0.1;

function missedAtEdge(field: FieldFunction, { reference, usable, radius_m }: EdgeOptions & { radius_m: number }) {
  const distance_m = usable.sphere.distance_m - radius_m;
  if (distance_m <= 0) return null;
  const worst = axes.map((axis) => {
    const center = [...reference.center_m];
    center[axisIndex(axis)] += distance_m;
    const ball = { center_m: center as unknown as Vector3, radius_m };
    return massErrorOfSphere(field, ball, { reference, weakShare: lineShare, rings: 12 }).missedShare;
  });
  return { radius_m, distance_m, missedShare: Math.max(...worst) };
}
