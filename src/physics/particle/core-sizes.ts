import { FerruleError } from "../../errors.js";
import { requireBetween, requirePositive } from "./ranges.js";

/** Every core has the same magnetic diameter. */
export interface SingleSize {
  readonly kind: "single";
  readonly diameter_m: number;
}

/**
 * Log-normal magnetic core diameters. `weighting` says which distribution the median belongs to: of particle *numbers*
 * (our convention) or of magnetic *volume* (what light scattering and many magnetometry papers print).
 * `logSd` is the standard deviation of ln d, the same number under both weightings.
 */
export interface LogNormalSizes {
  readonly kind: "lognormal";
  readonly weighting: "number" | "volume";
  readonly medianDiameter_m: number;
  readonly logSd: number;
}

/** Several log-normal populations. `weighting` goes for shares and medians alike: of particle numbers or of core volume. */
export interface MixtureSizes {
  readonly kind: "mixture";
  readonly weighting: "number" | "volume";
  readonly populations: readonly {
    /** Relative to the others; only ratios count. */
    readonly share: number;
    readonly medianDiameter_m: number;
    readonly logSd: number;
  }[];
}

/** A free-form distribution: shares of particle number or of core volume at given diameters; only ratios count. */
export interface TableSizes {
  readonly kind: "table";
  readonly weighting: "number" | "volume";
  readonly diameter_m: ArrayLike<number>;
  /** Of the same length. */
  readonly share: ArrayLike<number>;
}

export type CoreSizes = SingleSize | LogNormalSizes | MixtureSizes | TableSizes;

/** A log-normal part of a distribution; a width of 0 is a single diameter. */
export interface SizeComponent {
  /** Share of the number of particles; all shares sum to 1. */
  readonly share: number;
  /** Number-weighted. */
  readonly median_m: number;
  readonly logSd: number;
}

/** Beyond this a number-weighted description is meaningless: the volume median would lie e^12 above the number median. */
const widestLogSd = 2;

/**
 * Any distribution as number-weighted log-normal components, those of share 0 left out.
 *   number share p of a volume share q:  p proportional to q / (d_N^3 exp(4.5 s^2)),  d_N = d_V exp(-3 s^2)
 *
 * @throws FerruleError InvalidValue for values that describe no particles, ShapeMismatch for a table of unequal columns
 * Source  log-normal statistics; derived. Checked by checks/size-distribution
 */
export function sizeComponents(sizes: CoreSizes): SizeComponent[] {
  switch (sizes.kind) {
    case "single":
      return [{ share: 1, median_m: requirePositive(sizes.diameter_m, "sizes.diameter_m", "25e-9 (25 nm)"), logSd: 0 }];
    case "lognormal":
      return weighted([component({ ...sizes, share: 1 }, "sizes")], sizes.weighting);
    case "mixture":
      return weighted(
        sizes.populations.map((population, i) => component(population, `sizes.populations[${i}]`)),
        sizes.weighting,
      );
    case "table":
      requireEqualColumns(sizes);
      return weighted(
        Array.from(sizes.diameter_m, (medianDiameter_m, i) =>
          component({ share: sizes.share[i], medianDiameter_m, logSd: 0 }, `sizes.table[${i}]`),
        ),
        sizes.weighting,
      );
  }
}

function component(
  { share, medianDiameter_m, logSd }: MixtureSizes["populations"][number],
  path: string,
): SizeComponent {
  requirePositive(medianDiameter_m, `${path}.medianDiameter_m`, "25e-9 (25 nm)");
  requireBetween(logSd, [0, widestLogSd], { path: `${path}.logSd`, example: "0.1" });
  requireBetween(share, [0, Number.MAX_VALUE], { path: `${path}.share`, example: "0.3" });
  return { share, median_m: medianDiameter_m, logSd };
}

/** Number-weighted components with shares that sum to 1. */
function weighted(components: SizeComponent[], weighting: "number" | "volume"): SizeComponent[] {
  const byNumber = components
    .filter(({ share }) => share > 0)
    .map(({ share, median_m, logSd }) => {
      if (weighting === "number") return { share, median_m, logSd };
      const number_m = median_m * Math.exp(-3 * logSd * logSd);
      // In nm3, so that shares of nanometre cores stay of ordinary size.
      return { share: share / ((number_m * 1e9) ** 3 * Math.exp(4.5 * logSd * logSd)), median_m: number_m, logSd };
    });
  const total = byNumber.reduce((sum, { share }) => sum + share, 0);
  if (!(total > 0 && Number.isFinite(total)))
    throw new FerruleError("InvalidValue", {
      path: "sizes",
      found: "no population with a share above 0",
      accepted: "at least one, e.g. { share: 1, medianDiameter_m: 25e-9, logSd: 0.1 }",
    });
  return byNumber.map((part) => ({ ...part, share: part.share / total }));
}

function requireEqualColumns({ diameter_m, share }: TableSizes): void {
  if (diameter_m.length === share.length && share.length > 0) return;
  throw new FerruleError("ShapeMismatch", {
    path: "sizes",
    found: `${diameter_m.length} diameters and ${share.length} shares`,
    accepted: "as many shares as diameters, at least one of each",
  });
}

/** The same distribution with every diameter multiplied; widths go as its inverse cube, the moment per iron stays. */
export function scaledSizes(sizes: CoreSizes, factor: number): CoreSizes {
  switch (sizes.kind) {
    case "single":
      return { ...sizes, diameter_m: sizes.diameter_m * factor };
    case "lognormal":
      return { ...sizes, medianDiameter_m: sizes.medianDiameter_m * factor };
    case "mixture":
      return {
        ...sizes,
        populations: sizes.populations.map((each) => ({ ...each, medianDiameter_m: each.medianDiameter_m * factor })),
      };
    case "table":
      return { ...sizes, diameter_m: Array.from(sizes.diameter_m, (d) => d * factor) };
  }
}
