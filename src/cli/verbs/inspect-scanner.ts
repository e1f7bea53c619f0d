import { FerruleError } from "../../errors.js";
import { formatQuantity, parseQuantity, type QuantityKind } from "../../units/index.js";
import type { Inspection, ScannerAnalysis, ScannerRequest } from "../../workbench/index.js";
import type { Face } from "../face.js";
import { alignedTable, wrapText } from "../table.js";
import { apparentPowerText, massText, ratioText } from "./engineering-text.js";

/** What only a scanner document takes. */
export interface ScannerOptions {
  readonly protocol?: string;
  readonly tracer?: string;
  readonly time?: string;
  readonly ironDose?: string;
  readonly bodyMass?: string;
  readonly empties?: string;
  readonly emptyInterval?: string;
  readonly out?: string;
  readonly replace?: boolean;
  readonly json?: boolean;
}

/** Analysis of a scanner after its inspection: printed, or one JSON document; figures with --out. */
export async function inspectScanner(face: Face, inspection: Inspection, options: ScannerOptions): Promise<void> {
  const { analyseScanner, scannerReport, scannerFigures, writeResults, readScanner, requireExecutable } = await import(
    "../../workbench/index.js"
  );
  const scanner = readScanner(inspection.file);
  const protocol = options.protocol === undefined ? undefined : requireExecutable(scanner, options.protocol);
  const request = await requestOf(options, scanner);
  const analysis = await analyseScanner(scanner, request, {
    signal: face.signal,
    onProgress: (part) => face.progress(`fields, coils, receive chain, limits ${(100 * part).toFixed(0)} %`),
  });
  const report = {
    ...inspection,
    ...scannerReport(analysis),
    ...(protocol === undefined ? {} : { executable: { protocol, problems: [] } }),
  };
  const files =
    options.out === undefined
      ? []
      : writeResults(
          options.out,
          {
            "scanner-report.json": `${JSON.stringify(report, null, 2)}\n`,
            ...(await scannerFigures(analysis, { onProgress: (what) => face.progress(`drawing ${what} ...`) })),
          },
          options.replace === undefined ? {} : { replace: options.replace },
        );
  if (options.json) face.print(JSON.stringify({ ...report, files }, null, 2));
  else show(face, analysis, inspection);
  if (!options.json && protocol !== undefined)
    face.print(`Protocol ${protocol}: nothing that is stated speaks against it`);
  if (!options.json && files.length > 0) face.print(`Written: ${files.join(", ")}`);
}

async function requestOf(options: ScannerOptions, scanner: ScannerAnalysis["scanner"]): Promise<ScannerRequest> {
  const { instabilityFromEmpties, ironDoseOf } = await import("../../workbench/index.js");
  const { tracer, time, ironDose, bodyMass, empties, emptyInterval } = options;
  if (empties !== undefined && emptyInterval === undefined)
    throw new FerruleError("MissingFact", {
      path: "--empty-interval",
      found: "empties without the time between them",
      accepted: '--empty-interval, e.g. "2 s"',
    });
  return {
    tracerFile: tracer,
    ...(time === undefined ? {} : { time_s: positive(time, "time", "--time") }),
    ...(ironDose === undefined ? {} : { dose: ironDoseOf({ ironDose, bodyMass }, scanner) }),
    ...(empties === undefined
      ? {}
      : { instability: instabilityFromEmpties(empties, positive(emptyInterval ?? "", "time", "--empty-interval")) }),
  };
}

function positive(text: string, kind: QuantityKind, path: string): number {
  const value = parseQuantity(text, kind, { path });
  if (value > 0) return value;
  throw new FerruleError("InvalidValue", { path, found: text, accepted: "a quantity above 0" });
}

function show(face: Face, analysis: ScannerAnalysis, { file, format, version }: Inspection): void {
  const { scanner, limits, advisories } = analysis;
  face.print(`${face.bold(file)}: sound ${format}, version ${version}`);
  face.print(scanner.name);
  section(face, "Field", fieldRows(analysis));
  section(face, "Coils at their largest field", coilRows(analysis), [1, 2, 3, 4, 5, 6, 7]);
  section(face, "Receive", receiveRows(analysis));
  section(face, "Detection (a point of Fe at the field-free point, all the time)", detectionRows(analysis));
  section(face, `Limits for part "${limits.subject}" and for staff, by class`, limitRows(analysis));
  face.print("");
  for (const advisory of advisories) for (const line of wrapText(`Caution: ${advisory}`)) face.print(line);
  for (const line of wrapText(limits.notice)) face.print(face.faint(line));
}

