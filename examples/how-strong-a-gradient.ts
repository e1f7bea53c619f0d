/**
 * Question    How strong a gradient does a wanted width ask for in a mouse's and in a head's bore, and what does it cost?
 * Objective   The gradient along the drive for that width with the uncertainty that the tracer's core sizes leave, and the
 *             power of the selection coils beside what their supplies give.
 *
 *   G = static width in T / wanted width,  u(G)/G = u(width)/width,  P = P0 (G/G0)^2
 *
 * Run         npx tsx examples/how-strong-a-gradient.ts
 * Numbers     scanners and tracer are the shipped ones, invented; the wanted widths are ours
 */
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { coilElectrics, parseDocument, type ScannerModel } from "../src/documents/index.js";
import { staticWidth_T } from "../src/physics/index.js";
import { formatQuantity, formatWithUncertainty, measuredFromSI, parseQuantity } from "../src/units/index.js";
import { readScanner } from "../src/workbench/index.js";
import { type Print, runAlone } from "./run-alone.js";

const shipped = (name: string) => fileURLToPath(new URL(`../shipped/${name}.json`, import.meta.url));

const cases = [
  { scanner: "mouse-point", wanted: "1 mm" },
  { scanner: "head-concept", wanted: "1 mm" },
  { scanner: "head-concept", wanted: "10 mm" },
] as const;

export function howStrongAGradient(print: Print) {
  const width = widthOfCores();
  print(`static width of the tracer: ${formatWithUncertainty(measured(width.value_T, width.uncertainty_T))} of mu0H`);
  return cases.map(({ scanner: name, wanted }) => {
    const scanner = readScanner(shipped(`scanners/${name}`));
    const gradient_T_per_m = width.value_T / parseQuantity(wanted, "length");
    const uncertainty_T_per_m = (gradient_T_per_m * width.uncertainty_T) / width.value_T;
    const { own_T_per_m, power_W, supply_W, current_A, limit_A } = selectionOf(scanner);
    const needed_W = power_W * (gradient_T_per_m / own_T_per_m) ** 2;
    const powerUncertainty_W = (2 * needed_W * uncertainty_T_per_m) / gradient_T_per_m;
    const field = measuredFromSI(gradient_T_per_m, uncertainty_T_per_m, { kind: "fieldGradient" });
    print(
      `${wanted} along the drive in the bore of ${formatQuantity(scanner.boreDiameter_m, "length")}: ${formatWithUncertainty(field)}`,
    );
    print(
      `  ${formatWithUncertainty(measuredFromSI(needed_W, powerUncertainty_W, { kind: "power" }))} in the selection coils; their supplies give ${formatQuantity(supply_W, "power")}`,
    );
    const needed_A = current_A * (gradient_T_per_m / own_T_per_m);
    print(
      `  ${formatQuantity(needed_A, "current")} in each; a supply gives ${formatQuantity(limit_A, "current")}: ${needed_A > limit_A ? "other windings, or another supply" : "enough"}`,
    );
    return { gradient_T_per_m, uncertainty_T_per_m, needed_W, supply_W, needed_A, limit_A };
  });
}

const measured = (value_T: number, uncertainty_T: number) =>
  measuredFromSI(value_T, uncertainty_T, { kind: "appliedField" });

/** Width of the core sizes' equilibrium curve; median and log-sd are correlated, so their steps are added with that. */
function widthOfCores() {
  const file = shipped("tracers/free-cores-22-nm");
  const { core, environment, standardUncertainties } = parseDocument(readFileSync(file, "utf8"), {
    file,
    family: "tracer",
  }).model;
  const { sizes } = core;
  if (sizes.kind !== "lognormal") throw new Error("this story is about log-normal cores");
  const at = (medianDiameter_m: number, logSd: number) =>
    staticWidth_T({
      sizes: { ...sizes, medianDiameter_m, logSd },
      saturation_A_per_m: core.saturation_A_per_m,
      temperature_K: environment.temperature_K,
    });
  const { medianDiameter_m: d, logSd: s } = sizes;
  const { medianDiameter_m: ud = 0, logSd: us = 0, medianLogSdCorrelation: r = 0 } = standardUncertainties;
  const value_T = at(d, s);
  const steps = [at(d + ud, s) - value_T, at(d, s + us) - value_T];
  return { value_T, uncertainty_T: Math.sqrt(steps[0] ** 2 + steps[1] ** 2 + 2 * r * steps[0] * steps[1]) };
}

function selectionOf({ selectionField: { gradient_T_per_m, sources } }: ScannerModel) {
  const coils = sources?.coils ?? [];
  const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
  return {
    own_T_per_m: Math.abs(gradient_T_per_m[2][2]), // both scanners drive along z
    power_W: sum(coils.map(({ coil, current_A }) => (coilElectrics(coil).resistance_Ohm ?? 0) * current_A ** 2)),
    supply_W: sum(coils.map(({ coil }) => coil.supply.maximumPower_W ?? 0)),
    current_A: Math.max(...coils.map((each) => Math.abs(each.current_A))),
    limit_A: Math.min(...coils.map(({ coil }) => coil.supply.maximumCurrent_A ?? Number.POSITIVE_INFINITY)),
  };
}

runAlone(import.meta.url, howStrongAGradient);
