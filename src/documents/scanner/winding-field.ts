import { z } from "zod";
import type { CurrentSource } from "../../physics/index.js";
import { directionField } from "../fields/direction-field.js";
import { quantity } from "../fields/quantity-field.js";
import { refuse } from "../fields/refuse.js";
import { positionField, type Vector3 } from "../fields/vector-field.js";
import type { DocumentPath } from "../json/document-path.js";

const place = () => positionField("centre x, y, z, from the scanner's origin");
const length = (description: string, example: string) =>
  quantity("length", { description, example, positive: true, max: "10 m" });

const turnFields = {
  turns: z.int().min(1).max(1e6).meta({ description: "turns in series" }),
  sense: z.literal([1, -1]).meta({ description: "-1: wound against the others of its coil; 1 when absent" }).optional(),
};

/** One winding of a coil; the current of the coil turns right-handed about `normal`. */
export const windingField = z
  .discriminatedUnion("kind", [
    z.strictObject({
      kind: z.literal("loop"),
      center: place(),
      normal: directionField("normal of the loop"),
      radius: length("mean radius", "30 mm"),
      ...turnFields,
    }),
    z
      .strictObject({
        kind: z.literal("stack"),
        center: place(),
        normal: directionField("axis of the winding"),
        innerRadius: length("inner radius", "60 mm"),
        outerRadius: length("outer radius; the inner one again for a single layer", "100 mm"),
        length: length("length along the axis", "50 mm"),
        ...turnFields,
      })
      .superRefine(({ innerRadius, outerRadius }, sink) => {
        if (outerRadius < innerRadius)
          refuse(sink, ["outerRadius"], {
            found: `${mm(outerRadius)}, inside the inner radius of ${mm(innerRadius)}`,
            accepted: `${mm(innerRadius)} or more`,
          });
      }),
    z
      .strictObject({
        kind: z.literal("rectangle"),
        center: place(),
        normal: directionField("normal of the loop"),
        edge: directionField("direction of the first edge, across the normal"),
        width: length("along the first edge", "80 mm"),
        height: length("along the other edge", "120 mm"),
        ...turnFields,
      })
      .superRefine(({ normal, edge }, sink) => refuseSlant(sink, ["edge"], { axis: normal, across: edge })),
    z
      .strictObject({
        kind: z.literal("path"),
        corners: z
          .array(positionField("corner x, y, z"))
          .min(3)
          .meta({ description: "corners of a closed path of straight segments, in the sense of the current" }),
        ...turnFields,
      })
      .superRefine(({ corners }, sink) => refuseRepeatedCorners(corners, sink)),
  ])
  .meta({
    description: "loop, stack (circular winding of rectangular section), rectangle, or closed path of segments",
  });

/** Two unit vectors that must stand at right angles. */
export function refuseSlant(
  sink: z.core.$RefinementCtx,
  path: DocumentPath,
  { axis, across }: { readonly axis: Vector3; readonly across: Vector3 },
): void {
  const slant = Math.abs(axis.reduce((sum, each, i) => sum + each * across[i], 0));
  if (slant <= 1e-9) return;
  refuse(sink, path, {
    found: `a direction whose cosine to (${axis.map((each) => Number(each.toPrecision(3))).join(", ")}) is ${Number(slant.toPrecision(3))}`,
    accepted: "a direction at right angles to it",
  });
}

/** A segment needs a length; the last corner is joined to the first by itself. */
function refuseRepeatedCorners(corners: readonly Vector3[], sink: z.core.$RefinementCtx): void {
  corners.forEach((corner, i) => {
    const before = corners[(i + corners.length - 1) % corners.length];
    if (corner.some((each, k) => each !== before[k])) return;
    refuse(sink, ["corners", i], {
      found: "the corner before it again",
      accepted: "corners that differ from one to the next; the path is closed without repeating the first",
    });
  });
}

export type ParsedWinding = z.output<typeof windingField>;

/** A winding as a source of one ampere in the coil: `current_A` of each source is turns times sense. */
export interface WindingModel {
  readonly turns: number;
  readonly sources: readonly CurrentSource[];
}

export function toWinding(parsed: ParsedWinding): WindingModel {
  const current_A = parsed.turns * (parsed.sense ?? 1);
  return { turns: parsed.turns, sources: sourcesOf(parsed, current_A) };
}

function sourcesOf(parsed: ParsedWinding, current_A: number): CurrentSource[] {
  switch (parsed.kind) {
    case "loop":
      return [{ kind: "loop", center_m: parsed.center, normal: parsed.normal, radius_m: parsed.radius, current_A }];
    case "stack":
      return [
        {
          kind: "coil-stack",
          center_m: parsed.center,
          normal: parsed.normal,
          innerRadius_m: parsed.innerRadius,
          outerRadius_m: parsed.outerRadius,
          length_m: parsed.length,
          current_A,
        },
      ];
    case "rectangle":
      return [
        {
          kind: "rectangle",
          center_m: parsed.center,
          normal: parsed.normal,
          edge: parsed.edge,
          size_m: [parsed.width, parsed.height],
          current_A,
        },
      ];
    case "path":
      return parsed.corners.map((from_m: Vector3, i) => ({
        kind: "segment",
        from_m,
        to_m: parsed.corners[(i + 1) % parsed.corners.length],
        current_A,
      }));
  }
}

export function mm(length_m: number): string {
  return `"${Number((length_m * 1e3).toPrecision(7))} mm"`;
}
