import { formatQuantity } from "../units/index.js";
import { massAlone, massPair } from "./answer-text.js";
import { figureHtml, paragraph, section, tableHtml } from "./html-parts.js";
import type { ReportTracer, StudyReportData } from "./study-report-data.js";
import type { StudyReportFigures } from "./study-report-figures.js";

type Kind = Parameters<typeof formatQuantity>[1];

const show = (valueSI: number, kind: Kind, digits = 3): string =>
  Number.isFinite(valueSI) ? formatQuantity(valueSI, kind, { digits }).replace(/^-/, "\u2212") : "not known";

/** Short digits without padding: 20 mT, not 20.00 mT. */
const short = (valueSI: number, kind: Kind): string =>
  show(valueSI, kind, 4)
    .replace(/^(\u2212?\d+\.\d*?)0+(?= |$)/, "$1")
    .replace(/\.(?= |$)/, "");

const plain = (value: number, digits = 3): string =>
  Number.isFinite(value) ? String(Number(value.toPrecision(digits))).replace("-", "\u2212") : "not known";

/** Two decimals are enough to judge a vial. */
const signed = (value: number): string =>
  Number.isFinite(value) ? value.toFixed(2).replace("-", "\u2212") : "not known";

/** How the answers were made: tracer, scanner, protocol, calibration, regularisation. */
export function methodSections(data: StudyReportData, figures: StudyReportFigures): string[] {
  return [settingsSection(data), calibrationSection(data, figures), regularisationSection(data, figures)];
}

function settingsSection(data: StudyReportData): string {
  return section("method", "Method and settings", [
    paragraph(
      "The tracer's magnetisation curve, the scanner's field and the protocol make one linear forward model. Empties are subtracted, the model is inverted (Tikhonov, no sign constraint), and each region's mass is a linear estimate from the same inversion, corrected for what the map loses from the region and takes in from its neighbours.",
    ),
    tracersTable(data),
    setupTable(data),
    scansTable(data),
    regionsTable(data),
  ]);
}

function tracersTable({ tracers, scanner }: StudyReportData): string {
  const row = (tracer: ReportTracer) => [
    tracer.name,
    tracer.role,
    tracer.coreSizes,
    show(tracer.momentPerIron_A_m2_per_kg, "massMagnetisation"),
    show(tracer.staticWidth_T, "appliedField"),
    show(tracer.staticWidthAlong_m, "length"),
    tracer.staticWidthAcross_m.map((width) => show(width, "length")).join(" and "),
    tracer.note ?? "",
  ];
  const hasNotes = tracers.some(({ note }) => note !== undefined);
  const cut = (cells: string[]) => (hasNotes ? cells : cells.slice(0, -1));
  return tableHtml({
    caption: `Tracers. Static width: full width at half maximum of the static response, drive along ${scanner.driveAxis}; a lower bound, not a resolution.`,
    columns: cut([
      "tracer",
      "role",
      "cores",
      "moment per kg Fe",
      "static width",
      "along the drive",
      "across the drive",
      "note",
    ]),
    rows: tracers.map((tracer) => cut(row(tracer))),
  });
}

type Row = readonly [string, string];

const rowIf = <Value>(value: Value | undefined, make: (value: Value) => Row): Row[] =>
  value === undefined ? [] : [make(value)];

const lengths = (values: readonly number[]): string => values.map((value) => short(value, "length")).join(" \u00d7 ");

function scannerRows({ scanner }: StudyReportData): Row[] {
  return [
    ["scanner", scanner.name],
    ...rowIf(scanner.topology, (words) => ["topology", words.replaceAll("-", " ")]),
    ["gradient of \u00b5\u2080H (x, y, z)", scanner.gradient_T_per_m.map((g) => short(g, "fieldGradient")).join(", ")],
    ...rowIf(scanner.boreDiameter_m, (bore) => ["bore", short(bore, "length")]),
    ["receive sensitivity", short(scanner.sensitivity_T_per_A, "receiveSensitivity")],
    ["receive noise", short(scanner.noise_V_per_sqrtHz, "voltageNoise")],
    ...rowIf(scanner.bandwidth_Hz, (band) => ["receive band", `up to ${short(band, "frequency")}`]),
  ];
}

function protocolRows({ scanner, protocol }: StudyReportData): Row[] {
  const drive = `peak ${short(protocol.amplitude_T, "appliedField")} at ${short(protocol.frequency_Hz, "frequency")}`;
  return [
    ["protocol", protocol.name],
    ["drive", `along ${scanner.driveAxis}, ${drive}`],
    ["scan time, empties and moves included", show(protocol.scanTime_s, "time")],
    ["patches", String(protocol.patches)],
    ...rowIf(protocol.periodsPerPatch, (periods) => ["drive periods averaged in a patch", String(periods)]),
    ["shift range (x, y, z)", lengths(protocol.fieldOfView_m)],
  ];
}

