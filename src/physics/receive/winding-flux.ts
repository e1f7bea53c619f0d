import { FerruleError } from "../../errors.js";
import { gaussLegendre } from "../../numerics/index.js";
import type {
  CoilStackSource,
  CurrentSource,
  FieldFunction,
  LoopSource,
  RectangleSource,
  Vector3,
} from "../sources/source.js";
import { cross, dot, moved, scale, subtract } from "../sources/vector3.js";

/**
 * A receive coil as its windings when it carries 1 A: `current_A` of each is its number of turns, negative where it is
 * wound against the rest. The same list given to the field of sources is the coil's sensitivity, T/A.
 */
export type ReceiveWindings = readonly CurrentSource[];

/**
 * Area-turns: moment of the coil per ampere, and by reciprocity flux per tesla of a uniform field.
 *   loop N pi a^2 n;  stack N pi (a^2 + a b + b^2)/3 n, a and b its radii;  rectangle N w h n;
 *   closed path of segments (N/2) sum r_from x r_to
 *
 * @returns m2, a vector along the coil's normal
 * Valid for   segments that close (refused otherwise)
 * Source      derived. Checked by winding-flux.test.ts, checks/receive-chain (3.948 V in a 20 mm loop)
 */
export function areaTurns_m2(windings: ReceiveWindings): Vector3 {
  requireWindings(windings);
  return addUp(windings, (winding) => scale(vectorArea_m2(winding), winding.current_A));
}

/**
 * Flux that a linear field mu0*H = G r sends through the windings, Wb. G is traceless, as in free space.
 * Flat windings: area-turns . G c, c the centre. Segments: sum (N/2) (r1 x r2) . G (r1 + r2)/3, the cone over the path.
 *
 * @param gradient_T_per_m  [9] row-major
 * Source      derived. Checked by winding-flux.test.ts
 */
export function gradientFlux_Wb(windings: ReceiveWindings, gradient_T_per_m: Float64Array): number {
  requireWindings(windings);
  const g = gradient_T_per_m;
  const fieldAt = ([x, y, z]: Vector3): Vector3 => [
    g[0] * x + g[1] * y + g[2] * z,
    g[3] * x + g[4] * y + g[5] * z,
    g[6] * x + g[7] * y + g[8] * z,
  ];
  return windings.reduce((sum, winding) => {
    const centroid =
      winding.kind === "segment" ? scale(moved(winding.from_m, winding.to_m, 1), 1 / 3) : winding.center_m;
    return sum + winding.current_A * dot(vectorArea_m2(winding), fieldAt(centroid));
  }, 0);
}

/**
 * Flux linkage of an arbitrary field, by quadrature over the surface of every winding:
 *   Phi = sum N int mu0*H . n dA
 * The field of a drive coil at 1 A gives the mutual inductance M, H. Discs: Gauss over the radius, equal steps around;
 * rectangles: Gauss both ways; stacks: Gauss along too, and a ring inside the winding counts for the turns beyond it.
 *
 * @param options.nodes  Gauss points per direction (twice as many around)
 *
 * Valid for   fields that are smooth on the surfaces: no conductor of the field's own coil on them. 24 nodes: 1e-14 for
 *             coaxial loops half a radius apart, 5e-10 a tenth of a radius apart (measured).
 * Source      definition. Checked by checks/receive-chain (Maxwell's elliptic form)
 */
export function fluxLinkage_Wb(
  windings: ReceiveWindings,
  field: FieldFunction,
  { nodes = 24 }: { nodes?: number } = {},
): number {
  requireWindings(windings);
  return windings.reduce((sum, winding) => sum + winding.current_A * surfaceFlux_Wb(winding, field, nodes), 0);
}

/** Flux through one winding at one turn. */
function surfaceFlux_Wb(winding: CurrentSource, field: FieldFunction, nodes: number): number {
  if (winding.kind === "segment")
    throw new FerruleError("InvalidValue", {
      path: "windings",
      found: "a segment, which has no surface of its own",
      accepted: "loops, coil stacks or rectangles",
    });
  const { points_m, weight_m2, normal } =
    winding.kind === "rectangle" ? rectangleSurface(winding, nodes) : roundSurface(winding, nodes);
  const values = field(points_m);
  return weight_m2.reduce(
    (sum, w, i) =>
      sum + w * (values[3 * i] * normal[0] + values[3 * i + 1] * normal[1] + values[3 * i + 2] * normal[2]),
    0,
  );
}

interface Surface {
  readonly points_m: Float64Array;
  readonly weight_m2: Float64Array;
  readonly normal: Vector3;
}