function section(face: Face, title: string, rows: string[][], right: number[] = []): void {
  if (rows.length === 0) return;
  face.print(face.bold(`\n${title}`));
  for (const line of alignedTable(rows, { right })) face.print(line);
}

const text = (value: number | null | undefined, kind: QuantityKind): string =>
  value === null || value === undefined ? "not known" : formatQuantity(value, kind, { digits: 4 });

const places = (values: readonly number[]): string =>
  values.map((value) => `${Number((value * 1e3).toFixed(3)) + 0} mm`).join(", ");

function fieldRows({ field }: ScannerAnalysis): string[][] {
  const { region, reference, principal, usable, edges, ballAtEdge } = field;
  const [line] = region.lines;
  const gradients = principal.values_T_per_m.map((value) => formatQuantity(value, "fieldGradient", { digits: 4 }));
  const along = (["x", "y", "z"] as const).map((axis) => {
    const [minus, plus] = usable.along[axis];
    const at = (reach: typeof minus) => `${(reach.distance_m * 1e3).toFixed(1)}${reach.isBore ? " (bore)" : ""}`;
    return `${axis} -${at(minus)} to ${at(plus)} mm`;
  });
  return [
    [
      "field-free",
      line === undefined
        ? `${region.kind} at ${places(reference.center_m)}`
        : `line through ${places(reference.center_m)}`,
    ],
    ...(line === undefined
      ? []
      : [
          [
            "  along",
            `(${line.direction.map((each) => Number(each.toFixed(4)) + 0).join(", ")}), straight within ${line.straightness_m < 1e-9 ? "1 nm" : text(line.straightness_m, "length")}`,
          ],
          [
            "  usable length",
            `${text(line.lengthBelow_m, "length")} with less than ${text(line.limit_T, "appliedField")} left`,
          ],
        ]),
    ["principal gradients", gradients.join(", ")],
    ["within 10 %", `${along.join("; ")} (common practice)`],
    [
      "",
      `sphere of radius ${text(usable.sphere.distance_m, "length")}; ${(100 * usable.volumeFraction).toFixed(0)} % of the bore`,
    ],
    ...edges
      .filter(({ axis }) => usable.along[axis].some(({ isBore }) => !isBore))
      .map(({ axis, distance_m, positionError_m, concentrationFactor }) => [
        `  at its end on ${axis}`,
        `iron at ${text(distance_m, "length")} is drawn ${text(Math.abs(positionError_m), "length")} too far ${positionError_m < 0 ? "in" : "out"}, its concentration x ${concentrationFactor.toFixed(3)}; the total is kept`,
      ]),
    ...(ballAtEdge === null
      ? []
      : [
          [
            "  a ball there",
            `of radius ${text(ballAtEdge.radius_m, "length")}: its own outline misses ${(100 * ballAtEdge.missedShare).toFixed(1)} % of its iron`,
          ],
        ]),
  ];
}

function coilRows({ power }: ScannerAnalysis): string[][] {
  if (power.coils.length === 0 && power.magnetMass_kg === 0)
    return [["no coil or magnet is stated: no power, voltage or mass"]];
  const head = ["coil", "current", "R", "L", "heat", "voltage", "apparent", "conductor"];
  const body = power.coils.map((coil) => [
    coil.name,
    text(coil.current_A, "current"),
    text(coil.resistance_Ohm, "resistance"),
    text(coil.inductance_H, "inductance"),
    text(coil.heat_W, "power"),
    text(coil.voltage_V, "voltage"),
    apparentPowerText(coil.apparentPower_VA),
    massText(coil.conductorMass_kg),
  ]);
  const magnets = power.magnetMass_kg === 0 ? [] : [["magnets", "", "", "", "", "", "", massText(power.magnetMass_kg)]];
  const total = ["in all", "", "", "", text(power.heat_W, "power"), "", "", massText(power.conductorMass_kg)];
  return [head, ...body, total, ...magnets, ...power.unknown.map((name) => [`not included: ${name}`])];
}

