import { FerruleError } from "../../errors.js";
import {
  contains,
  cutIntoPoints,
  type IronObject,
  type RasterModel,
  type TikhonovSolver,
} from "../../imaging/index.js";
import { solveSquare } from "../../numerics/index.js";
import { combineFunctionals, innerProduct, type MassFunctional, massFunctional } from "../regions/mass-functional.js";
import type { RegionShape } from "../regions/region-weights.js";
import { effectSd, type ShapeFamily, type ShapeUncertainty, shapeFamily } from "../regions/shape-family.js";
import { type Halo, softRegionWeights } from "../regions/soft-region.js";

export interface LabelledRegion {
  readonly label: string;
  readonly shape: RegionShape;
}

/**
 * Mass estimators of a set of regions, corrected for what the map loses from each and spills into the others.
 *
 *   r_i = z_iᵀ y (soft region sums of the linear map),  R_ij = z_iᵀ A χ_j (χ_j: unit mass in contour j)
 *   m̂ = R⁻¹ r
 * This is the geometric transfer matrix with the operator's own response in place of a Gaussian. It assumes that the iron
 * fills the drawn contours, averaged over their outline's and place's uncertainty; the scatter is in `RegionErrors`.
 *
 * Source      Rousset et al., J. Nucl. Med. 39:904 (1998) (from memory)
 */
export interface RegionEstimators {
  readonly regions: readonly LabelledRegion[];
  /** One corrected functional per region. */
  readonly estimators: readonly MassFunctional[];
  /** [n × n] R */
  readonly transfer: Float64Array;
  /** One kilogram in each contour, with its variants. */
  readonly families: readonly ShapeFamily[];
  /** A χ_j on compressed rows, V per kg */
  readonly responses: readonly Float64Array[];
}

export function regionEstimators(
  model: RasterModel,
  solver: TikhonovSolver,
  { regions, halo, uncertainty }: { regions: readonly LabelledRegion[]; halo: Halo; uncertainty: ShapeUncertainty },
): RegionEstimators {
  const n = regions.length;
  refuseOverlap(regions);
  const families = regions.map(({ shape, label }) =>
    shapeFamily(model, shape, { uncertainty, path: `region "${label}"` }),
  );
  const raw = regions.map(({ label, shape }) =>
    massFunctional(model, solver, { label, weights: softRegionWeights(model.geometry, shape, halo) }),
  );
  const responses = families.map(({ expected }) => model.operator.forward(expected));
  const transfer = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) transfer[i * n + j] = innerProduct(raw[i].compressed, responses[j]);
  const estimators = regions.map(({ label }, i) => combineFunctionals(label, raw, inverseRow(transfer, n, i)));
  return { regions, estimators, transfer, families, responses };
}

/** Iron in a common part would be counted for either region, and the transfer matrix could not tell. */
function refuseOverlap(regions: readonly LabelledRegion[]): void {
  for (const [i, first] of regions.entries())
    for (const second of regions.slice(i + 1)) {
      const points = cutIntoPoints([{ ...first.shape, iron_kg: 1 } as IronObject], overlapGrid_m);
      const solid = { ...second.shape, iron_kg: 0 } as IronObject;
      let shared = 0;
      for (let p = 0; p < points.iron_kg.length; p++)
        if (contains(solid, [points.x_m[p], points.y_m[p], points.z_m[p]])) shared += points.iron_kg[p];
      if (shared > 0.02)
        throw new FerruleError("NotIdentifiable", {
          path: "regions",
          found: `the regions "${first.label}" and "${second.label}", which share ${(100 * shared).toFixed(0)} % of the first`,
          accepted: "regions that do not overlap",
        });
    }
}

const overlapGrid_m = [0.3e-3, 0.3e-3, 0.3e-3] as const;

/** Row i of R⁻¹: the solution of Rᵀ x = e_i. */
function inverseRow(matrix: Float64Array, n: number, i: number): number[] {
  const transposed = Float64Array.from({ length: n * n }, (_, k) => matrix[(k % n) * n + Math.floor(k / n)]);
  const unit = new Float64Array(n);
  unit[i] = 1;
  const row = solveSquare(transposed, unit);
  if (row === undefined)
    throw new FerruleError("NotIdentifiable", {
      path: "regions",
      found: "regions that the map cannot tell apart (the transfer matrix is singular)",
      accepted: "regions that do not overlap",
    });
  return [...row];
}

/**
 * What a wrong shape of region j does to every estimator, per kg of iron in j: entry [i] is the sd of m̂_i per kg.
 *   shape: iron between hollow and drawn together into the middle third (half-width, rectangular)
 *   contour: outline;  position: place along each axis (both to second order, their mean already corrected)
 */
export interface RegionErrors {
  readonly shape: Float64Array;
  readonly contour: Float64Array;
  readonly position: Float64Array;
}

export function regionErrors(model: RasterModel, { families, estimators }: RegionEstimators): RegionErrors[] {
  return families.map(({ drawn, core, contour, moves }) => {
    const read = (unit: Float64Array) => {
      const response = model.operator.forward(unit);
      return estimators.map(({ compressed }) => innerProduct(compressed, response));
    };
    const middle = read(drawn);
    const drawnTogether = read(core);
    const outline = contour.map(read);
    const places = moves.map((pair) => pair.map(read));
    const sd = ([up, down]: readonly number[][], i: number) => effectSd(down[i], middle[i], up[i]);
    return {
      shape: Float64Array.from(drawnTogether, (value, i) => Math.abs(value - middle[i]) / Math.sqrt(3)),
      contour: Float64Array.from(middle, (_, i) => sd(outline, i)),
      position: Float64Array.from(middle, (_, i) => Math.hypot(...places.map((pair) => sd(pair, i)))),
    };
  });
}
