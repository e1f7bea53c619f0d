import type { CoreSizes } from "../../physics/index.js";
import type { CurveFit } from "./fit-result.js";
import type { FreeFormFit } from "./free-form-report.js";

/**
 * The size distribution that a fit found, as the physics layer takes it: what a tracer is made of.
 * Mixtures and free-form distributions are stated by volume, because that is what a magnetisation curve knows.
 */
export function sizesOfFit(
  fit: Pick<CurveFit, "model" | "parameters"> & { readonly distribution?: FreeFormFit["distribution"] },
): CoreSizes {
  if (fit.distribution !== undefined) {
    const { diameter_m, volumeShare } = fit.distribution;
    return { kind: "table", weighting: "volume", diameter_m, share: volumeShare };
  }
  const value = (name: string) => fit.parameters.find((parameter) => parameter.name === name)?.value;
  const medianDiameter_m = value("median-diameter") ?? Number.NaN;
  const logSd = value("log-sd") ?? 0;
  if (fit.model !== "log-normal-mixture") return { kind: "lognormal", weighting: "number", medianDiameter_m, logSd };
  const others = [2, 3].flatMap((k) => {
    const share = value(`share-${k}`);
    if (share === undefined) return [];
    return [byVolume(share, value(`median-diameter-${k}`) ?? Number.NaN, value(`log-sd-${k}`) ?? 0)];
  });
  const rest = others.reduce((left, { share }) => left - share, 1);
  const populations = [byVolume(Math.max(0, rest), medianDiameter_m, logSd), ...others];
  return { kind: "mixture", weighting: "volume", populations };
}

function byVolume(share: number, numberMedian_m: number, logSd: number) {
  return { share, medianDiameter_m: numberMedian_m * Math.exp(3 * logSd * logSd), logSd };
}
