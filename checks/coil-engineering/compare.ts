import { readFileSync } from "node:fs";
import { type CoaxialSection, coaxialInductance_H } from "../../src/physics/coils/coaxial-inductance.js";
import { conductorMaterials } from "../../src/physics/coils/conductors.js";
import { mutualInductance_H, selfInductance_H } from "../../src/physics/coils/inductance.js";
import { loopFlux_H } from "../../src/physics/coils/loop-flux.js";
import { skinEffect, strandEddyLoss_W } from "../../src/physics/coils/skin-effect.js";
import type { Winding, WindingShape } from "../../src/physics/coils/winding.js";
import {
  nagaokaCoefficient,
  rectangleInductance_H,
  ringInductance_H,
  sheetInductance_H,
} from "../../src/physics/coils/wire-inductance.js";
import { vacuumPermeability_T_m_per_A as mu0 } from "../../src/units/index.js";

/** Shared by the gate and the meter: relative errors of the coil engineering against `truth.json`. */
type Row = readonly unknown[];
const truth: Record<string, readonly Row[]> = JSON.parse(
  readFileSync(new URL("./truth.json", import.meta.url), "utf8"),
);

export interface Comparison {
  readonly quantity: string;
  readonly at: string;
  readonly relativeError: number;
}

export function skinErrors(): Comparison[] {
  return rows("skin: a/delta, R/R0, L/L0").flatMap(([q, resistance, inductance]) => {
    const found = skinEffect(Number(q) * 4e-4, 4e-4);
    return [
      compare("skin resistance", q, found.resistanceRatio / Number(resistance)),
      compare("skin inductance", q, found.internalInductanceRatio / Number(inductance)),
    ];
  });
}

/** The law of thin strands over the exact loss, by a/delta: how far the law may be used. */
export function strandRatios(): (readonly [radiusOverDepth: number, ratio: number])[] {
  return rows("strand across 1 mT at 25 kHz: a/delta, a, loss in W/m").map(([q, radius, loss]) => {
    const law = strandEddyLoss_W({
      strandDiameter_m: 2 * Number(radius),
      frequency_Hz: 25e3,
      resistivity_Ohm_m: 1.7241e-8,
      meanSquareField_T2: 1e-6,
      metalVolume_m3: Math.PI * Number(radius) ** 2,
    });
    return [Number(q), law / Number(loss)];
  });
}

export function loopErrors(): Comparison[] {
  return rows("loops: r1, r2, z, M/mu0").map(([a, b, z, flux]) =>
    compare("two loops", [a, b, z], loopFlux_H(Number(a), Number(b), Number(z)) / mu0 / Number(flux)),
  );
}

export function sheetErrors(): Comparison[] {
  return rows("sheet (Lorenz): a, l, L/mu0").map(([a, l, value]) =>
    compare("sheet", [a, l], sheetInductance_H(Number(a), Number(l)) / mu0 / Number(value)),
  );
}

export function stackErrors(): Comparison[] {
  return (rows("stack (wave numbers): inner, outer, length, L/mu0") as [number, number, number, string][]).map(
    ([inner, outer, length, value]) => {
      const section = { innerRadius_m: inner, outerRadius_m: outer, from_m: 0.3, to_m: 0.3 + length };
      return compare("stack", [inner, outer, length], coaxialInductance_H(section, section) / mu0 / Number(value));
    },
  );
}

export function coaxialErrors(): Comparison[] {
  return (rows("coaxial (wave numbers): section, section, M/mu0") as [Ends, Ends, string][]).map(([a, b, value]) =>
    compare("coaxial", [a, b], coaxialInductance_H(sectionOf(a), sectionOf(b)) / mu0 / Number(value)),
  );
}

export function ringErrors(): Comparison[] {
  return rows("ring of round section: r/a, L/(mu0 a)").map(([q, value]) =>
    compare("ring", q, ringInductance_H(0.2, 0.2 * Number(q)) / mu0 / 0.2 / Number(value)),
  );
}

