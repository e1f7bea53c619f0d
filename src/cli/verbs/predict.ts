import { FerruleError } from "../../errors.js";
import { formatQuantity } from "../../units/index.js";
import type { TracerPrediction } from "../../workbench/index.js";
import type { Face } from "../face.js";
import { alignedTable, wrapText } from "../table.js";
import { type AddVerb, examples } from "../verb.js";

const study = "shipped/studies/four-spheres";

/** `ferrule predict`: static width and signal of a tracer on a scanner. */
export const addPredict: AddVerb = (program, face) => {
  program
    .command("predict")
    .description("predict a tracer's static width and signal on a scanner (thin for now: equilibrium curve only)")
    .argument("<tracer>", "tracer document, e.g. the tracer.json that fit writes")
    .option("--scanner <file>", "scanner document (needed)")
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      examples(`ferrule predict ${study}/tracer/langevin-25-nm.json --scanner ${study}/scanner.json`),
    )
    .action(async (tracer: string, { scanner, json }: { scanner?: string; json?: boolean }) => {
      if (scanner === undefined)
        throw new FerruleError("MissingFact", {
          path: "--scanner",
          found: "no scanner",
          accepted: "--scanner FILE, a scanner document such as my-study/scanner.json",
        });
      const { predictFromFiles } = await import("../../workbench/index.js");
      const predictions = predictFromFiles({ tracerFile: tracer, scannerFile: scanner });
      if (json) face.print(JSON.stringify({ predictions }, null, 2));
      else for (const prediction of predictions) show(face, prediction);
    });
};

function show(face: Face, prediction: TracerPrediction): void {
  const { staticWidth_m: widths, driveAxis } = prediction;
  face.print(`${face.bold(prediction.tracer)} on ${prediction.scanner}, drive along ${driveAxis}`);
  const rows = [
    ["static width along the field", formatQuantity(prediction.staticWidth_T, "appliedField"), "FWHM of dM/dH, mu0H"],
    ["static width across it", formatQuantity(prediction.staticTransverseWidth_T, "appliedField"), "FWHM of M/H, mu0H"],
    ...(["x", "y", "z"] as const).map((axis, i) => [
      `static width along ${axis}`,
      widths[i] === null ? "none (field-free line)" : formatQuantity(widths[i], "length"),
      axis === driveAxis ? "along the drive" : "across the drive",
    ]),
    ["saturated moment per iron", `${prediction.momentPerIron_A_m2_per_kg.toPrecision(4)} A·m²/kg Fe`, ""],
    [
      "peak voltage per ng Fe",
      formatQuantity(prediction.peakVoltage_V_per_kg * 1e-12, "voltage"),
      "at the field-free point, largest drive, low-field slope, no relaxation",
    ],
  ];
  for (const line of alignedTable(rows)) face.print(line);
  for (const advisory of prediction.advisories) for (const line of wrapText(`Caution: ${advisory}`)) face.print(line);
}
