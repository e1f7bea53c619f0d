import type { ScannerAnalysis } from "../../workbench/index.js";
import { knownText } from "./scanner-text.js";

type Detection = ScannerAnalysis["detection"][number];

/** Rows of the detection estimate: name and words; those of one drive follow each other. */
export function detectionRows({ detection }: ScannerAnalysis): string[][] {
  return detection.flatMap((each) => [
    [
      `drive ${each.axis}, ${each.tracer}`,
      `${knownText(each.limits.noise.limits_kg.detection, "mass")} Fe noise-limited in ${knownText(each.time_s, "time")} (falls as 1/sqrt(t))`,
    ],
    ...backgroundRows(each),
    ...spectrumRows(each),
    ...overTimeRows(each),
  ]);
}

function backgroundRows({ limits: { background }, backgroundTogether_kg, bothTogether_kg }: Detection): string[][] {
  if (background.standardUncertainty_kg === 0) return [];
  const [together, apart] = [backgroundTogether_kg, background.limits_kg.detection].map((mass) =>
    knownText(mass, "mass"),
  );
  return [
    [
      "  background",
      `${together} Fe if its harmonics drift together (${apart} if each on its own), does not fall with time; with noise ${knownText(bothTogether_kg, "mass")} Fe`,
    ],
  ];
}

function spectrumRows({ channels, bandwidth_Hz }: Detection): string[][] {
  const third = channels.find(({ order }) => order === 3);
  const signal = third === undefined ? "" : `${knownText(third.signal_V_per_kg * 1e-12, "voltage")} peak per ng Fe`;
  const [half, tenth, hundredth] = (bandwidth_Hz ?? []).map((frequency_Hz) => knownText(frequency_Hz, "frequency"));
  return [
    ...(third === undefined ? [] : [["  third harmonic", signal]]),
    ...(bandwidth_Hz === null
      ? []
      : [["  spectrum", `falls to a half at ${half}, a tenth at ${tenth}, a hundredth at ${hundredth}`]]),
  ];
}

function overTimeRows({ overTime }: Detection): string[][] {
  if (overTime === null) return [];
  const { best, isBestAtEnd } = overTime;
  const words = `best limit ${knownText(best.limit_kg, "mass")} Fe after ${knownText(best.time_s, "time")}`;
  return [["  from the empties", `${words}${isBestAtEnd ? ", still falling" : ""}`]];
}