function rectangleSurface({ center_m, normal, edge, size_m }: RectangleSource, nodes: number): Surface {
  const across = cross(normal, edge);
  const u = gaussLegendre(nodes, { interval: [-size_m[0] / 2, size_m[0] / 2] });
  const v = gaussLegendre(nodes, { interval: [-size_m[1] / 2, size_m[1] / 2] });
  const points: number[] = [];
  const weights: number[] = [];
  u.nodes.forEach((a, i) => {
    v.nodes.forEach((b, j) => {
      for (let k = 0; k < 3; k++) points.push(center_m[k] + a * edge[k] + b * across[k]);
      weights.push(u.weights[i] * v.weights[j]);
    });
  });
  return { points_m: Float64Array.from(points), weight_m2: Float64Array.from(weights), normal };
}

/** Disc of a loop, or the stacked discs of a winding with a section. Every stack node carries the mean over its turns. */
function roundSurface(winding: LoopSource | CoilStackSource, nodes: number): Surface {
  const { center_m, normal } = winding;
  const [inner, outer, length] =
    winding.kind === "loop"
      ? [winding.radius_m, winding.radius_m, 0]
      : [winding.innerRadius_m, winding.outerRadius_m, winding.length_m];
  const first = perpendicular(normal);
  const second = cross(normal, first);
  const layers =
    length > 0 ? gaussLegendre(nodes, { interval: [-length / 2, length / 2] }) : { nodes: [0], weights: [1] };
  const rings = [...radialRule([0, inner], nodes), ...(outer > inner ? radialRule([inner, outer], nodes) : [])];
  const turns = 2 * nodes;
  const points: number[] = [];
  const weights: number[] = [];
  layers.nodes.forEach((z, i) => {
    const layer = length > 0 ? layers.weights[i] / length : 1;
    for (const { radius, weight } of rings) {
      const beyond = radius < inner ? 1 : (outer - radius) / (outer - inner);
      for (let t = 0; t < turns; t++) {
        const angle = (2 * Math.PI * t) / turns;
        const [c, s] = [radius * Math.cos(angle), radius * Math.sin(angle)];
        for (let k = 0; k < 3; k++) points.push(center_m[k] + z * normal[k] + c * first[k] + s * second[k]);
        weights.push((layer * beyond * 2 * Math.PI * radius * weight) / turns);
      }
    }
  });
  return { points_m: Float64Array.from(points), weight_m2: Float64Array.from(weights), normal };
}

function radialRule(interval: readonly [number, number], nodes: number): { radius: number; weight: number }[] {
  const rule = gaussLegendre(nodes, { interval });
  return Array.from(rule.nodes, (radius, i) => ({ radius, weight: rule.weights[i] }));
}

/** Vector area of one turn; for a segment its share of a closed path, taken about the origin. */
function vectorArea_m2(winding: CurrentSource): Vector3 {
  switch (winding.kind) {
    case "loop":
      return scale(winding.normal, Math.PI * winding.radius_m ** 2);
    case "coil-stack": {
      const { innerRadius_m: a, outerRadius_m: b } = winding;
      return scale(winding.normal, (Math.PI * (a * a + a * b + b * b)) / 3);
    }
    case "rectangle":
      return scale(winding.normal, winding.size_m[0] * winding.size_m[1]);
    case "segment":
      return scale(cross(winding.from_m, winding.to_m), 1 / 2);
  }
}

/** Refuses an empty coil, windings without a number of turns, and segments that do not close. */
function requireWindings(windings: ReceiveWindings): void {
  if (windings.length === 0)
    throw new FerruleError("InvalidValue", { path: "windings", found: "none", accepted: "one winding or more" });
  windings.forEach(({ current_A }, i) => {
    if (!Number.isFinite(current_A) || current_A === 0)
      throw new FerruleError("InvalidValue", {
        path: `windings[${i}].current_A`,
        found: String(current_A),
        accepted: "the number of turns at 1 A, negative when wound against the rest, e.g. 12",
      });
  });
  const segments = windings.filter((winding) => winding.kind === "segment");
  const gap = addUp(segments, ({ from_m, to_m, current_A }) => scale(subtract(to_m, from_m), current_A));
  const path = segments.reduce(
    (sum, { from_m, to_m, current_A }) => sum + Math.abs(current_A) * Math.hypot(...subtract(to_m, from_m)),
    0,
  );
  if (Math.hypot(...gap) > 1e-9 * path)
    throw new FerruleError("InvalidValue", {
      path: "windings",
      found: `segments that leave a gap of ${Math.hypot(...gap)} A.m`,
      accepted: "segments that close, e.g. the four sides of a rectangle",
    });
}

function addUp<T>(items: readonly T[], vectorOf: (item: T) => Vector3): Vector3 {
  return items.reduce<Vector3>((sum, item) => moved(sum, vectorOf(item), 1), [0, 0, 0]);
}

/** A unit vector across a unit vector, built on the axis that is farthest from it. */
function perpendicular(normal: Vector3): Vector3 {
  const size = normal.map(Math.abs);
  const least = size.indexOf(Math.min(...size));
  const across = cross(normal, [least === 0 ? 1 : 0, least === 1 ? 1 : 0, least === 2 ? 1 : 0]);
  return scale(across, 1 / Math.hypot(...across));
}
