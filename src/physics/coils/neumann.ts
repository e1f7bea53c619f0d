import { FerruleError } from "../../errors.js";
import { gaussLegendre } from "../../numerics/index.js";
import type { Vector3 } from "../sources/source.js";
import { acrossTo, cross, moved } from "../sources/vector3.js";
import {
  type Filament,
  filamentsOf,
  type Part,
  type Polygon,
  potentialPerAmpere,
  type Ring,
  type Sheet,
  sheetsOf,
} from "./filaments.js";
import type { WindingShape } from "./winding.js";

/** A line integral, and the same of absolute values: what rounding and stopping are measured by. */
interface Flux {
  readonly value: number;
  readonly scale: number;
}

/**
 * Mutual inductance of two windings in any position, per turn of each, H.
 *   M = ∮ A₁·dl₂ (Neumann's integral, the inner one in closed form), averaged over both sections
 * Rings by the trapezoid rule, doubled until still; edges by Gauss-Legendre on halved pieces; sections by 3 and 6
 * nodes each way, then, for close windings, by sheets whose potential has a closed form, against ever more rings; until
 * the average moves by less than 1e-6 of the integral of absolute values (the last set is then far better than that).
 *
 * Valid for   windings that do not touch. Error 1e-7 of the integral of absolute values (measured 2e-8 of the value at
 *             worst, gaps down to an eighth of a section's width). Where the integral does not settle, as for crossing
 *             windings, it is refused. Two thick stacks a few millimetres apart take 0.3 s.
 * Source      Neumann; textbooks (from memory)
 * Checked by  checks/coil-engineering (double sums over both paths)
 */
export function neumannInductance_H(a: WindingShape, b: WindingShape): number {
  // The path is walked along the simpler winding; the other gives the potential.
  const [walked, source] = rank(a) < rank(b) ? [a, b] : [b, a];
  const first = average(partsOf(walked, 3, 3), partsOf(source, 3, 3));
  if (source.kind !== "coil-stack") return first.value;
  let before = average(partsOf(walked, 6, 6), partsOf(source, 6, 6));
  if (isStill(before, first)) return before.value;
  for (const nodes of [4, 8, 12, 16]) {
    const now = average(partsOf(walked, nodes, 3 * nodes), sheetsOf(source, nodes));
    if (isStill(now, before)) return now.value;
    before = now;
  }
  return refuseContact();
}

const rank = ({ kind }: WindingShape): number => ["rectangle", "loop", "coil-stack"].indexOf(kind);
const partsOf = (shape: WindingShape, radial: number, axial: number) => filamentsOf(shape, { radial, axial });
const isStill = (now: Flux, before: Flux) => Math.abs(now.value - before.value) <= 1e-6 * now.scale;

function average(paths: readonly Part<Filament>[], sources: readonly Part<Filament | Sheet>[]): Flux {
  let value = 0;
  let scale = 0;
  for (const { part: path, weight } of paths)
    for (const { part: source, weight: share } of sources) {
      const flux = path.kind === "ring" ? fluxThroughRing(source, path) : fluxThroughPolygon(source, path);
      value += weight * share * flux.value;
      scale += weight * share * flux.scale;
    }
  return { value, scale };
}

function fluxThroughRing(source: Filament | Sheet, { center_m, normal, radius_m }: Ring): Flux {
  const u = acrossTo(normal);
  const v = cross(normal, u);
  const step = (angle: number): Flux => {
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    const point = moved(moved(center_m, u, radius_m * c), v, radius_m * s);
    return product(potentialPerAmpere(source, point), moved([-s * u[0], -s * u[1], -s * u[2]], v, c));
  };
  const mean = (n: number, offset: number) => {
    let [value, scale] = [0, 0];
    for (let i = 0; i < n; i++) {
      const part = step((2 * Math.PI * (i + offset)) / n);
      value += part.value / n;
      scale += part.scale / n;
    }
    return { value, scale };
  };
  const circle = 2 * Math.PI * radius_m;
  let before = mean(8, 0);
  for (let n = 8; n <= 4096; n *= 2) {
    const between = mean(n, 0.5);
    const now = { value: (before.value + between.value) / 2, scale: (before.scale + between.scale) / 2 };
    // The rule converges exponentially: the next doubling would change the square of this.
    if (Math.abs(now.value - before.value) <= 1e-6 * now.scale && n >= 16)
      return { value: circle * now.value, scale: circle * now.scale };
    before = now;
  }
  return refuseContact();
}

const coarse = gaussLegendre(8, { interval: [0, 1] });
const fine = gaussLegendre(16, { interval: [0, 1] });

function fluxThroughPolygon(source: Filament | Sheet, { corners_m }: Polygon): Flux {
  let value = 0;
  let scale = 0;
  corners_m.forEach((from, i) => {
    const side = moved(corners_m[(i + 1) % corners_m.length], from, -1);
    const over = (rule: typeof fine, a: number, b: number): Flux => {
      let sum: Flux = { value: 0, scale: 0 };
      for (let k = 0; k < rule.nodes.length; k++) {
        const part = product(potentialPerAmpere(source, moved(from, side, a + (b - a) * rule.nodes[k])), side);
        const w = (b - a) * rule.weights[k];
        sum = { value: sum.value + w * part.value, scale: sum.scale + w * part.scale };
      }
      return sum;
    };
    const piece = (a: number, b: number): void => {
      const now = over(fine, a, b);
      // Sixteen nodes do about the square of what eight leave open.
      if (Math.abs(now.value - over(coarse, a, b).value) > 1e-6 * now.scale) {
        if (b - a < 1e-6) refuseContact();
        piece(a, (a + b) / 2);
        piece((a + b) / 2, b);
        return;
      }
      value += now.value;
      scale += now.scale;
    };
    piece(0, 1);
  });
  return { value, scale };
}

/** A·dl, and |A|·|dl|. */
function product(a: Vector3, dl: Vector3): Flux {
  return { value: a[0] * dl[0] + a[1] * dl[1] + a[2] * dl[2], scale: Math.hypot(...a) * Math.hypot(...dl) };
}

function refuseContact(): never {
  throw new FerruleError("InvalidValue", {
    path: "windings",
    found: "two windings that touch or cross, so that their mutual inductance does not settle",
    accepted: "windings with a gap between them, e.g. 1 mm",
  });
}
