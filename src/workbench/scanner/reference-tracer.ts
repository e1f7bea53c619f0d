import { parseDocument, type TracerModel } from "../../documents/index.js";

/** Ideal cores of 25 nm, the tracer of most published examples: what a scanner is judged with when no tracer is given. */
const reference = {
  schema: "urn:ferrule:tracer:1",
  name: "reference cores 25 nm",
  origin: { kind: "invented", note: "ideal magnetite cores of one size without relaxation; no real tracer is as good" },
  core: {
    material: "magnetite",
    saturation: "446 kA/m",
    density: "5180 kg/m3",
    ironMassFraction: "72.36 %",
    sizes: { kind: "single", diameter: "25 nm" },
  },
  relaxation: { kind: "none" },
  environment: { medium: "water", temperature: "300 K" },
};

export function referenceTracer(): TracerModel {
  return parseDocument(JSON.stringify(reference), { family: "tracer" }).model;
}
