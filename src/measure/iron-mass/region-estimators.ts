import { FerruleError } from "../../errors.js";
import { type RasterModel, type TikhonovSolver, voxelVolume_m3 } from "../../imaging/index.js";
import { solveSquare } from "../../numerics/index.js";
import { combineFunctionals, innerProduct, type MassFunctional, massFunctional } from "../regions/mass-functional.js";
import { grownRegion, type RegionShape, regionWeights } from "../regions/region-weights.js";
import { type Halo, softRegionWeights } from "../regions/soft-region.js";

export interface LabelledRegion {
  readonly label: string;
  readonly shape: RegionShape;
}

/**
 * Mass estimators of a set of regions, corrected for what the map loses from each and spills into the others.
 *
 *   r_i = z_iᵀ y (soft region sums of the linear map),  R_ij = z_iᵀ A χ_j (χ_j: unit mass spread over contour j)
 *   m̂ = R⁻¹ r
 * This is the geometric transfer matrix with the operator's own response in place of a Gaussian. It assumes that the iron
 * lies inside the drawn contours; how wrong that may be is in the budget (`RegionErrors`).
 *
 * Source      Rousset et al., J. Nucl. Med. 39:904 (1998) (from memory)
 */
export interface RegionEstimators {
  readonly regions: readonly LabelledRegion[];
  /** One corrected functional per region. */
  readonly estimators: readonly MassFunctional[];
  /** [n × n] R */
  readonly transfer: Float64Array;
  /** χ_j: one kilogram spread evenly over contour j, kg/m³ per kg */
  readonly units: readonly Float64Array[];
  /** A χ_j on compressed rows, V per kg */
  readonly responses: readonly Float64Array[];
}

export function regionEstimators(
  model: RasterModel,
  solver: TikhonovSolver,
  { regions, halo }: { regions: readonly LabelledRegion[]; halo: Halo },
): RegionEstimators {
  const n = regions.length;
  const raw = regions.map(({ label, shape }) =>
    massFunctional(model, solver, { label, weights: softRegionWeights(model.geometry, shape, halo) }),
  );
  const units = regions.map(({ shape, label }) => unitMass(model, shape, label));
  const responses = units.map((unit) => model.operator.forward(unit));
  const transfer = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) transfer[i * n + j] = innerProduct(raw[i].compressed, responses[j]);
  const estimators = regions.map(({ label }, i) => {
    // Row i of R⁻¹: solve Rᵀ x = e_i.
    const transposed = Float64Array.from({ length: n * n }, (_, k) => transfer[(k % n) * n + Math.floor(k / n)]);
    const unit = new Float64Array(n);
    unit[i] = 1;
    const weights = solveSquare(transposed, unit);
    if (weights === undefined)
      throw new FerruleError("NotIdentifiable", {
        path: "regions",
        found: "regions that the map cannot tell apart (the transfer matrix is singular)",
        accepted: "regions that do not overlap",
      });
    return combineFunctionals(label, raw, [...weights]);
  });
  return { regions, estimators, transfer, units, responses };
}

/** Concentration of one kilogram spread evenly over a shape. */
function unitMass(model: RasterModel, shape: RegionShape, label: string): Float64Array {
  const weights = regionWeights(model.geometry, shape, { path: `region "${label}"` });
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const volume = voxelVolume_m3(model.geometry);
  return weights.map((weight) => weight / (total * volume));
}

/** How far the shapes may be from their contours, m (k = 1). */
export interface ShapeUncertainty {
  readonly contour_m: number;
  readonly position_m: number;
}

/**
 * What a wrong shape of region j does to every estimator, per kg of iron in j: entry [i] is Δm̂_i per kg.
 *   shape: all iron in the middle third against evenly spread (half-width, rectangular)
 *   contour: surface out against in by its uncertainty;  position: moved along each axis by its uncertainty
 */
export interface RegionErrors {
  readonly shape: Float64Array;
  readonly contour: Float64Array;
  readonly position: Float64Array;
}

export function regionErrors(
  model: RasterModel,
  { regions, estimators, responses }: RegionEstimators,
  uncertainty: ShapeUncertainty,
): RegionErrors[] {
  return regions.map(({ shape, label }, j) => {
    const effect = (other: RegionShape) => {
      const changed = model.operator.forward(unitMass(model, other, label));
      return estimators.map(
        ({ compressed }) => innerProduct(compressed, changed) - innerProduct(compressed, responses[j]),
      );
    };
    const core = effect(scaledRegion(shape, 1 / 3));
    const out = effect(grownRegion(shape, uncertainty.contour_m));
    const inward = effect(grownRegion(shape, -uncertainty.contour_m));
    const moves = [0, 1, 2].map((axis) => effect(movedRegion(shape, axis, uncertainty.position_m)));
    return {
      shape: Float64Array.from(core, (value) => Math.abs(value) / Math.sqrt(3)),
      contour: Float64Array.from(out, (value, i) => Math.abs(value - inward[i]) / 2),
      position: Float64Array.from(estimators, (_, i) => Math.hypot(...moves.map((move) => move[i]))),
    };
  });
}

function scaledRegion(shape: RegionShape, factor: number): RegionShape {
  if (shape.kind === "sphere") return { ...shape, diameter_m: shape.diameter_m * factor };
  const [x, y, z] = shape.size_m;
  return { ...shape, size_m: [x * factor, y * factor, z * factor] };
}

function movedRegion(shape: RegionShape, axis: number, distance_m: number): RegionShape {
  const center = [...shape.center_m] as [number, number, number];
  center[axis] += distance_m;
  return { ...shape, center_m: center };
}
