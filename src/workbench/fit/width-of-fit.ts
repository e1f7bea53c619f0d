import { sizesOfFit, type TracerFit } from "../../measure/index.js";
import { chainWidth_T, ensembleNodes, staticWidth_T } from "../../physics/index.js";

/**
 * Standard uncertainty of the static width that a fit implies, through the whole covariance of its parameters.
 *   u^2 = g^T C g,  g by central differences of a tenth of a standard uncertainty; held parameters add nothing
 *
 * @returns `undefined` where the fit has no width (coupling 3 and above), no parameters of sizes, or no covariance
 * Source      JCGM 100:2008, 5.2 (common practice)
 */
export function widthUncertaintyOfFit_T(
  fit: TracerFit,
  conditions: { readonly saturation_A_per_m: number; readonly temperature_K: number },
): number | undefined {
  if ("distribution" in fit) return undefined;
  const p = fit.parameters.length;
  const width = (values: readonly number[]): number => {
    const parameters = fit.parameters.map((parameter, j) => ({ ...parameter, value: values[j] }));
    const sizes = sizesOfFit({ model: sizesModel(fit.model), parameters });
    const kappa = parameters.find(({ name }) => name === "coupling")?.value ?? 0;
    const ensemble = { sizes, ...conditions };
    return kappa === 0 ? staticWidth_T(ensemble) : chainWidth_T(ensembleNodes(ensemble, 3), { kappa });
  };
  const best = fit.parameters.map(({ value }) => value);
  try {
    const gradient = fit.parameters.map(({ standardUncertainty: u }, j) => {
      if (!(u > 0)) return 0;
      const moved = (by: number) => width(best.map((value, k) => (k === j ? value + by : value)));
      return (moved(0.1 * u) - moved(-0.1 * u)) / (0.2 * u);
    });
    let variance = 0;
    for (let i = 0; i < p; i++)
      for (let j = 0; j < p; j++) {
        const covariance = fit.covariance[i * p + j];
        if (Number.isFinite(covariance)) variance += gradient[i] * covariance * gradient[j];
      }
    return variance > 0 && Number.isFinite(variance) ? Math.sqrt(variance) : undefined;
  } catch {
    // Values that describe no particles, or a coupling without a width: nothing to propagate.
    return undefined;
  }
}

const sizesModel = (model: string) => (model === "log-normal-mixture" ? "log-normal-mixture" : "log-normal-langevin");
