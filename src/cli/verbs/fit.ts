import type { FittedCurve } from "../../workbench/index.js";
import type { Face } from "../face.js";
import { alignedTable, wrapText } from "../table.js";
import { type AddVerb, examples } from "../verb.js";

interface FitOptions {
  readonly descriptor?: string;
  readonly out?: string;
  readonly replace?: boolean;
  readonly json?: boolean;
}

const curve = "shipped/curves/clustered-iron-oxide/FSL-DCM_data.txt";

/** `ferrule fit`: a magnetisation curve -> log-normal Langevin parameters, a tracer document and a figure. */
export const addFit: AddVerb = (program, face, setExitCode) => {
  program
    .command("fit")
    .description("fit a tracer to a measured magnetisation curve (log-normal Langevin; more models to come)")
    .argument("<file>", "text table of field and magnetisation")
    .option("--descriptor <file>", "JSON that says what the file does not (default: descriptor.json beside it)")
    .option("--out <folder>", "write fit.json, tracer.json, fit.svg and fit.csv there")
    .option("--replace", "overwrite results that are in the folder already")
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      examples(`ferrule fit ${curve}`, `ferrule fit ${curve} --out first-fit`, `ferrule fit ${curve} --json`),
    )
    .action(async (file: string, { descriptor, out, replace, json }: FitOptions) => {
      const { figureOfFit, fitCurve, fitDocument, writeResults } = await import("../../workbench/index.js");
      face.progress("fitting ...");
      const fitted = fitCurve({ file, descriptor });
      const document = fitDocument(fitted);
      const written: string[] = [];
      if (out !== undefined) {
        face.progress("drawing ...");
        const { svg, csv } = await figureFiles(await figureOfFit(fitted));
        const files = {
          "fit.json": pretty(document),
          "tracer.json": pretty(fitted.tracer),
          "fit.svg": svg,
          "fit.csv": csv,
        };
        written.push(...writeResults(out, files, { replace }));
      }
      if (json) face.print(JSON.stringify({ ...document, tracer: fitted.tracer, files: written }, null, 2));
      else show(face, fitted, written);
      if (fitted.fit.outcome !== "converged") setExitCode(1);
    });
};

async function figureFiles(figure: Awaited<ReturnType<typeof import("../../workbench/index.js")["figureOfFit"]>>) {
  const { figureCsv } = await import("../../figures/index.js");
  return { svg: figure.svg, csv: figureCsv(figure) };
}

const pretty = (document: unknown) => `${JSON.stringify(document, null, 2)}\n`;

function show(face: Face, { curve: { name, field_T }, fit }: FittedCurve, written: readonly string[]): void {
  face.print(`${face.bold(name)}: ${field_T.length} points, ${fit.equation}`);
  const rows = [...fit.parameters, ...fit.derived].map((parameter) => [
    parameter.name,
    measuredText(parameter.value, parameter.standardUncertainty, parameter.unit),
    parameter.name.includes("median") ? (parameter.name.startsWith("volume") ? "by volume" : "by number") : "",
  ]);
  for (const line of alignedTable(rows)) face.print(line);
  const { runs, expectedRuns, pTwoSided } = fit.runsTest;
  const quality = [
    ["reduced chi-squared", fit.reducedChiSquared.toPrecision(3), `${fit.degreesOfFreedom} degrees of freedom`],
    ["runs of residual signs", String(runs), `${expectedRuns.toFixed(1)} expected, p = ${pTwoSided.toPrecision(2)}`],
    ["rms misfit", fit.modelInadequacy.value.toPrecision(3), fit.modelInadequacy.unit],
  ];
  for (const line of alignedTable(quality)) face.print(line);
  for (const { message } of fit.advisories) for (const line of wrapText(`Caution: ${message}`)) face.print(line);
  for (const line of wrapText("Static widths from this tracer are lower bounds. Research use; not a medical device."))
    face.print(face.faint(line));
  if (written.length > 0) face.print(`Written: ${written.join(", ")}`);
}

/** Value and standard uncertainty to its second digit, a diameter in nm. */
function measuredText(value: number, uncertainty: number, unit: string): string {
  const [scale, shown] = unit === "m" ? [1e9, "nm"] : [1, unit === "1" ? "" : unit];
  if (!Number.isFinite(uncertainty)) return `${(value * scale).toPrecision(4)} ${shown} (uncertainty not determined)`;
  const decimals = uncertainty === 0 ? 4 : Math.max(0, 1 - Math.floor(Math.log10(uncertainty * scale)));
  return `${(value * scale).toFixed(decimals)} ± ${(uncertainty * scale).toFixed(decimals)} ${shown}`.trim();
}
