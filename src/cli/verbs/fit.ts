import type { FittedTracer } from "../../workbench/index.js";
import { exitCodes } from "../exit-codes.js";
import type { Face } from "../face.js";
import { alignedTable, wrapText } from "../table.js";
import { type AddVerb, examples } from "../verb.js";

interface FitOptions {
  readonly descriptor?: readonly string[];
  readonly model?: string;
  readonly relaxation?: string;
  readonly out?: string;
  readonly replace?: boolean;
  readonly json?: boolean;
}

const invented = "shipped/measurements/invented-cores";
const curve = "shipped/curves/clustered-iron-oxide/FSL-DCM_data.txt";

/** `ferrule fit`: measurements of one tracer -> parameters, a tracer document and figures. */
export const addFit: AddVerb = (program, face, setExitCode) => {
  program
    .command("fit")
    .description("fit a tracer to a magnetisation curve, harmonics or AC susceptibility, or to several of them at once")
    .argument("<files...>", "text tables; their descriptors say what each is (default: a magnetisation curve)")
    .option(
      "--descriptor <file>",
      "JSON that says what a file does not (default: descriptor.json beside it); once for each file, in their order",
      (file: string, before: readonly string[] = []) => [...before, file],
    )
    .option("--model <name>", "of a curve: log-normal, mixture, mixture-3, free-form, chain, chain-single")
    .option("--relaxation <name>", "of harmonics or a susceptibility: none, debye, brownian")
    .option("--out <folder>", "write fit.json, tracer.json and figures with their data there")
    .option("--replace", "overwrite results that are in the folder already")
    .option("--json", "print one JSON document")
    .addHelpText(
      "after",
      examples(
        `ferrule fit ${curve}`,
        `ferrule fit ${curve} --model free-form --out first-fit`,
        `ferrule fit ${curve} --model chain-single --json`,
        `ferrule fit ${invented}/harmonics.csv --relaxation debye`,
        `ferrule fit ${invented}/curve.csv ${invented}/harmonics.csv ${invented}/susceptibility.csv --relaxation debye`,
      ),
    )
    .action(async (files: string[], { descriptor, model, relaxation, out, replace, json }: FitOptions) => {
      const { figuresOfFit, fitDocument, fitSteps, writeResults } = await import("../../workbench/index.js");
      const { finishInSlices } = await import("../../numerics/index.js");
      face.progress("fitting ...");
      const fitted = await finishInSlices(fitSteps({ files, descriptors: descriptor, model, relaxation }), {
        // No signal is read: Ctrl-C ends the process at once, in the middle of a step too, and results are written whole or not.
        onProgress: (part) => face.progress(`fitting ${(100 * part).toFixed(0)} %`),
      });
      const document = fitDocument(fitted);
      const { tracer, withheld } = fitted;
      const written: string[] = [];
      if (out !== undefined) {
        face.progress("drawing ...");
        const results = {
          "fit.json": pretty(document),
          ...(tracer === null ? {} : { "tracer.json": pretty(tracer) }),
          ...(await figureFiles(await figuresOfFit(fitted))),
        };
        written.push(...writeResults(out, results, { replace }));
      }
      if (json) face.print(JSON.stringify({ ...document, tracer, files: written }, null, 2));
      else show(face, fitted, { digest: document.contentDigest, written });
      if (withheld.length > 0) {
        face.note(`No tracer is given: ${withheld.join("; ")}.`);
        setExitCode(exitCodes.withheld);
      }
    });
};

async function figureFiles(figures: Awaited<ReturnType<typeof import("../../workbench/index.js")["figuresOfFit"]>>) {
  const { figureCsv } = await import("../../figures/index.js");
  const files: Record<string, string> = {};
  for (const [name, figure] of Object.entries(figures)) {
    files[`${name}.svg`] = figure.svg;
    files[`${name}.csv`] = figureCsv(figure);
  }
  return files;
}

const pretty = (document: unknown) => `${JSON.stringify(document, null, 2)}\n`;

