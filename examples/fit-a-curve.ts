/**
 * Question    Which tracer stands behind a measured magnetisation curve, and may its numbers be believed?
 * Objective   Number-weighted median diameter and log-sd with their covariance, the cautions that go along, and the
 *             static width that they mean on a 7 T/m scanner, its uncertainty through that covariance.
 *
 *   minimise sum ((M_i - S <d^3 L(xi)>/<d^3> - chi B_i)/sigma_i)^2 over S, median d, log-sd, chi
 *
 * Run         npx tsx examples/fit-a-curve.ts
 * Numbers     measured: Bender et al., Nanotechnology 29, 425705 (2018), MIT; its descriptor says what is assumed
 */
import { readFileSync } from "node:fs";
import { parseCurveDescriptor, readCurve } from "../src/formats/index.js";
import { fitLogNormal } from "../src/measure/index.js";
import { staticWidth_T } from "../src/physics/index.js";
import { formatWithUncertainty, measuredFromSI } from "../src/units/index.js";
import { type Print, runAlone } from "./run-alone.js";

const shipped = (name: string) =>
  readFileSync(new URL(`../shipped/curves/clustered-iron-oxide/${name}`, import.meta.url));

export function fitACurve(print: Print) {
  const descriptor = parseCurveDescriptor(shipped("descriptor.json").toString("utf8"));
  const curve = readCurve(new Uint8Array(shipped("FSL-DCM_data.txt")), descriptor);
  const fit = fitLogNormal(curve);
  const [, median, logSd] = fit.parameters;
  print(
    `median core diameter (by number): ${formatWithUncertainty(measuredFromSI(median.value, median.standardUncertainty, { kind: "length" }))}`,
  );
  print(
    `log-sd: ${formatWithUncertainty(measuredFromSI(logSd.value, logSd.standardUncertainty, { kind: "dimensionless" }))}`,
  );

  const width_m = (medianDiameter_m: number, sd: number) =>
    staticWidth_T({
      sizes: { kind: "lognormal", weighting: "number", medianDiameter_m, logSd: sd },
      saturation_A_per_m: curve.coreSaturation_A_per_m!,
      temperature_K: curve.temperature_K!,
    }) / 7;
  const best_m = width_m(median.value, logSd.value);
  // Steps of one standard uncertainty: the pair is correlated by -0.99, so taking it as independent is almost 3 x too wide.
  const steps = [
    width_m(median.value + median.standardUncertainty, logSd.value) - best_m,
    width_m(median.value, logSd.value + logSd.standardUncertainty) - best_m,
  ];
  const r = fit.correlation[1 * 4 + 2];
  const uncertainty_m = Math.sqrt(steps[0] ** 2 + steps[1] ** 2 + 2 * r * steps[0] * steps[1]);
  const naive_m = Math.hypot(...steps);
  print(
    `static width at 7 T/m: ${formatWithUncertainty(measuredFromSI(best_m, uncertainty_m, { kind: "length" }))} (fit alone)`,
  );
  print(
    `  taking the two as independent would make that uncertainty ${(naive_m / uncertainty_m).toFixed(1)} times larger`,
  );
  for (const { code, message } of fit.advisories.slice(0, 3)) print(`caution (${code}): ${message}`);
  return { fit, width_m: best_m, uncertainty_m, naive_m };
}

runAlone(import.meta.url, fitACurve);
