import { FerruleError } from "../../errors.js";
import { gaussLegendre } from "../../numerics/index.js";
import type { FieldFunction } from "../sources/source.js";
import { acrossTo, cross, moved } from "../sources/vector3.js";
import type { Coil, Winding } from "./winding.js";

/**
 * Root mean square over each winding's metal of the field across its wire, T for the current that makes the field
 * (T/A for a field per ampere): the input of proximity losses, `ResistanceOptions.ownField_T_per_A`.
 *   ⟨B²⟩ = ∫ (|B|² − (B·t)²) dV / V,  t along the wire
 *
 * @param field  of the whole coil for 1 A, right inside its windings, e.g. the field of `sourcesOfCoil(coil, 1)`
 * @param options.nodes  Gauss-Legendre nodes over radius and over length
 * @param options.around  points around the axis; a coil about one axis needs but one
 *
 * Valid for   coil stacks with a width. Loops and rectangles are filaments, whose own field has no mean: refused.
 * Source      definition
 * Checked by  own-field.test.ts (endless winding, closed form)
 */
export function ownField_T_per_A(
  { windings }: Coil,
  field: FieldFunction,
  { nodes = 8, around = 16 }: { nodes?: number; around?: number } = {},
): number[] {
  return windings.map((winding) => Math.sqrt(meanSquareAcross(winding, field, { nodes, around })));
}

function meanSquareAcross(
  { shape }: Winding,
  field: FieldFunction,
  { nodes, around }: { nodes: number; around: number },
): number {
  if (shape.kind !== "coil-stack" || shape.outerRadius_m === shape.innerRadius_m)
    throw new FerruleError("InvalidValue", {
      path: "windings",
      found: shape.kind === "coil-stack" ? "a thin sheet" : `a ${shape.kind}`,
      accepted: "coil stacks whose outer radius is above the inner one",
    });
  const { center_m, normal, innerRadius_m: inner, outerRadius_m: outer, length_m } = shape;
  const rule = gaussLegendre(nodes, { interval: [0, 1] });
  const [u, v] = [acrossTo(normal), cross(normal, acrossTo(normal))];
  const points: number[] = [];
  const tangents: number[] = [];
  const weights: number[] = [];
  for (let i = 0; i < nodes; i++)
    for (let j = 0; j < nodes; j++)
      for (let k = 0; k < around; k++) {
        const radius = inner + rule.nodes[i] * (outer - inner);
        const [c, s] = [Math.cos((2 * Math.PI * k) / around), Math.sin((2 * Math.PI * k) / around)];
        const middle = moved(center_m, normal, (rule.nodes[j] - 0.5) * length_m);
        points.push(...moved(moved(middle, u, radius * c), v, radius * s));
        tangents.push(...moved([-s * u[0], -s * u[1], -s * u[2]], v, c));
        // The ring at a radius holds metal in proportion to it.
        weights.push(rule.weights[i] * rule.weights[j] * radius);
      }
  const b = field(Float64Array.from(points));
  const total = weights.reduce((sum, weight, n) => {
    const at = 3 * n;
    const square = b[at] ** 2 + b[at + 1] ** 2 + b[at + 2] ** 2;
    const lengthwise = b[at] * tangents[at] + b[at + 1] * tangents[at + 1] + b[at + 2] * tangents[at + 2];
    return sum + weight * (square - lengthwise ** 2);
  }, 0);
  return total / weights.reduce((sum, weight) => sum + weight, 0);
}
