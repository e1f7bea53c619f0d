import { z } from "zod";
import { directionField } from "../fields/direction-field.js";
import { quantity } from "../fields/quantity-field.js";
import { refuse } from "../fields/refuse.js";
import { extentField, positionField } from "../fields/vector-field.js";
import { mm, refuseSlant } from "./winding-field.js";

const length = (description: string, example: string) =>
  quantity("length", { description, example, positive: true, max: "10 m" });

const remanence = () =>
  quantity("appliedField", {
    description: "mu0*M of the magnet material, uniform",
    example: "1.3 T",
    positive: true,
    max: "3 T",
  });

const place = () => positionField("centre x, y, z, from the scanner's origin");

const polesField = () => z.literal([2, 4]).meta({ description: "2: uniform field (dipole); 4: gradient (quadrupole)" });

const referenceField = () =>
  directionField("across the axis: along it the dipole's field points, or the quadrupole's gradient is positive");

const ringFields = {
  center: place(),
  axis: directionField("axis of the ring"),
  innerRadius: length("inner radius", "60 mm"),
  outerRadius: length("outer radius", "110 mm"),
  length: length("length along the axis", "80 mm"),
  remanence: remanence(),
};

const refuseFlatRing = (
  { innerRadius, outerRadius }: { readonly innerRadius: number; readonly outerRadius: number },
  sink: z.core.$RefinementCtx,
): void => {
  if (outerRadius > innerRadius) return;
  refuse(sink, ["outerRadius"], {
    found: `${mm(outerRadius)} outside, ${mm(innerRadius)} inside`,
    accepted: "an outer radius above the inner one",
  });
};

/** Fewer magnets than p/2 + 3 make other fields than the one asked for. */
const refuseFewSegments = (
  { poles, segments, field }: { readonly poles: 2 | 4; readonly segments: number; readonly field: string },
  sink: z.core.$RefinementCtx,
): void => {
  const fewest = poles / 2 + 3;
  if (segments >= fewest) return;
  refuse(sink, [field], { found: `${segments} ${field} for ${poles} poles`, accepted: `at least ${fewest}` });
};

/** A magnet of uniformly magnetised parts. */
export const magnetField = z
  .discriminatedUnion("kind", [
    z.strictObject({
      kind: z.literal("block"),
      center: place(),
      size: extentField("edge lengths along x, y, z"),
      magnetisation: directionField("direction of the magnetisation"),
      remanence: remanence(),
    }),
    z
      .strictObject({
        kind: z.literal("ring"),
        ...ringFields,
        sense: z.literal([1, -1]).meta({ description: "1: magnetised along +axis; -1: against it" }),
      })
      .superRefine(refuseFlatRing),
    z
      .strictObject({
        kind: z.literal("halbach"),
        ...ringFields,
        poles: polesField(),
        segments: z
          .int()
          .min(4)
          .max(128)
          .meta({ description: "equal sectors of the ring", examples: [16] }),
        reference: referenceField(),
      })
      .superRefine((ring, sink) => {
        refuseFlatRing(ring, sink);
        refuseFewSegments({ ...ring, field: "segments" }, sink);
        refuseSlant(sink, ["reference"], { axis: ring.axis, across: ring.reference });
      }),
    z
      .strictObject({
        kind: z.literal("halbach-blocks"),
        center: place(),
        axis: directionField("axis of the ring"),
        ringRadius: length("radius of the circle of the blocks' centres", "90 mm"),
        blockSize: extentField("edges of a block: along the radius, around, along the axis"),
        turn: z
          .enum(["radius", "magnetisation"])
          .meta({ description: "along what the first edge of each block lies; the radius when absent" })
          .optional(),
        remanence: remanence(),
        poles: polesField(),
        blocks: z
          .int()
          .min(4)
          .max(512)
          .meta({ description: "equal blocks on the circle", examples: [16] }),
        reference: referenceField(),
      })
      .superRefine((ring, sink) => {
        refuseFewSegments({ poles: ring.poles, segments: ring.blocks, field: "blocks" }, sink);
        refuseSlant(sink, ["reference"], { axis: ring.axis, across: ring.reference });
      }),
  ])
  .meta({ description: "block, axially magnetised ring, Halbach ring of sectors or of blocks" });

export type ParsedMagnet = z.output<typeof magnetField>;
