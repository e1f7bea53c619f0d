import { type Origin, originAdvisories } from "../fields/origin.js";
import type { Vector3 } from "../fields/vector-field.js";
import { bodyVolume_m3 } from "./body-volume.js";
import type { ParsedPhantom } from "./phantom-schema.js";

/** A phantom in SI. Bodies carry both the mass of Fe and its concentration, one computed from the other. */
export interface PhantomModel {
  readonly name: string;
  readonly origin: Origin;
  readonly objects: readonly PhantomObject[];
  readonly advisories: readonly string[];
}

interface Body {
  readonly label: string;
  readonly center_m: Vector3;
  readonly ironMass_kg: number;
}

interface ExtendedBody extends Body {
  readonly ironConcentration_kg_per_m3: number;
}

export type PhantomObject =
  | (ExtendedBody & { readonly kind: "sphere"; readonly diameter_m: number })
  | (ExtendedBody & { readonly kind: "box"; readonly size_m: Vector3 })
  | (Body & { readonly kind: "point" });

export function toPhantomModel({ name, origin, objects }: ParsedPhantom): PhantomModel {
  return { name, origin, objects: objects.map(toObject), advisories: originAdvisories(`phantom ${name}`, origin) };
}

function toObject(object: ParsedPhantom["objects"][number]): PhantomObject {
  const { label, center: center_m } = object;
  if (object.kind === "point") return { kind: "point", label, center_m, ironMass_kg: object.ironMass };
  if (object.kind === "sphere") {
    const iron = toIron(object, bodyVolume_m3(object));
    return { kind: "sphere", label, center_m, diameter_m: object.diameter, ...iron };
  }
  return { kind: "box", label, center_m, size_m: object.size, ...toIron(object, bodyVolume_m3(object)) };
}

/** Concentration = mass / volume; the schema has made sure that exactly one of the two is stated. */
function toIron(
  { ironMass, ironConcentration }: { ironMass?: number | undefined; ironConcentration?: number | undefined },
  volume_m3: number,
) {
  return ironMass === undefined
    ? { ironMass_kg: ironConcentration! * volume_m3, ironConcentration_kg_per_m3: ironConcentration! }
    : { ironMass_kg: ironMass, ironConcentration_kg_per_m3: ironMass / volume_m3 };
}
