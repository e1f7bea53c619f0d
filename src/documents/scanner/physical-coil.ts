import { type Coil, type ConductorMaterial, conductorMaterials, type Winding } from "../../physics/index.js";
import type { CoilModel, ConductorModel } from "./coil-field.js";
import type { WindingModel } from "./winding-field.js";

/** Metal share of the round bundle that the turns of a loop or rectangle are taken to form; common practice. */
const bundleFill = 0.7;

/** The coil as the engineering takes it; `undefined` where the document does not say enough (no conductor; a path of segments). */
export function physicalCoil({ windings, conductor }: Pick<CoilModel, "windings" | "conductor">): Coil | undefined {
  if (conductor === undefined) return undefined;
  const all = windings.map((winding) => physicalWinding(winding, conductor));
  return all.includes(undefined) ? undefined : { windings: all as Winding[] };
}

function physicalWinding({ turns, sources }: WindingModel, conductor: ConductorModel): Winding | undefined {
  const [source] = sources;
  if (source.kind === "segment") return undefined;
  const { current_A, ...shape } = source;
  const { section_m2, fill, strandDiameter_m } = conductor;
  // A fill is a share of a stack's section; loops and rectangles have none.
  if (section_m2 === undefined && source.kind !== "coil-stack") return undefined;
  return {
    shape,
    turns,
    sense: current_A < 0 ? -1 : 1,
    material: materialOf(conductor),
    conductor: section_m2 === undefined ? { fillFactor: fill ?? 1 } : { metalArea_m2: section_m2 },
    ...(section_m2 === undefined || shape.kind === "coil-stack"
      ? {}
      : { bundleRadius_m: Math.sqrt((turns * section_m2) / (bundleFill * Math.PI)) }),
    strandDiameter_m,
  };
}

function materialOf({ material, resistivity_Ohm_m }: ConductorModel): ConductorMaterial {
  const known = conductorMaterials[material === "other" ? "copper" : material];
  if (resistivity_Ohm_m === undefined) return known;
  return { ...known, name: material === "other" ? "the stated conductor" : material, resistivity_Ohm_m };
}
