import {
  chainField_T,
  dipolarCoupling,
  dipoleField_T,
  geometricCoupling,
  zetaOfThree,
} from "../../src/physics/chains/chain-coupling.js";
import { type ChainBranch, chainMagnetisation } from "../../src/physics/chains/chain-magnetisation.js";
import { followBranch } from "../../src/physics/chains/mean-field.js";
import { meanFieldDynamics } from "../../src/physics/chains/mean-field-dynamics.js";
import { meanFieldPeakGain, meanFieldWidth } from "../../src/physics/chains/mean-field-width.js";
import { remanence, spinodal } from "../../src/physics/chains/spinodal.js";
import { coreMoment_A_m2, xiPerTesla } from "../../src/physics/particle/core.js";
import { ensembleNodes } from "../../src/physics/particle/magnetisation.js";
import { cosineDrive, triangleDrive } from "../../src/physics/signal/periodic-field.js";
import { boltzmannConstant_J_per_K, vacuumPermeability_T_m_per_A } from "../../src/units/index.js";
import { absolute, type Comparison, numbersOf, published, relative, rowsOf } from "./truth.js";

/** Shared by the gate and the meter: the mean-field chain against roots, quadrature and integrators from elsewhere. */

export function jumpErrors(): Comparison[] {
  return rowsOf("jumps: kappa, u*, xi_c, before, after, M_r").flatMap((row) => {
    const [kappa, ...expected] = numbersOf(row);
    const end = spinodal(kappa);
    const found = [end?.localXi, end?.coerciveXi, end?.before, end?.after, remanence(kappa)];
    return ["u*", "xi_c", "before", "after", "M_r"].map((name, i) =>
      relative(`${name} at kappa ${kappa}`, found[i] ?? Number.NaN, expected[i]),
    );
  });
}

export function widthErrors(): Comparison[] {
  return rowsOf("widths: kappa, FWHM of dM/dxi").map((row) => {
    const [kappa, expected] = numbersOf(row);
    return relative(`width at kappa ${kappa}`, meanFieldWidth(kappa), expected);
  });
}

export function stateErrors(): Comparison[] {
  return rowsOf("states: kappa, xi, M, dM/dxi").flatMap((row) => {
    const [kappa, xi, m, slope] = numbersOf(row);
    const found = followBranch(Float64Array.of(xi), { kappa });
    const where = `kappa ${kappa}, xi ${xi}`;
    return [relative(`M at ${where}`, found.magnetisation[0], m), relative(`slope at ${where}`, found.slope[0], slope)];
  });
}

/** Log-normal sizes; truth counts fields in units of the median core's kB T / m. */
export function ensembleErrors(): Comparison[] {
  const [median_m, saturation_A_per_m, temperature_K] = [20e-9, 446e3, 300];
  const sizes = { kind: "lognormal", weighting: "number", medianDiameter_m: median_m, logSd: 0.25 } as const;
  const nodes = ensembleNodes({ sizes, saturation_A_per_m, temperature_K }, 3);
  const unit_T = 1 / xiPerTesla(median_m, saturation_A_per_m, temperature_K);
  return rowsOf("log-normal 0.25: kappa, branch, b, M").map(([kappa, branch, b, expected]) => {
    const options = { kappa: Number(kappa), branch: branch as ChainBranch };
    const { magnetisation } = chainMagnetisation(Float64Array.of(Number(b) * unit_T), nodes, options);
    return relative(`kappa ${kappa}, ${branch}, b ${b}`, magnetisation[0], Number(expected));
  });
}

/** Absolute errors of M/Ms: the largest of 16 samples of each periodic state. */
export function dynamicsErrors(): Comparison[] {
  const nodes = { xiPerTesla: Float64Array.of(1000), weight: Float64Array.of(1) };
  return rowsOf("dynamics: kappa, omega tau, xi0, wave, start, M at 16 even times").map((row) => {
    const [kappa, omegaTau, xi0] = numbersOf(row.slice(0, 3));
    const drive = (row[3] === "cosine" ? cosineDrive : triangleDrive)(xi0 / 1000, 25e3);
    const { magnetisation } = meanFieldDynamics(drive, nodes, {
      kappa,
      relaxationTime_s: omegaTau / (2 * Math.PI * 25e3),
      samples: 16,
      start: row[4] === 1 ? "upper" : "lower",
    });
    const where = `kappa ${kappa}, omega tau ${omegaTau}, xi0 ${xi0}, ${row[3]}, from ${row[4]}`;
    const each = numbersOf(row[5]).map((expected, i) => absolute(where, magnetisation[i], expected));
    return each.reduce((worst, one) => (one.error >= worst.error ? one : worst));
  });
}

