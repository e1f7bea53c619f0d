import { describe, expect, it } from "vitest";
import { fitACurve } from "./fit-a-curve.js";
import { howStrongAGradient } from "./how-strong-a-gradient.js";
import { langevinWidth } from "./langevin-width.js";
import { unitsAtTheEdge } from "./units-at-the-edge.js";

/** What a story prints, and what it returns. */
function told<T>(story: (print: (line: string) => void) => T): { result: T; lines: string[] } {
  const lines: string[] = [];
  return { result: story((line) => lines.push(line)), lines };
}

describe("the examples", () => {
  it("langevin-width prints the handbook's worked width with its uncertainty", () => {
    const { result, lines } = told(langevinWidth);
    // 0.674770 mm: fact sheet, row W6, six digits; 6 % of it: three times 0.5/25.
    expect(Math.abs(result.width_m / 0.67477e-3 - 1)).toBeLessThan(1e-6);
    expect(result.widthUncertainty_m / result.width_m).toBeCloseTo(0.06, 12);
    expect(lines[0]).toBe("static width along the drive: 675 ± 40 µm (k = 1)");
  });

  it("fit-a-curve prints diameter and width with their uncertainties, and the gravest caution first", () => {
    const { result, lines } = told(fitACurve);
    expect(lines.filter((line) => line.includes("±"))).toHaveLength(3);
    expect(result.fit.advisories[0].code).toBe("sigma-not-independent-noise");
    // The pair is anti-correlated and both narrow the response: together they are better known than as independents.
    expect(result.uncertainty_m).toBeLessThan(0.5 * result.naive_m);
    expect(result.uncertainty_m).toBeGreaterThan(0);
  });

  it("how-strong-a-gradient: 1 mm is within a mouse coil's power but not its current, and far beyond a head coil's", () => {
    const { result, lines } = told(howStrongAGradient);
    const [mouse, head, coarse] = result;
    expect(lines.filter((line) => line.includes("±"))).toHaveLength(7);
    // 1 mm asks for the width in mT as the gradient in T/m, whatever the bore; ten times coarser for a hundredth of the power.
    expect(head.gradient_T_per_m).toBe(mouse.gradient_T_per_m);
    expect(coarse.gradient_T_per_m / head.gradient_T_per_m).toBeCloseTo(0.1, 12);
    expect(coarse.needed_W / head.needed_W).toBeCloseTo(0.01, 12);
    // Median and log-sd are anti-correlated: less than the 4.1 % that 0.3 nm of 22 nm alone would make (3 u(d)/d).
    expect(mouse.uncertainty_T_per_m / mouse.gradient_T_per_m).toBeLessThan(0.041);
    expect(mouse.uncertainty_T_per_m / mouse.gradient_T_per_m).toBeGreaterThan(0.01);
    expect(mouse.needed_W).toBeLessThan(mouse.supply_W);
    expect(mouse.needed_A).toBeGreaterThan(mouse.limit_A);
    expect(coarse.needed_A / head.needed_A).toBeCloseTo(0.1, 12); // current as the gradient, power as its square
    expect(head.needed_W / head.supply_W).toBeGreaterThan(50);
  });

  it("units-at-the-edge reads what papers write, and refuses what two people would read differently", () => {
    const { result, lines } = told(unitsAtTheEdge);
    // 20 mT, 200 Oe (1 Oe is 0.1 mT of mu0H to 1e-9) and 15.9155 kA/m (six digits)
    expect(result.values[0]).toBe(0.02);
    expect(Math.abs(result.values[1] / 0.02 - 1)).toBeLessThan(1e-9);
    expect(Math.abs(result.values[2] / 0.02 - 1)).toBeLessThan(1e-5);
    expect(result.refusals.every((reason) => reason.length > 0)).toBe(true);
    expect(lines.at(-1)).toBe("a mass as a person reads it: 1.203 ± 0.081 µg Fe (k = 1)");
  });
});