function mapRows({ maps, reconstruction }: StudyReportData): Row[] {
  const { shape, spacing_m } = maps.iron.grid;
  const voxels: Row = ["voxels (x, y, z)", `${[...shape].reverse().join(" \u00d7 ")} of ${lengths(spacing_m)}`];
  if (reconstruction === undefined) return [voxels];
  const { harmonics, haloAcross_m, haloAlong_m, widthRelativeUncertainty } = reconstruction;
  return [
    voxels,
    ["harmonics of the drive", `${harmonics.first} to ${harmonics.last}`],
    [
      "halo of a region sum",
      `${short(haloAcross_m, "length")} across and ${short(haloAlong_m, "length")} along the drive`,
    ],
    ["standard uncertainty of the tracer's width", `${plain(widthRelativeUncertainty * 100)} %`],
    ["standard uncertainty of a contour", short(reconstruction.contourUncertainty_m, "length")],
    ["standard uncertainty of a position", short(reconstruction.positionUncertainty_m, "length")],
  ];
}

const setupTable = (data: StudyReportData): string =>
  tableHtml({
    caption: "Scanner, protocol and map",
    columns: ["item", "value"],
    rows: [...scannerRows(data), ...protocolRows(data), ...mapRows(data)],
  });

function scansTable({ scans }: StudyReportData): string {
  return tableHtml({
    caption: "Scans. Residual: norm of what the map does not explain over that of the data.",
    columns: ["scan", "role", "noise measured in its empties (a sample)", "blocks of empties", "relative residual"],
    rows: scans.map(({ name, role, measuredNoise_V, blocksOfEmpties, residualNorm_relative: residual }) => [
      name,
      role,
      show(measuredNoise_V, "voltage"),
      String(blocksOfEmpties),
      residual === undefined ? "not computed" : `${plain(residual * 100)} %`,
    ]),
    numeric: [2, 3, 4],
  });
}

function regionsTable({ regions }: StudyReportData): string {
  const place = (values: readonly number[]) => values.map((value) => plain(value * 1e3)).join(", ");
  return tableHtml({
    caption: "Regions, in world axes (x, y, z)",
    columns: ["region", "shape", "centre (mm)", "size (mm)"],
    rows: regions.map(({ label, shape }, i) => [
      `${i + 1} ${label}`,
      shape.kind,
      place(shape.center_m),
      shape.kind === "sphere" ? `diameter ${plain(shape.diameter_m * 1e3)}` : place(shape.size_m),
    ]),
  });
}

function calibrationSection({ calibration }: StudyReportData, figures: StudyReportFigures): string {
  const { slope, intercept_kg, covariance, chiSquared, degreesOfFreedom, stockRelativeUncertainty, range_kg } =
    calibration;
  const judged = calibration.normalisedResiduals.map((residual) =>
    Math.abs(residual) <= 2 ? "within 2 sd" : Math.abs(residual) <= 3 ? "2 to 3 sd off" : "more than 3 sd off",
  );
  const line = `Reading = ${massAlone(intercept_kg, 2)} Fe + ${plain(slope, 4)} \u00d7 iron; standard uncertainties ${massAlone(Math.sqrt(covariance[0]), 2)} and ${plain(Math.sqrt(covariance[2]), 2)}. Chi squared ${plain(chiSquared)} on ${degreesOfFreedom} degrees of freedom.`;
  const stock = `The stock assay (${plain(stockRelativeUncertainty * 100, 2)} %, k = 1) shifts all vials together and is kept apart. Calibrated from ${massAlone(range_kg[0])} to ${massAlone(range_kg[1])} Fe.`;
  return section("calibration", "Calibration", [
    paragraph(line),
    paragraph(stock),
    tableHtml({
      caption: "Each vial judged by itself (mass of Fe, \u00b1 one standard uncertainty)",
      columns: ["vial", "known iron", "reading", "residual / sd", "judgement"],
      rows: calibration.points.map((point, i) => [
        point.label,
        massPair(point.iron_kg, point.ironUncertainty_kg),
        massPair(point.reading_kg, point.readingUncertainty_kg),
        signed(calibration.normalisedResiduals[i]),
        judged[i],
      ]),
      numeric: [1, 2, 3],
    }),
    figureHtml(figures.calibration.svg, {
      alt: `Calibration line through ${calibration.points.length} vials with residuals`,
      caption: "Above, readings over known iron; below, what each vial is off, in standard deviations.",
    }),
  ]);
}

const outcomes = {
  met: "The residual meets the target between two of the weights tried.",
  "target-below-range":
    "The target lies below every residual tried: the smallest weight was taken, and the noise or model error may be understated.",
  "target-above-range":
    "The target lies above every residual tried: the largest weight was taken, and the noise or model error may be overstated.",
} as const;

function regularisationSection({ regularisation }: StudyReportData, figures: StudyReportFigures): string {
  const { relativeWeight, outcome, pilot, target2, trials } = regularisation;
  return section("regularisation", "Regularisation", [
    paragraph(
      `Weight ${plain(relativeWeight)} (relative), by the discrepancy principle on the scan \u201c${pilot}\u201d: as much smoothing as noise and the known error of the model allow. ${outcomes[outcome]} It was chosen once, on a scan that no answer is about, and is frozen.`,
    ),
    tableHtml({
      caption: `Weights tried; the target is ${show(Math.sqrt(target2), "voltage")}`,
      columns: ["relative weight", "residual of the pilot"],
      rows: trials.map(({ relativeWeight: weight, residual2 }) => [
        plain(weight),
        show(Math.sqrt(residual2), "voltage"),
      ]),
      numeric: [1],
    }),
    figureHtml(figures.discrepancy.svg, {
      alt: "Residual over the regularisation weight, with the target and the chosen weight",
      caption: "The residual of the pilot scan over the weight, both axes logarithmic.",
    }),
  ]);
}
