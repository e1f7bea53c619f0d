import { gaussLegendre } from "../../numerics/index.js";
import { loopFlux_H, loopFluxOverLength_H_m, loopFluxTwiceOverLength_H_m2 } from "./loop-flux.js";

/**
 * A winding of uniform current density about a common axis: a filament (no width, no length), a thin sheet (no width)
 * or a full section.
 */
export interface CoaxialSection {
  readonly innerRadius_m: number;
  readonly outerRadius_m: number;
  /** Along the common axis. */
  readonly from_m: number;
  readonly to_m: number;
}

/** Nodes and weights of an average over an interval; one node where the interval has no length. */
interface Average {
  readonly at: readonly number[];
  readonly weight: readonly number[];
}

const nearRule = gaussLegendre(28, { interval: [0, 1] });
const farRule = gaussLegendre(10, { interval: [0, 1] });

/**
 * Mutual inductance of two coaxial sections per turn of each, H; of a section with itself its self inductance per turn².
 *   M = ⟨⟨ M_loop(r1, r2, z1 − z2) ⟩⟩ over both sections
 * Near: both axial averages in closed form (second differences of W, or first of ∫M), the radii by Gauss-Legendre on
 * pieces that end at each other's edges; equal pieces are cut along r1 = r2, where the closed forms have a kink, and the
 * corner is drawn in by cubes. Far (gap wider than both sections): every average by ten nodes.
 *
 * Valid for   turns spread evenly over the section: separate round turns differ by a share of the order 1/turns (Rosa's
 *             correction, not included). Two filaments at one place are infinite. Relative error 1e-11 (3e-9 for a
 *             section 3000 times wider than long); below a length of 1e-3 radii rounding, 1e-16·(radius/length)², leads.
 * Source      Maxwell's loops (see `loopFlux_H`); the averages are derived
 * Checked by  checks/coil-engineering (Bessel integral over wave numbers, another method; published tables)
 */
export function coaxialInductance_H(a: CoaxialSection, b: CoaxialSection): number {
  if (isFar(a, b)) return farInductance_H(a, b);
  const axial = axialAverage(a, b);
  const piecesOfA = piecesOf(a, b);
  const piecesOfB = piecesOf(b, a);
  let total = 0;
  for (const one of piecesOfA)
    for (const other of piecesOfB) total += one.share * other.share * radialAverage(one.range, other.range, axial);
  return total;
}

function isFar(a: CoaxialSection, b: CoaxialSection): boolean {
  const axialGap = Math.max(a.from_m - b.to_m, b.from_m - a.to_m, 0);
  const radialGap = Math.max(a.innerRadius_m - b.outerRadius_m, b.innerRadius_m - a.outerRadius_m, 0);
  const widest = Math.max(...[a, b].flatMap((s) => [s.outerRadius_m - s.innerRadius_m, s.to_m - s.from_m]));
  return Math.hypot(axialGap, radialGap) > widest;
}

function farInductance_H(a: CoaxialSection, b: CoaxialSection): number {
  const [ra, rb] = [a, b].map((s) => averageOver(s.innerRadius_m, s.outerRadius_m));
  const [za, zb] = [a, b].map((s) => averageOver(s.from_m, s.to_m));
  let total = 0;
  ra.at.forEach((r1, i) => {
    rb.at.forEach((r2, j) => {
      let row = 0;
      for (let k = 0; k < za.at.length; k++)
        for (let l = 0; l < zb.at.length; l++)
          row += za.weight[k] * zb.weight[l] * loopFlux_H(r1, r2, za.at[k] - zb.at[l]);
      total += ra.weight[i] * rb.weight[j] * row;
    });
  });
  return total;
}

function averageOver(from: number, to: number): Average {
  if (from === to) return { at: [from], weight: [1] };
  return { at: Array.from(farRule.nodes, (t) => from + (to - from) * t), weight: Array.from(farRule.weights) };
}

/** M(r1, r2) averaged over both lengths. */
function axialAverage(a: CoaxialSection, b: CoaxialSection): (r1: number, r2: number) => number {
  const [la, lb] = [a.to_m - a.from_m, b.to_m - b.from_m];
  if (la === 0 && lb === 0) return (r1, r2) => loopFlux_H(r1, r2, a.from_m - b.from_m);
  if (la === 0 || lb === 0) {
    const [sheet, loop, length] = la === 0 ? [b, a, lb] : [a, b, la];
    const from = sheet.from_m - loop.from_m;
    const to = sheet.to_m - loop.from_m;
    return (r1, r2) => (loopFluxOverLength_H_m(r1, r2, to) - loopFluxOverLength_H_m(r1, r2, from)) / length;
  }
  const isSame = a.from_m === b.from_m && a.to_m === b.to_m;
  const w = loopFluxTwiceOverLength_H_m2;
  if (isSame) return (r1, r2) => (2 * (w(r1, r2, la) - w(r1, r2, 0))) / (la * lb);
  return (r1, r2) =>
    (w(r1, r2, a.to_m - b.from_m) -
      w(r1, r2, a.to_m - b.to_m) -
      w(r1, r2, a.from_m - b.from_m) +
      w(r1, r2, a.from_m - b.to_m)) /
    (la * lb);
}

type Range = readonly [number, number];

/** The radii of a section, cut where the other section begins or ends, each piece with its share of the width. */
function piecesOf(section: CoaxialSection, other: CoaxialSection): { range: Range; share: number }[] {
  const { innerRadius_m: inner, outerRadius_m: outer } = section;
  if (inner === outer) return [{ range: [inner, outer], share: 1 }];
  const cuts = [other.innerRadius_m, other.outerRadius_m].filter((r) => r > inner && r < outer);
  const ends = [...new Set([inner, ...cuts, outer])];
  return ends.slice(1).map((end, i) => ({ range: [ends[i], end], share: (end - ends[i]) / (outer - inner) }));
}

function radialAverage([a, b]: Range, [c, d]: Range, f: (r1: number, r2: number) => number): number {
  const { nodes: t, weights: w } = nearRule;
  let total = 0;
  if (a === c && b === d && b > a) {
    // ⟨f⟩ over a square from its two triangles, each r = a + x, r' = a + x·(1 − u), x = (b − a)·v³, u = t³.
    for (let i = 0; i < t.length; i++)
      for (let j = 0; j < t.length; j++) {
        const x = (b - a) * t[i] ** 3;
        const y = x * (1 - t[j] ** 3);
        total += w[i] * w[j] * 9 * t[i] ** 5 * t[j] ** 2 * (f(a + x, a + y) + f(a + y, a + x));
      }
    return total;
  }
  const ones = b > a ? w.length : 1;
  const others = d > c ? w.length : 1;
  for (let i = 0; i < ones; i++)
    for (let j = 0; j < others; j++) {
      const r1 = ones === 1 ? a : a + (b - a) * t[i];
      const r2 = others === 1 ? c : c + (d - c) * t[j];
      total += (ones === 1 ? 1 : w[i]) * (others === 1 ? 1 : w[j]) * f(r1, r2);
    }
  return total;
}
