import { z } from "zod";
import { refuse } from "../fields/refuse.js";
import { relativePath } from "../fields/relative-path.js";
import { nameField } from "../fields/text-field.js";
import { mediumField, temperatureField } from "../tracer/states-field.js";

/** A scan of the study: simulated from a phantom, or recorded. */
export const scanField = z
  .strictObject({
    name: nameField("how questions and reports call this scan", "mouse 1, 24 h"),
    role: z.enum(["object", "calibration", "pilot", "empty"]).meta({
      description:
        "object: answers are about it; calibration: known iron; pilot: not used for answers; empty: nothing in the bore",
    }),
    phantom: relativePath("phantom document to simulate", "phantom.json").optional(),
    recorded: relativePath("recorded data", "scans/mouse-1.mdf").optional(),
    state: z
      .strictObject({ medium: mediumField, temperature: temperatureField })
      .meta({ description: "what the tracer was in during this scan; the tracer's own environment when not stated" })
      .optional(),
    seed: z
      .int()
      .min(0)
      .meta({ description: "seed of the noise of a simulated scan; same seed, same scan" })
      .optional(),
  })
  .superRefine((scan, sink) => {
    refuseUnclearSource(scan, sink);
    refuseMisplacedSeed(scan, sink);
  });

export type ParsedScan = z.output<typeof scanField>;

function refuseUnclearSource({ role, phantom, recorded }: ParsedScan, sink: z.core.$RefinementCtx): void {
  if (phantom !== undefined && recorded !== undefined)
    refuse(sink, ["recorded"], { found: 'both "phantom" and "recorded"', accepted: "one of them" });
  else if (role === "empty" && phantom !== undefined)
    refuse(sink, ["phantom"], {
      found: "a phantom in an empty scan",
      accepted: 'nothing (simulated empty) or "recorded"; or another role, e.g. "object"',
    });
  else if (role !== "empty" && phantom === undefined && recorded === undefined)
    refuse(sink, [], {
      found: "a scan of nothing",
      accepted: '"phantom", e.g. "phantom.json", or "recorded", e.g. "scans/mouse-1.mdf"; or the role "empty"',
    });
}

/** A seed is never invented, and one that would have no effect is a misunderstanding. */
function refuseMisplacedSeed({ recorded, seed }: ParsedScan, sink: z.core.$RefinementCtx): void {
  if (recorded !== undefined && seed !== undefined)
    refuse(sink, ["seed"], { found: "a seed for a recorded scan", accepted: "no seed: nothing is drawn at random" });
  if (recorded === undefined && seed === undefined)
    refuse(sink, ["seed"], {
      found: "nothing: the field is missing",
      accepted: "a whole number of at least 0 for a simulated scan, e.g. 1",
    });
}