/** Figures printed in our references (facts C3 to C11, W22, W23), with half a unit of the last digit. */
export function publishedErrors(): (Comparison & { readonly halfUnit: number })[] {
  const rows: (Comparison & { readonly halfUnit: number })[] = [];
  const add = (what: string, found: number, expected: number, halfUnit = halfUnitOf(expected)) =>
    rows.push({ ...absolute(what, found, expected), halfUnit });
  const pairs = (name: string) => (published(name) as readonly unknown[]).map(numbersOf);
  const one = (name: string) => Number(published(name));

  const moment_A_m2 = coreMoment_A_m2(25e-9, 446e3);
  add(
    "C3 axis field, mT",
    1e3 * dipoleField_T(moment_A_m2, 50e-9).onAxis,
    one("C3: field on axis at 50 nm, 25 nm core, 446 kA/m (mT)"),
  );
  add("C4 zeta(3)", zetaOfThree, one("C4: zeta(3)"));
  const touching = { moment_A_m2, spacing_m: 25e-9 };
  const inMs = chainField_T(touching) / (vacuumPermeability_T_m_per_A * 446e3);
  add("C4 touching spheres, Ms", inMs, one("C4: touching spheres, H_chain / Ms"));
  add("C4 touching spheres, mT", 1e3 * chainField_T(touching), one("C4: touching spheres at 446 kA/m (mT)"));
  const nearest_T = chainField_T(touching, { perSide: 1 });
  add("C4 two nearest, mT", 1e3 * nearest_T, one("C4: two nearest only at 446 kA/m (mT)"));

  for (const [kappa, width] of pairs("C7: kappa, width")) add(`C7 width ${kappa}`, meanFieldWidth(kappa), width);
  for (const [kappa, gain] of pairs("C7: kappa, gain")) add(`C7 gain ${kappa}`, meanFieldPeakGain(kappa), gain, exact);
  for (const [kappa, xi] of pairs("C8: kappa, xi_c")) add(`C8 xi_c ${kappa}`, spinodal(kappa)?.coerciveXi ?? 0, xi);
  for (const [kappa, m] of pairs("C9: kappa, M_r")) add(`C9 M_r ${kappa}`, remanence(kappa), m);
  for (const [kappa, before, after] of pairs("C10: kappa, before, after")) {
    add(`C10 before ${kappa}`, spinodal(kappa)?.before ?? 0, before);
    add(`C10 after ${kappa}`, spinodal(kappa)?.after ?? 0, after);
  }

  const spaced = { moment_A_m2: coreMoment_A_m2(20e-9, 446e3), spacing_m: 24e-9 };
  const kappa = geometricCoupling(spaced, 300);
  const xi_c = spinodal(kappa)?.coerciveXi ?? 0;
  const c11 = [dipolarCoupling(spaced, 300), kappa, xi_c, (1e3 * xi_c) / xiPerTesla(20e-9, 446e3, 300)];
  numbersOf(published("C11: 20 nm, 446 kA/m, gap 4 nm, 300 K: lambda, kappa, xi_c, mT")).forEach((expected, i) => {
    add(`C11 ${["lambda", "kappa", "xi_c", "mT"][i]}`, c11[i], expected);
  });
  const [w22Width, w22Peak] = numbersOf(published("W22: kappa 2: width, peak"));
  add("W22 width", meanFieldWidth(2), w22Width);
  add("W22 peak", followBranch(Float64Array.of(0), { kappa: 2 }).slope[0], w22Peak, exact);
  const w23 = [spinodal(6)?.localXi ?? 0, spinodal(6)?.coerciveXi ?? 0, remanence(6)];
  numbersOf(published("W23: kappa 6: u*, xi_c, M_r")).forEach((expected, i) => {
    add(`W23 ${["u*", "xi_c", "M_r"][i]}`, w23[i], expected);
  });
  return rows;
}

/** Bond of two neighbours head to tail and side by side, over lambda kB T (trap 7: 2, not 1). */
export function bondOverLambda(): { readonly headToTail: number; readonly sideBySide: number } {
  const chain = { moment_A_m2: 2e-18, spacing_m: 24e-9 };
  const lambda_J = dipolarCoupling(chain, 300) * boltzmannConstant_J_per_K * 300;
  const field = dipoleField_T(chain.moment_A_m2, chain.spacing_m);
  return {
    headToTail: (chain.moment_A_m2 * field.onAxis) / lambda_J,
    sideBySide: (chain.moment_A_m2 * -field.atSide) / lambda_J,
  };
}

/** Where the printed figure is exact: only rounding is left (1/(3 - 2.9) magnifies it thirtyfold). */
const exact = 1e-12;

/** Half a unit of the last digit that a number was printed with, a trailing zero not counted. */
function halfUnitOf(value: number): number {
  const [, decimals = ""] = String(value).split(".");
  return 0.5 * 10 ** -decimals.length;
}
