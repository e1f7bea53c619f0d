/**
 * Question    How narrow can the image of a point be with a given core and gradient, before relaxation and noise?
 * Objective   The static width along the drive, with what the core diameter's own uncertainty makes of it.
 *
 *   dx = 24.966 kB T / (pi Ms G d^3),  u(dx)/dx = 3 u(d)/d
 *
 * Run         npx tsx examples/langevin-width.ts
 * Numbers     core and gradient are those of the handbook's worked example; the 0.5 nm is invented
 */
import { type ParticleEnsemble, staticWidth_T } from "../src/physics/index.js";
import { formatWithUncertainty, measuredFromSI, parseQuantity } from "../src/units/index.js";
import { type Print, runAlone } from "./run-alone.js";

export function langevinWidth(print: Print) {
  const diameter_m = parseQuantity("25 nm", "length");
  const diameterUncertainty_m = parseQuantity("0.5 nm", "length");
  const gradient_T_per_m = parseQuantity("7 T/m", "fieldGradient");
  const tracer: ParticleEnsemble = {
    sizes: { kind: "single", diameter_m },
    saturation_A_per_m: parseQuantity("446 kA/m", "magnetisation"),
    temperature_K: parseQuantity("300 K", "temperature"),
  };
  const width_m = staticWidth_T(tracer) / gradient_T_per_m;
  const widthUncertainty_m = (3 * width_m * diameterUncertainty_m) / diameter_m;
  print(
    `static width along the drive: ${formatWithUncertainty(measuredFromSI(width_m, widthUncertainty_m, { kind: "length" }))}`,
  );
  print("A lower bound: relaxation, filters and noise widen it; no scanner is promised to resolve it.");
  return { width_m, widthUncertainty_m };
}

runAlone(import.meta.url, langevinWidth);