export function rectangleErrors(): Comparison[] {
  return rows("rectangle of round wire: a, b, r, L/mu0").map(([a, b, r, value]) =>
    compare("rectangle", [a, b, r], rectangleInductance_H([Number(a), Number(b)], Number(r)) / mu0 / Number(value)),
  );
}

/** Windings of one turn in any position; the double sums know nothing of the closed forms used by the program. */
export function placedErrors(): Comparison[] {
  return (rows("any position (double sums): shape, shape, M/mu0") as [WindingShape, WindingShape, string][]).map(
    ([a, b, value]) =>
      compare(
        "any position",
        `${a.kind} and ${b.kind} at ${b.center_m}`,
        mutualInductance_H(windingOf(a), windingOf(b)) / mu0 / Number(value),
      ),
  );
}

/** Axes that are parallel at a distance: Neumann's integral against wave numbers. */
export function parallelErrors(): Comparison[] {
  const name = "parallel axes (wave numbers): section, section, distance, M/mu0";
  return (rows(name) as [Ends, Ends, number, string][]).map(([a, b, distance, value]) => {
    const [one, other] = [shapeOf(a, 0), shapeOf(b, distance)].map((shape) => windingOf(shape));
    return compare("parallel axes", [a, b, distance], mutualInductance_H(one, other) / mu0 / Number(value));
  });
}

/** Nagaoka's coefficient by diameter over length, and the Brooks coil; published, from memory. */
export function publishedErrors(): Comparison[] {
  const nagaoka: (readonly [number, number])[] = [
    [0.2, 0.920093],
    [0.5, 0.818136],
    [1, 0.688423],
    [2, 0.52551],
    [5, 0.319825],
  ];
  // Square section of side c, inner radius c: 1.6994e-6 times the mean radius 3c/2, per turn squared.
  const c = 0.04;
  const brooks = selfInductance_H(
    windingOf({ ...frame, kind: "coil-stack", innerRadius_m: c, outerRadius_m: 2 * c, length_m: c }),
  );
  return [
    ...nagaoka.map(([ratio, value]) => compare("Nagaoka", ratio, nagaokaCoefficient(ratio / 2, 1) / value)),
    compare("Brooks", c, brooks / (1.6994e-6 * 1.5 * c)),
    // A square of wire: 8e-7 a (ln(a/r) - 0.52401).
    compare("square", "a/r 1e4", rectangleInductance_H([1, 1], 1e-4) / (8e-7 * (Math.log(1e4) - 0.52401))),
  ];
}

export const frame = { center_m: [0, 0, 0], normal: [0, 0, 1] } as const;

/** One turn of copper. */
export function windingOf(shape: WindingShape, changes: Partial<Winding> = {}): Winding {
  return {
    shape,
    turns: 1,
    material: conductorMaterials.copper,
    conductor: { metalArea_m2: 1e-8 },
    bundleRadius_m: 1e-4,
    ...changes,
  };
}

type Ends = readonly [inner: number, outer: number, from: number, to: number];

function sectionOf([innerRadius_m, outerRadius_m, from_m, to_m]: Ends): CoaxialSection {
  return { innerRadius_m, outerRadius_m, from_m, to_m };
}

function shapeOf([inner, outer, from, to]: Ends, x: number): WindingShape {
  const place = { center_m: [x, 0, (from + to) / 2], normal: [0, 0, 1] } as const;
  if (inner === outer) return { ...place, kind: "loop", radius_m: inner };
  return { ...place, kind: "coil-stack", innerRadius_m: inner, outerRadius_m: outer, length_m: to - from };
}

function rows(name: string): readonly Row[] {
  const found = truth[name];
  if (found === undefined) throw new Error(`truth.json has no table "${name}"`);
  return found;
}

function compare(quantity: string, at: unknown, ratio: number): Comparison {
  return { quantity, at: JSON.stringify(at), relativeError: Math.abs(ratio - 1) };
}
