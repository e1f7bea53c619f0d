import { z } from "zod";

export const mapUrn = "urn:ferrule:map:1";

const count = z.int().min(1);
const length_m = z.number();
const spacing_m = z.number().positive();

/** What each kind of map may carry, in which unit, and what its numbers mean. */
export const mapKinds = {
  signal: {
    unit: "A.m2/T",
    meaning: "moment slope per voxel: shows where tracer is; claims no mass of Fe",
  },
  iron: {
    unit: "kg/m3",
    meaning:
      "voxel-mean mass concentration of Fe (1 kg/m3 = 1 mg/mL); a sum inside a contour loses what the map blurs out: take masses from the answers",
  },
} as const;

export const uncertaintyMeaning =
  "standard deviation of the unconstrained linear estimate, from coil noise in the patches only";

const common = {
  schema: z.literal(mapUrn),
  /** Arrays are [nz, ny, nx], x fastest; spacing and origin (centre of the first voxel) are x, y, z. */
  grid: z.strictObject({
    shape: z.tuple([count, count, count]).readonly(),
    spacing_m: z.tuple([spacing_m, spacing_m, spacing_m]).readonly(),
    origin_m: z.tuple([length_m, length_m, length_m]).readonly(),
  }),
};

const array = z.strictObject({ file: z.string(), meaning: z.string() });

export const mapSidecarSchema = z.discriminatedUnion("kind", [
  z.strictObject({ ...common, kind: z.literal("signal"), unit: z.literal(mapKinds.signal.unit), values: array }),
  z.strictObject({
    ...common,
    kind: z.literal("iron"),
    unit: z.literal(mapKinds.iron.unit),
    element: z.literal("Fe"),
    values: array,
    standardUncertainty: array,
  }),
]);

export type MapSidecar = z.output<typeof mapSidecarSchema>;
