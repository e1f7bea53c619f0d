import { z } from "zod";
import { originField } from "../fields/origin.js";
import { quantity } from "../fields/quantity-field.js";
import { refuse, refuseDuplicates } from "../fields/refuse.js";
import { nameField } from "../fields/text-field.js";
import { extentField, positionField } from "../fields/vector-field.js";
import { type BodyShape, bodyVolume_m3 } from "./body-volume.js";

/** Density of iron metal at room temperature (common practice): nothing holds more Fe per volume. */
const solidIron_kg_per_m3 = 7874;

const label = nameField("how reports and questions call this object", "vial 1");
const ironMass = () =>
  quantity("mass", { description: "mass of Fe in the whole object", example: "5 ug", min: "0 kg", max: "1 kg" });
const ironConcentration = () =>
  quantity("massConcentration", {
    description: "mass of Fe per volume of the object",
    example: "5 mg/mL",
    min: "0 kg/m3",
    max: `${solidIron_kg_per_m3} kg/m3`,
  });

/** How much iron a body holds: as mass or as concentration, exactly one. */
const ironOfBody = { ironMass: ironMass().optional(), ironConcentration: ironConcentration().optional() };

interface IronAmount {
  readonly ironMass?: number | undefined;
  readonly ironConcentration?: number | undefined;
}

function refuseWrongAmount(body: IronAmount & BodyShape, sink: z.core.$RefinementCtx): void {
  const { ironMass, ironConcentration } = body;
  if (ironMass !== undefined && ironConcentration === undefined)
    refuseDenserThanIron(ironMass / bodyVolume_m3(body), sink);
  else if ((ironMass === undefined) === (ironConcentration === undefined)) refuseAmountTwiceOrNever(ironMass, sink);
}

function refuseDenserThanIron(concentration_kg_per_m3: number, sink: z.core.$RefinementCtx): void {
  if (concentration_kg_per_m3 <= solidIron_kg_per_m3) return;
  refuse(sink, ["ironMass"], {
    found: `${Number(concentration_kg_per_m3.toPrecision(4))} kg of Fe per m3 of this object`,
    accepted: `no more than iron metal, ${solidIron_kg_per_m3} kg/m3; for a very small source use kind "point"`,
  });
}

function refuseAmountTwiceOrNever(ironMass: number | undefined, sink: z.core.$RefinementCtx): void {
  refuse(sink, [], {
    found: ironMass === undefined ? "an object without an iron amount" : 'both "ironMass" and "ironConcentration"',
    accepted: 'exactly one of "ironMass", e.g. "5 ug", and "ironConcentration", e.g. "5 mg/mL"',
  });
}

const sphereField = z
  .strictObject({
    kind: z.literal("sphere"),
    label,
    center: positionField(),
    diameter: quantity("length", { example: "2 mm", min: "1 nm", max: "10 m" }),
    ...ironOfBody,
  })
  .superRefine(refuseWrongAmount);

const boxField = z
  .strictObject({ kind: z.literal("box"), label, center: positionField(), size: extentField(), ...ironOfBody })
  .superRefine(refuseWrongAmount);

const pointField = z.strictObject({
  kind: z.literal("point"),
  label,
  center: positionField(),
  ironMass: ironMass(),
});

export const phantomSchema = z
  .strictObject({
    schema: z.literal("urn:ferrule:phantom:1"),
    name: nameField("what the phantom is called", "Two vials"),
    origin: originField,
    objects: z
      .array(z.discriminatedUnion("kind", [sphereField, boxField, pointField]))
      .min(1)
      .meta({ description: "bodies holding iron; where they overlap their iron adds" }),
  })
  .superRefine(({ objects }, sink) =>
    refuseDuplicates(sink, objects, { list: "objects", field: "label", label: (object) => object.label }),
  )
  .meta({ title: "Phantom", description: "A known distribution of iron. Masses are of Fe." });

export type PhantomDocument = z.input<typeof phantomSchema>;
export type ParsedPhantom = z.output<typeof phantomSchema>;
