import type { FittedCurve } from "../../workbench/index.js";
import { exitCodes } from "../exit-codes.js";
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
      const { tracer, withheld } = fitted;
      const written: string[] = [];
      if (out !== undefined) {
        face.progress("drawing ...");
        const { svg, csv } = await figureFiles(await figureOfFit(fitted));
        const files = {
          "fit.json": pretty(document),
          ...(tracer === null ? {} : { "tracer.json": pretty(tracer) }),
          "fit.svg": svg,
          "fit.csv": csv,
        };
        written.push(...writeResults(out, files, { replace }));
      }
      if (json) face.print(JSON.stringify({ ...document, tracer, files: written }, null, 2));
      else show(face, fitted, { digest: document.contentDigest, written });
      if (withheld.length > 0) {
        face.note(`No tracer is given: ${withheld.join("; ")}.`);
        setExitCode(exitCodes.withheld);
      }
    });
};

async function figureFiles(figure: Awaited<ReturnType<typeof import("../../workbench/index.js")["figureOfFit"]>>) {
  const { figureCsv } = await import("../../figures/index.js");
  return { svg: figure.svg, csv: figureCsv(figure) };
}

const pretty = (document: unknown) => `${JSON.stringify(document, null, 2)}\n`;

function show(
  face: Face,
  { curve: { name, field_T }, fit }: FittedCurve,
  { digest, written }: { digest: string; written: readonly string[] },
): void {
  face.print(`${face.bold(name)}: ${field_T.length} points, ${fit.equation}`);
  for (const line of alignedTable(parameterRows(fit))) face.print(line);
  const { runs, expectedRuns, pTwoSided } = fit.runsTest;
  const freedom = `${fit.degreesOfFreedom} degrees of freedom`;
  const quality = [
    fit.uncertaintyBasis === "stated-sigma"
      ? ["reduced chi-squared", fit.reducedChiSquared.toPrecision(3), freedom]
      : ["reduced chi-squared", "none", `no sd column, uncertainties from the scatter; ${freedom}`],
    ["runs of residual signs", String(runs), `${expectedRuns.toFixed(1)} expected, p = ${pTwoSided.toPrecision(2)}`],
    ["rms misfit", fit.modelInadequacy.value.toPrecision(3), fit.modelInadequacy.unit],
    ["content digest", digest.slice(0, 16), "of the fit; in full in its JSON"],
  ];
  for (const line of alignedTable(quality)) face.print(line);
  for (const { message } of fit.advisories) for (const line of wrapText(`Caution: ${message}`)) face.print(line);
  for (const line of wrapText("Static widths from this tracer are lower bounds. Research use; not a medical device."))
    face.print(face.faint(line));
  if (written.length > 0) face.print(`Written: ${written.join(", ")}`);
}

/** Name, value and what a median belongs to; a number that the data do not determine is not shown as one. */
function parameterRows({ parameters, derived, notIdentifiable }: FittedCurve["fit"]): string[][] {
  const isLoose = (name: string) =>
    notIdentifiable.includes(name) || parameters.some((parameter) => parameter.name === name && parameter.atBound);
  const own = parameters.map(({ name, value, standardUncertainty, unit, atBound }) => [
    name,
    notIdentifiable.includes(name)
      ? "not determined"
      : atBound
        ? `${inShownUnit(value, unit)} (at its bound)`
        : measuredText(value, standardUncertainty, unit),
    name.includes("median") ? "by number" : "",
  ]);
  // Every derived quantity so far follows from median and log-sd.
  const isDerivedLoose = isLoose("median-diameter") || isLoose("log-sd");
  const more = derived.map(({ name, value, standardUncertainty, unit }) => [
    name,
    isDerivedLoose ? "not determined" : measuredText(value, standardUncertainty, unit),
    name.startsWith("volume") ? "by volume" : "",
  ]);
  return [...own, ...more];
}

/** A diameter in nm, everything else in its own unit. */
const shownUnit = (unit: string): [scale: number, shown: string] =>
  unit === "m" ? [1e9, "nm"] : [1, unit === "1" ? "" : unit];

function inShownUnit(value: number, unit: string): string {
  const [scale, shown] = shownUnit(unit);
  return `${(value * scale).toPrecision(4)} ${shown}`.trim();
}

/** Value and standard uncertainty to its second digit. */
function measuredText(value: number, uncertainty: number, unit: string): string {
  const [scale, shown] = shownUnit(unit);
  if (!Number.isFinite(uncertainty)) return `${inShownUnit(value, unit)} (uncertainty not determined)`;
  const decimals = uncertainty === 0 ? 4 : Math.max(0, 1 - Math.floor(Math.log10(uncertainty * scale)));
  // toFixed allows 100 decimals at most; a moment of a microgram has fewer significant ones than that.
  const text = (number: number) =>
    decimals > 9 ? number.toExponential(3) : withoutMinusZero(number.toFixed(decimals));
  return `${text(value * scale)} \u00b1 ${text(uncertainty * scale)} ${shown}`.trim();
}

const withoutMinusZero = (text: string): string => (Number(text) === 0 ? text.replace("-", "") : text);