function show(
  face: Face,
  { fit, name }: FittedTracer,
  { digest, written }: { digest: string; written: readonly string[] },
): void {
  face.print(`${face.bold(name)}: ${fit.residuals.length} values, ${fit.model}`);
  for (const equation of fit.equation.split("; ")) face.print(equation);
  for (const line of alignedTable(parameterRows(fit))) face.print(line);
  const { runs, expectedRuns, pTwoSided } = fit.runsTest;
  const freedom = `${fit.degreesOfFreedom.toFixed(Number.isInteger(fit.degreesOfFreedom) ? 0 : 1)} degrees of freedom`;
  const quality = [
    fit.uncertaintyBasis === "stated-sigma"
      ? ["reduced chi-squared", fit.reducedChiSquared.toPrecision(3), freedom]
      : ["reduced chi-squared", "none", `no sd column, uncertainties from the scatter; ${freedom}`],
    ["runs of residual signs", String(runs), `${expectedRuns.toFixed(1)} expected, p = ${pTwoSided.toPrecision(2)}`],
    ["rms misfit", fit.modelInadequacy.value.toPrecision(3), fit.modelInadequacy.unit],
    ...(fit.withInadequacy.scale > 1.05
      ? [
          [
            "with model inadequacy",
            `x ${fit.withInadequacy.scale.toPrecision(3)}`,
            "what the uncertainties would be multiplied by",
          ],
        ]
      : []),
    ["content digest", digest.slice(0, 16), "of the fit; in full in its JSON"],
  ];
  for (const line of alignedTable(quality)) face.print(line);
  for (const { message } of fit.advisories) for (const line of wrapText(`Caution: ${message}`)) face.print(line);
  for (const line of wrapText("Static widths from this tracer are lower bounds. Research use; not a medical device."))
    face.print(face.faint(line));
  if (written.length > 0) face.print(`Written: ${written.join(", ")}`);
}

/** Name, value and what a median belongs to; a number that the data do not determine is not shown as one. */
function parameterRows(fit: FittedTracer["fit"]): string[][] {
  const { parameters, derived, notIdentifiable } = fit;
  const ranges = "ranges" in fit ? (fit.ranges as Ranges) : undefined;
  const isLoose = (name: string) =>
    notIdentifiable.includes(name) || parameters.some((parameter) => parameter.name === name && parameter.atBound);
  const own = parameters.map(({ name, value, standardUncertainty, unit, atBound }) => [
    name,
    notIdentifiable.includes(name)
      ? "not determined"
      : atBound
        ? `${inShownUnit(value, unit)} (at its bound)`
        : (rangeText(ranges, name, unit) ?? measuredText(value, standardUncertainty, unit)),
    weightingOf(name),
  ]);
  // Sizes that are derived follow from median and log-sd.
  const isDerivedLoose = isLoose("median-diameter") || isLoose("log-sd");
  const more = derived.map(({ name, value, standardUncertainty, unit }) => [
    name,
    isDerivedLoose && /diameter/.test(name)
      ? "not determined"
      : (rangeText(ranges, name, unit) ?? measuredText(value, standardUncertainty, unit)),
    weightingOf(name),
  ]);
  return [...own, ...more];
}

type Ranges = readonly { readonly name: string; readonly value: number; readonly low: number; readonly high: number }[];

/** A free-form value has no standard interval: the quantiles of its replicas stand beside it. */
function rangeText(ranges: Ranges | undefined, name: string, unit: string): string | undefined {
  const range = ranges?.find((candidate) => candidate.name === name);
  if (range === undefined) return undefined;
  const [scale, shown] = shownUnit(unit);
  const text = (value: number) => (value * scale).toPrecision(4);
  return `${text(range.value)} ${shown} (replicas ${text(range.low)} to ${text(range.high)})`;
}

/** What a size or share counts; the hydrodynamic ones are by number, as the core's. */
function weightingOf(name: string): string {
  if (/^volume-/.test(name) || /^share/.test(name)) return "by volume";
  return /median|number/.test(name) ? "by number" : "";
}

/** A diameter in nm, a time in us, everything else in its own unit. */
const shownUnit = (unit: string): [scale: number, shown: string] =>
  unit === "m" ? [1e9, "nm"] : unit === "s" ? [1e6, "us"] : [1, unit === "1" ? "" : unit];

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
