import { FerruleError } from "../../errors.js";
import { formatQuantity, formatWithUncertainty, measuredFromSI } from "../../units/index.js";
import type { PredictedAxis, PredictRequest, TracerPrediction } from "../../workbench/index.js";
import type { Face } from "../face.js";
import { alignedTable, wrapText } from "../table.js";
import { type AddVerb, examples } from "../verb.js";

const study = "shipped/studies/four-spheres";
const tracers = "shipped/tracers";

type Options = Omit<PredictRequest, "tracerFiles" | "scannerFile"> & {
  readonly scanner?: string;
  readonly out?: string;
  readonly replace?: boolean;
  readonly json?: boolean;
};

/** `ferrule predict`: width, signal, harmonics and regime of tracers on a scanner, ranked. */
export const addPredict: AddVerb = (program, face) => {
  program
    .command("predict")
    .description("predict width, signal and harmonics of tracers at a scanner's drive, and rank them")
    .argument("<tracers...>", "tracer documents, e.g. the tracer.json that fit writes")
    .option("--scanner <file>", "scanner document (needed)")
    .option("--axis <axis>", "drive axis (default: every drive axis of the scanner)")
    .option("--amplitude <quantity>", 'peak drive amplitude, e.g. "10 mT" (default: the largest of the scanner)')
    .option("--frequency <quantity>", 'drive frequency, e.g. "25 kHz" (default: that of the scanner)')
    .option("--waveform <name>", "cosine, triangle or pulsed (default: that of the scanner)")
    .option("--rise-time <quantity>", 'edge of a pulsed drive, e.g. "2 us" (default: a twentieth of the period)')
    .option("--medium <name>", "state of the tracers: water, gel, blood, cells, other (default: their own)")
    .option("--temperature <quantity>", 'state of the tracers, e.g. "37 Cel"')
    .option("--out <folder>", "write predict.json and a figure with its data for each drive axis there")
    .option("--replace", "overwrite results that are in the folder already")
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      examples(
        `ferrule predict ${study}/tracer/langevin-25-nm.json --scanner ${study}/scanner.json`,
        `ferrule predict ${tracers}/chained-cores-20-nm.json ${tracers}/clustered-two-sizes.json --scanner ${study}/scanner.json --amplitude "10 mT" --out widths`,
      ),
    )
    .action(async (tracerFiles: string[], { scanner, out, replace, json, ...rest }: Options) => {
      if (scanner === undefined)
        throw new FerruleError("MissingFact", {
          path: "--scanner",
          found: "no scanner",
          accepted: "--scanner FILE, a scanner document such as my-study/scanner.json",
        });
      const began = performance.now();
      const timeLeft = (part: number): string => {
        const elapsed_s = (performance.now() - began) / 1000;
        return part > 0.05 && elapsed_s > 2 ? `, about ${((elapsed_s * (1 - part)) / part).toFixed(0)} s left` : "";
      };
      const { predictFromFiles, writeResults } = await import("../../workbench/index.js");
      const axes = await predictFromFiles(
        { tracerFiles, scannerFile: scanner, ...rest },
        {
          signal: face.signal,
          onProgress: (part) => face.progress(`predicting ${(100 * part).toFixed(0)} %${timeLeft(part)}`),
        },
      );
      const document = { schema: "urn:ferrule:prediction:1", axes: axes.map(withoutCurves), caution };
      const written =
        out === undefined
          ? []
          : writeResults(out, { "predict.json": pretty(document), ...(await figures(axes)) }, { replace });
      if (json) face.print(JSON.stringify({ ...document, files: written }, null, 2));
      else for (const axis of axes) show(face, axis);
      if (!json && written.length > 0) face.print(`Written: ${written.join(", ")}`);
    });
};

const caution = "Research use; not a medical device.";
const pretty = (document: unknown) => `${JSON.stringify(document, null, 2)}\n`;

async function figures(axes: readonly PredictedAxis[]): Promise<Record<string, string>> {
  const { figureOfPrediction } = await import("../../workbench/index.js");
  const { figureCsv } = await import("../../figures/index.js");
  const files: Record<string, string> = {};
  for (const axis of axes) {
    const figure = await figureOfPrediction(axis);
    const name = `predict-${axis.predictions[0].drive.axis}`;
    files[`${name}.svg`] = figure.svg;
    files[`${name}.csv`] = figureCsv(figure);
  }
  return files;
}

/** The document holds the numbers; sampled curves are in the figure's data. */
function withoutCurves({ predictions, ...rest }: PredictedAxis) {
  return {
    ...rest,
    predictions: predictions.map(({ dynamic: { sweeps: _, staticCurve: __, ...dynamic }, ...prediction }) => ({
      ...prediction,
      dynamic,
    })),
  };
}

function show(face: Face, { predictions, ranking, rankedBy }: PredictedAxis): void {
  for (const prediction of predictions) showTracer(face, prediction);
  if (predictions.length < 2) return;
  face.print(face.bold(`Ranking along ${predictions[0].driveAxis}, by ${rankedBy}`));
  const rows = ranking.map(({ rank, tracer, width_T, standardUncertainty_T, comparison }) => [
    rank === null ? "-" : String(rank),
    tracer,
    width_T === null ? "none" : fieldText(width_T, standardUncertainty_T),
    comparison,
  ]);
  for (const line of alignedTable(rows)) face.print(line);
}