function receiveRows({ receive }: ScannerAnalysis): string[][] {
  return receive.flatMap(
    ({ axis, sensitivity_T_per_A, from, reachWithinTenPercent_m, noise, resonance, feedthrough_V, dynamicRange }) => [
      [`channel ${axis}`, `${text(sensitivity_T_per_A, "receiveSensitivity")} (${from})`],
      ...(reachWithinTenPercent_m === null
        ? []
        : [
            [
              "  within 10 %",
              `to ${reachWithinTenPercent_m.map((reach, i) => `${"xyz"[i]} ${reach === null ? "bore" : text(reach, "length")}`).join(", ")}`,
            ],
          ]),
      [
        "  noise",
        `${text(noise.total, "voltageNoise")} at ${text(noise.frequency_Hz, "frequency")}${noiseParts(noise)}`,
      ],
      ...(resonance === null
        ? []
        : [
            [
              "  resonance",
              `${text(resonance.frequency_Hz, "frequency")}, Q ${resonance.quality.toFixed(0)}, with the body ${resonance.loadedQuality.toFixed(0)}`,
            ],
          ]),
      ...(feedthrough_V === null
        ? []
        : [["  direct feedthrough", `${text(feedthrough_V, "voltage")} peak before the filter`]]),
      ...(dynamicRange === null
        ? []
        : [
            [
              "  digitiser",
              `${(100 * dynamicRange.fullScaleShare).toPrecision(3)} % of its range taken by feedthrough; ${dynamicRange.demanded_dB.toFixed(0)} dB demanded, ${dynamicRange.available_dB.toFixed(0)} dB available`,
            ],
          ]),
    ],
  );
}

function noiseParts({
  coil,
  body,
  amplifierVoltage,
  amplifierCurrent,
  quantisation,
}: ScannerAnalysis["receive"][number]["noise"]): string {
  if (coil === undefined || amplifierVoltage === undefined) return " (stated total)";
  const parts: readonly (readonly [string, number | undefined])[] = [
    ["coil", coil],
    ["body", body],
    ["e_n", amplifierVoltage],
    ["i_n", amplifierCurrent],
    ["rounding", quantisation],
  ];
  return `: ${parts.map(([name, value]) => `${name} ${text(value, "voltageNoise")}`).join(", ")}`;
}

function detectionRows({ detection }: ScannerAnalysis): string[][] {
  return detection.flatMap(({ tracer, axis, time_s, channels, limits, overTime, bandwidth_Hz }) => {
    const third = channels.find(({ order }) => order === 3);
    return [
      [
        `drive ${axis}, ${tracer}`,
        `${text(limits.noise.limits_kg.detection, "mass")} Fe noise-limited in ${text(time_s, "time")} (falls as 1/sqrt(t))`,
      ],
      ...(limits.background.standardUncertainty_kg > 0
        ? [
            [
              "  background",
              `${text(limits.background.limits_kg.detection, "mass")} Fe, does not fall with time; with harmonics weighted against both ${text(limits.reweighted.limits_kg.detection, "mass")} Fe`,
            ],
          ]
        : []),
      ...(third === undefined
        ? []
        : [["  third harmonic", `${text(third.signal_V_per_kg * 1e-12, "voltage")} peak per ng Fe`]]),
      ...(bandwidth_Hz === null
        ? []
        : [
            [
              "  spectrum",
              `falls to a half at ${text(bandwidth_Hz[0], "frequency")}, a tenth at ${text(bandwidth_Hz[1], "frequency")}, a hundredth at ${text(bandwidth_Hz[2], "frequency")}`,
            ],
          ]),
      ...(overTime === null
        ? []
        : [
            [
              "  from the empties",
              `best limit ${text(overTime.best.limit_kg, "mass")} Fe after ${text(overTime.best.time_s, "time")}${overTime.isBestAtEnd ? ", still falling" : ""}`,
            ],
          ]),
    ];
  });
}

function limitRows({ limits }: ScannerAnalysis): string[][] {
  const first = new Set(Object.values(limits.first));
  const head = ["class", "quantity", "value", "over limit"];
  const body = limits.bands.map((band) => [
    band.class,
    band.quantity,
    valueText(limits.lines.filter(({ class: name, quantity }) => name === band.class && quantity === band.quantity)),
    band.ratio === null ? "-" : bandText(band.ratio),
    band.verdict.split(";")[0],
    first.has(band) ? "reached first in its class" : "",
  ]);
  return [head, ...body];
}

/** One figure where all sources speak of the same. */
function valueText(lines: ScannerAnalysis["limits"]["lines"]): string {
  const values = new Set(lines.map(({ value, kind }) => formatQuantity(value, kind, { digits: 3 })));
  return values.size === 1 ? [...values][0] : "by source";
}

function bandText({ low, high }: { readonly low: number; readonly high: number }): string {
  return high - low < 0.005 * high ? ratioText(high) : `${ratioText(low)} to ${ratioText(high)}`;
}
