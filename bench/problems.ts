import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { fitLogNormal, type MagnetisationCurve } from "../src/measure/index.js";
import { fourierPlan, stream } from "../src/numerics/index.js";
import { langevinEach, relativeMagnetisation } from "../src/physics/index.js";
import { fieldSourceProblems } from "./field-sources.js";
import { macrospinProblems } from "./macrospin.js";
import type { Problem } from "./measure.js";
import { relaxationProblems } from "./relaxation.js";
import { sweepProblems } from "./sweep.js";

/** The named problems. Data are invented and seeded; sizes are part of the name and never change under it. */
export function problems(): Problem[] {
  return [
    ...langevinTable(),
    ...fits(),
    ...transforms(),
    ...relaxationProblems(),
    ...macrospinProblems(),
    ...fieldSourceProblems(),
    ...sweepProblems(),
    ...coldStarts(),
  ];
}

const spread = (from: number, to: number, n: number): Float64Array =>
  Float64Array.from({ length: n }, (_, i) => from * (to / from) ** (i / (n - 1)));

function langevinTable(): Problem[] {
  const xi = spread(1e-3, 1e3, 100_000);
  const out = new Float64Array(xi.length);
  const exponential = () => {
    for (let i = 0; i < xi.length; i++) out[i] = Math.exp(-xi[i]);
  };
  return [
    { name: "exp-1e5", size: "100,000 Math.exp", run: exponential, repeats: 5 },
    { name: "langevin-1e5", size: "100,000 values", run: () => langevinEach(xi, out), repeats: 5, ratioTo: "exp-1e5" },
  ];
}

function fits(): Problem[] {
  return [
    { name: "log-normal-fit-500", size: "500 points, 4 parameters", run: fitOf(500) },
    { name: "log-normal-fit-20000", size: "20,000 points", run: fitOf(20_000), ratioTo: "log-normal-fit-500" },
  ];
}

function fitOf(n: number): () => unknown {
  const field_T = spread(1e-4, 3, n);
  const particles = {
    sizes: { kind: "lognormal", weighting: "number", medianDiameter_m: 11e-9, logSd: 0.3 },
    saturation_A_per_m: 446e3,
    temperature_K: 300,
  } as const;
  const noise = stream(20261125, 0, n);
  const curve: MagnetisationCurve = {
    name: "invented",
    field_T,
    magnetisation: relativeMagnetisation(field_T, particles).map(
      (m, i) => 95 * m + 2 * field_T[i] + 0.5 * noise.normal(),
    ),
    sigma: new Float64Array(n).fill(0.5),
    magnetisationUnit: "A.m2/kg",
    basis: "per-iron-mass",
    temperature_K: 300,
    coreSaturation_A_per_m: 446e3,
    assumptions: [],
    findings: [],
  };
  return () => fitLogNormal(curve);
}

function transforms(): Problem[] {
  return [1632, 2 ** 17].map((n) => {
    const noise = stream(20261125, 1, n);
    const data = Float64Array.from({ length: 2 * n }, () => noise.normal());
    const work = new Float64Array(2 * n);
    const plan = fourierPlan(n);
    return { name: `fft-${n}`, size: `${n} complex`, run: () => plan.forward(data, work), repeats: n < 1e4 ? 100 : 2 };
  });
}

/** Of the built command, if there is one; against an empty program, which is Node's own start. */
function coldStarts(): Problem[] {
  const main = fileURLToPath(new URL("../dist/cli/main.js", import.meta.url));
  if (!existsSync(main)) return [];
  const node = (args: readonly string[]) => () => spawnSync(process.execPath, args, { stdio: "ignore" });
  return [
    { name: "node-start", size: "node -e ''", run: node(["-e", ""]) },
    {
      name: "cold-start",
      size: "ferrule formula langevin xi=2",
      run: node([main, "formula", "langevin", "xi=2"]),
      ratioTo: "node-start",
    },
  ];
}
