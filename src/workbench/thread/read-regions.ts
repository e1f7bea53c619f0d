import type { ReconstructionSettings, StudyCalibration } from "../../documents/index.js";
import {
  compressData,
  fullRasterOperator,
  periodBasis,
  type RasterGeometry,
  type RasterModel,
  type TikhonovSolver,
} from "../../imaging/index.js";
import {
  applyFunctional,
  type CalibrationPoint,
  driftVariance,
  innerProduct,
  type LabelledRegion,
  type MassFunctional,
  noiseCovariance,
  type RegionErrors,
  type RegionEstimators,
  type RegionReading,
  regionErrors,
  regionEstimators,
} from "../../measure/index.js";
import type { ScanRows } from "./voltage-rows.js";

/** Everything about regions and vials that does not depend on the measured voltages. */
export interface RegionPlan {
  readonly regions: RegionEstimators;
  readonly errors: readonly RegionErrors[];
  readonly vial: MassFunctional;
  /** Change of each estimator for +1 sd of the tracer's width, per kg in each region: [region i × region j] */
  readonly widthEffect: Float64Array;
  readonly vialWidthEffect: number;
}

export function planRegions(
  model: RasterModel,
  solver: TikhonovSolver,
  {
    regions,
    calibration,
    settings,
    widerGeometry,
  }: {
    regions: readonly LabelledRegion[];
    calibration: StudyCalibration;
    settings: ReconstructionSettings;
    /** The same geometry with a tracer whose width is one standard uncertainty larger. */
    widerGeometry: RasterGeometry;
  },
): RegionPlan {
  const halo = { across_m: settings.haloAcross_m, along_m: settings.haloAlong_m };
  const uncertainty = { contour_m: settings.contourUncertainty_m, position_m: settings.positionUncertainty_m };
  const estimators = regionEstimators(model, solver, { regions, halo, uncertainty });
  const vialRegion = { label: "vial", shape: calibration.contour };
  const vials = regionEstimators(model, solver, {
    regions: [vialRegion],
    halo,
    // A vial sits in its holder; what its place adds is in its own stated uncertainty.
    uncertainty: { contour_m: 0, position_m: 0 },
  });
  const wider = fullRasterOperator(widerGeometry);
  const difference = (response: Float64Array, unit: Float64Array) => {
    const other = compressData(wider.forward(unit), model.compression);
    for (let i = 0; i < other.length; i++) other[i] -= response[i];
    return other;
  };
  const changes = estimators.families.map(({ expected }, j) => difference(estimators.responses[j], expected));
  const n = regions.length;
  const widthEffect = new Float64Array(n * n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) widthEffect[i * n + j] = innerProduct(estimators.estimators[i].compressed, changes[j]);
  return {
    regions: estimators,
    errors: regionErrors(model, estimators),
    vial: vials.estimators[0],
    widthEffect,
    vialWidthEffect: innerProduct(
      vials.estimators[0].compressed,
      difference(vials.responses[0], vials.families[0].expected),
    ),
  };
}

/** Readings of all regions in one object scan, with what is needed for their budgets. */
export function readRegions(
  plan: RegionPlan,
  scan: ScanRows,
  { geometry, name }: { geometry: RasterGeometry; name: string },
): RegionReading[] {
  const basis = periodBasis(geometry.raster.samplesPerPeriod, geometry.harmonics.first, geometry.harmonics.last);
  const { estimators } = plan.regions;
  const masses = estimators.map((estimator) => applyFunctional(estimator, scan.harmonics));
  const n = estimators.length;
  const others = (i: number) => masses.map((mass, j) => (j === i ? 0 : mass));
  return estimators.map((estimator, i) => {
    const neighbourWidth = others(i).reduce((sum, mass, j) => sum + mass * plan.widthEffect[i * n + j], 0);
    const neighbours = others(i).map((mass, j) => {
      const { shape, contour, position } = plan.errors[j];
      return mass * Math.hypot(shape[i], contour[i], position[i]);
    });
    return {
      region: estimator.label,
      scan: name,
      reading_kg: masses[i],
      noise_kg: Math.sqrt(noiseCovariance(estimator, estimator, scan.prepared, basis)),
      noiseDegreesOfFreedom: scan.prepared.noiseDegreesOfFreedom,
      drift_kg: Math.sqrt(driftVariance(estimator, scan.prepared, basis)),
      driftDegreesOfFreedom: scan.prepared.blocks - 2,
      ownWidthPerKg: plan.widthEffect[i * n + i],
      neighbourWidth_kg: neighbourWidth,
      calibrationWidthPerKg: plan.vialWidthEffect,
      shapePerKg: plan.errors[i].shape[i],
      contourPerKg: plan.errors[i].contour[i],
      positionPerKg: plan.errors[i].position[i],
      neighbours_kg: Math.hypot(...neighbours),
    };
  });
}

/** One vial's point on the calibration line. */
export function readVial(
  plan: RegionPlan,
  scan: ScanRows,
  { geometry, vial }: { geometry: RasterGeometry; vial: StudyCalibration["vials"][number] },
): CalibrationPoint {
  const basis = periodBasis(geometry.raster.samplesPerPeriod, geometry.harmonics.first, geometry.harmonics.last);
  const variance =
    noiseCovariance(plan.vial, plan.vial, scan.prepared, basis) + driftVariance(plan.vial, scan.prepared, basis);
  return {
    label: vial.label,
    reading_kg: applyFunctional(plan.vial, scan.harmonics),
    readingUncertainty_kg: Math.sqrt(variance),
    iron_kg: vial.ironMass_kg,
    ironUncertainty_kg: vial.standardUncertainty_kg,
  };
}
