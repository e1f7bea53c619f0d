import type { ScannerAnalysis } from "./analyse-scanner.js";
import type { FieldAnalysis } from "./field-analysis.js";

/** The analysis as plain data for a machine: SI, names with units. */
export function scannerReport({ field, power, receive, detection, limits, advisories }: ScannerAnalysis) {
  return {
    fieldFree: fieldFreeOf(field),
    gradient_T_per_m: rows(field.reference.gradient_T_per_m),
    principalGradients_T_per_m: field.principal.values_T_per_m,
    principalDirections: field.principal.directions,
    withinTenPercent: withinTenPercent(field),
    selfCheck: field.selfCheck,
    coils: power.coils,
    totals: {
      heat_W: power.heat_W,
      selectionEnergy_J: power.selectionEnergy_J,
      conductorMass_kg: power.conductorMass_kg,
      magnetMass_kg: power.magnetMass_kg,
      notIncluded: power.unknown,
    },
    noise: receive.map(({ axis, noise }) => ({ axis, ...noise, unit: "V/Hz^0.5" })),
    receive: receive.map(({ noise: _, advisories: __, ...channel }) => channel),
    detection: detection.map(detectionOf),
    subject: limits.subject,
    limits: limits.lines,
    limitBands: limits.bands,
    firstLimit: firstByClass(limits),
    advisories,
    cautions: limits.cautions,
    notice: limits.notice,
  };
}

/** Every class that was looked at; null: no published threshold in our sources. */
function firstByClass({ bands, first }: ScannerAnalysis["limits"]) {
  const classes = [...new Set(bands.map((band) => band.class))];
  return Object.fromEntries(classes.map((name) => [name, first[name] ?? null]));
}

function fieldFreeOf({ region, reference }: FieldAnalysis) {
  const [line] = region.lines;
  return {
    kind: region.kind,
    position_m: reference.center_m,
    residual_T: line === undefined ? (region.zeros[0]?.residual_T ?? null) : line.largestResidual_T,
    ...(line === undefined
      ? { others: region.zeros.slice(1).map(({ position_m, isInside }) => ({ position_m, isInside })) }
      : {
          direction: line.direction,
          straightness_m: line.straightness_m,
          lengthBelowLimit_m: line.lengthBelow_m,
          residualLimit_T: line.limit_T,
        }),
    evaluations: region.evaluations,
  };
}

function withinTenPercent({ usable, edges, ballAtEdge }: FieldAnalysis) {
  return {
    share: usable.share,
    basis: "gradient error below 10 % of the gradient at the centre: common practice",
    along: usable.along,
    sphereRadius_m: usable.sphere.distance_m,
    sphereReachesBore: usable.sphere.isBore,
    cylinder: usable.cylinder,
    boreVolumeFraction: usable.volumeFraction,
    edges,
    ballAtEdge,
  };
}

function rows(tensor: Float64Array): number[][] {
  return [0, 3, 6].map((start) => Array.from(tensor.subarray(start, start + 3)));
}

function detectionOf({ limits, channels, ...rest }: ScannerAnalysis["detection"][number]) {
  const perNanogram = channels.map(({ order, signal_V_per_kg, ...channel }) => ({
    order,
    signalPerNanogramFe_V: signal_V_per_kg * 1e-12,
    ...channel,
  }));
  return {
    ...rest,
    channels: perNanogram,
    noiseLimited: limits.noise,
    backgroundLimited: limits.background,
    combinedByHarmonic: limits.reweighted,
    element: "Fe",
  };
}