function showTracer(face: Face, prediction: TracerPrediction): void {
  const { drive, dynamic, state } = prediction;
  const field = formatQuantity(drive.amplitude_T, "appliedField");
  const frequency = formatQuantity(drive.frequency_Hz, "frequency");
  face.print(
    `${face.bold(prediction.tracer)} (${state.medium}, ${Number((state.temperature_K - 273.15).toFixed(1))} \u00b0C) on ${prediction.scanner}: ${drive.waveform} drive along ${drive.axis}, ${field} peak, ${frequency}`,
  );
  for (const line of alignedTable([...staticRows(prediction), ...driveRows(prediction)])) face.print(line);
  const notes = dynamic.width_T === null ? [dynamic.note] : [];
  for (const advisory of [...notes, ...prediction.advisories])
    for (const line of wrapText(`Caution: ${advisory}`)) face.print(line);
  for (const line of wrapText(caution)) face.print(face.faint(line));
}

function staticRows({
  staticWidth_T,
  staticTransverseWidth_T,
  staticUncertainty,
  ...rest
}: TracerPrediction): string[][] {
  const rows = [
    [
      "static width along the field",
      staticWidth_T === null ? "none" : fieldText(staticWidth_T, staticUncertainty.standardUncertainty_T),
      staticWidth_T === null ? "the curve jumps" : `FWHM of dM/dH, mu0H; uncertainty: ${staticUncertainty.note}`,
    ],
  ];
  if (staticTransverseWidth_T !== null)
    rows.push(["static width across it", formatQuantity(staticTransverseWidth_T, "appliedField"), "FWHM of M/H, mu0H"]);
  for (const [i, axis] of (["x", "y", "z"] as const).entries()) {
    const width = rest.staticWidth_m[i];
    const along = axis === rest.driveAxis ? "along the drive" : "across the drive";
    const u_T = staticUncertainty.standardUncertainty_T;
    const u_m = width === null || u_T === null || staticWidth_T === null ? null : (u_T * width) / staticWidth_T;
    rows.push([
      `static width along ${axis}`,
      width === null ? "none" : lengthText(width, u_m),
      width === null ? `${along}: a field-free line, or a response that is not modelled` : along,
    ]);
  }
  if (rest.thresholdField_T !== null)
    rows.push(["threshold of the chains", formatQuantity(rest.thresholdField_T, "appliedField"), "mean field, mu0H"]);
  rows.push(["saturated moment per iron", `${rest.momentPerIron_A_m2_per_kg.toPrecision(4)} A\u00b7m\u00b2/kg Fe`, ""]);
  return rows;
}

function driveRows({ dynamic, dynamicUncertainty, relaxation, drive, signalFactor }: TracerPrediction): string[][] {
  const rows: string[][] = [];
  const { standardUncertainty_T: u_T } = dynamicUncertainty;
  if (dynamic.width_T !== null) {
    rows.push([
      "width at the drive",
      fieldText(dynamic.width_T, u_T),
      `by ${relaxation.kind} relaxation; rising ${fieldText(dynamic.forwardWidth_T)}, falling ${fieldText(dynamic.backwardWidth_T)}; uncertainty: ${dynamicUncertainty.note}`,
    ]);
    if (dynamic.widthAlong_m !== null)
      rows.push([
        `width along ${drive.axis} at the drive`,
        lengthText(dynamic.widthAlong_m, u_T === null ? null : (u_T * dynamic.widthAlong_m) / dynamic.width_T),
        "along the drive",
      ]);
  }
  if (dynamic.lag_T !== null)
    rows.push(["late by", formatQuantity(dynamic.lag_T, "appliedField"), "peak of the response, mu0H"]);
  const { verdict, fundamentalRatio, lag_rad, words } = dynamic.regime;
  rows.push([
    "regime at this drive",
    verdict,
    `fundamental ${fundamentalRatio.toFixed(3)} of the static one, ${((lag_rad * 180) / Math.PI).toFixed(1)} deg late: ${words}`,
  ]);
  rows.push([
    "peak voltage per ng Fe",
    dynamic.peakVoltage_V_per_kg === null ? "none" : formatQuantity(dynamic.peakVoltage_V_per_kg * 1e-12, "voltage"),
    dynamic.peakVoltage_V_per_kg === null
      ? dynamic.peakMomentRate_A_m2_per_kg_s === null
        ? "the loop jumps: the rate has no largest value"
        : "no receive coil along the drive"
      : `at the field-free point${relaxation.kind === "none" ? ", no relaxation" : ""}`,
  ]);
  if (signalFactor !== null)
    rows.push([
      "measured signal factor",
      `${signalFactor.value} \u00b1 ${signalFactor.standardUncertainty} (k = 1)`,
      "signal per iron in this state over that in the tracer's own; not applied to the model's voltages",
    ]);
  const third = dynamic.harmonics.find(({ order }) => order === 3);
  if (third !== undefined)
    rows.push([
      "third harmonic",
      `${third.moment_A_m2_per_kg.toPrecision(4)} A\u00b7m\u00b2/kg Fe`,
      `fifth over third ${dynamic.fifthToThird.toFixed(4)}`,
    ]);
  return rows;
}

function fieldText(value_T: number | null, u_T: number | null = null): string {
  if (value_T === null) return "none";
  return u_T === null
    ? formatQuantity(value_T, "appliedField")
    : formatWithUncertainty(measuredFromSI(value_T, u_T, { kind: "appliedField" }));
}

function lengthText(value_m: number, u_m: number | null): string {
  return u_m === null
    ? formatQuantity(value_m, "length")
    : formatWithUncertainty(measuredFromSI(value_m, u_m, { kind: "length" }));
}
