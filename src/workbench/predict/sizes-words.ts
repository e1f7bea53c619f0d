import type { CoreSizes } from "../../physics/index.js";
import { formatQuantity } from "../../units/index.js";

/** A core-size distribution in words, its weighting always named. */
export function sizesWords(sizes: CoreSizes): string {
  const length = (value: number) => formatQuantity(value, "length");
  switch (sizes.kind) {
    case "single":
      return `${length(sizes.diameter_m)}, all equal`;
    case "lognormal":
      return `median ${length(sizes.medianDiameter_m)} by ${sizes.weighting}, log-sd ${Number(sizes.logSd.toPrecision(3))}`;
    case "mixture": {
      const total = sizes.populations.reduce((sum, { share }) => sum + share, 0);
      const parts = sizes.populations.map(
        ({ share, medianDiameter_m, logSd }) =>
          `${((100 * share) / total).toPrecision(2)} % of ${length(medianDiameter_m)} (log-sd ${Number(logSd.toPrecision(3))})`,
      );
      return `${parts.join(" + ")}, by ${sizes.weighting}`;
    }
    case "table": {
      const diameters = Array.from(sizes.diameter_m);
      return `free-form by ${sizes.weighting}, ${length(Math.min(...diameters))} to ${length(Math.max(...diameters))}`;
    }
  }
}
