import { describe, expect, it } from "vitest";
import { denseAdjoint, denseNormal, denseSolve } from "../../../checks/imaging/dense-normal.js";
import { smallGeometry } from "../../../checks/imaging/small-raster.js";
import {
  fullRasterOperator,
  periodBasis,
  projectFrames,
  rasterFrames,
  rasterModel,
  recordVoltage,
  sampleNoise_V,
  subtractEmpties,
  tikhonov,
} from "../../imaging/index.js";
import { chiSquareQuantile, stream } from "../../numerics/index.js";
import { applyFunctional, combineFunctionals, massFunctional, noiseCovariance } from "./mass-functional.js";
import { softRegionWeights } from "./soft-region.js";

const geometry = smallGeometry({
  linesA: 5,
  linesB: 4,
  pitch_m: 1.5e-3,
  samplesPerPeriod: 32,
  patchesPerEmpty: 7,
  framesPerEmpty: 2,
});
const { raster } = geometry;
const basis = periodBasis(32, 2, 9);
const model = rasterModel(geometry);
const solver = tikhonov(model, { relativeWeight: 1e-2 });
const halo = { across_m: 1e-3, along_m: 1e-3 };
const regionAt = (x_m: number) =>
  softRegionWeights(geometry, { kind: "sphere", center_m: [x_m, 0, 0], diameter_m: 2e-3 }, halo);
const near = massFunctional(model, solver, { label: "near", weights: regionAt(-1e-3) });
const far = massFunctional(model, solver, { label: "far", weights: regionAt(1.5e-3) });

describe("region mass as a functional of the voltage", () => {
  it("equals the region's sum over the map of a dense inversion", () => {
    const dense = denseNormal(geometry);
    const truth = Float64Array.from({ length: 160 }, (_, i) => Math.sin(i) ** 2);
    const y = fullRasterOperator(geometry).forward(truth);
    const map = denseSolve(dense, solver.weight, denseAdjoint(dense, y));
    const expected = regionAt(-1e-3).reduce((sum, weight, i) => sum + weight * map[i], 0);
    expect(applyFunctional(near, y) / expected).toBeCloseTo(1, 8);
  });

  it("mixes linearly", () => {
    const mixed = combineFunctionals("difference", [near, far], [2, -0.5]);
    const y = stream(2).fillNormal(new Float64Array(near.z.length));
    expect(applyFunctional(mixed, y)).toBeCloseTo(2 * applyFunctional(near, y) - 0.5 * applyFunctional(far, y), 15);
    expect(mixed.label).toBe("difference");
  });
});

describe("its noise, through recording, filter, empties and harmonics", () => {
  const nuisances = {
    noise_V_per_rtHz: 1e-9,
    feedthrough_V: 1e-6,
    distortion: 0.1,
    driftAmplitude: 0,
    drift_s: 1,
  };
  const replicas = 500;
  const both = combineFunctionals("sum", [near, far], [1, 1]);
  const [squares, closed] = [new Float64Array(3), new Float64Array(3)];
  let zero: ReturnType<typeof subtractEmpties> | undefined;
  for (let replica = 0; replica < replicas; replica++) {
    const scan = subtractEmpties(recordVoltage(undefined, raster, nuisances, stream(21, 0, replica)), raster);
    const y = projectFrames(scan.frames, basis.sine, 32);
    zero ??= scan;
    [near, far, both].forEach((functional, i) => {
      squares[i] += applyFunctional(functional, y) ** 2;
      closed[i] += noiseCovariance(functional, functional, scan, basis) / replicas;
    });
  }
  if (zero === undefined) throw new Error("no replica");
  const exact = { ...zero, noise_V: sampleNoise_V(nuisances, raster) };

  it.each([0, 1, 2])("variance %i equals that of 500 replicas (exact χ², two-sided 1e-3 over three)", (i) => {
    const functional = [near, far, both][i];
    const statistic = squares[i] / noiseCovariance(functional, functional, exact, basis);
    expect(statistic).toBeGreaterThan(chiSquareQuantile(1e-3 / 6, replicas));
    expect(statistic).toBeLessThan(chiSquareQuantile(1 - 1e-3 / 6, replicas));
    // The scan's own noise estimate gives the same on average (1.8e5 degrees of freedom: 0.3 %, four of them).
    expect(closed[i] / noiseCovariance(functional, functional, exact, basis)).toBeCloseTo(1, 1);
    expect(Math.abs(closed[i] / noiseCovariance(functional, functional, exact, basis) - 1)).toBeLessThan(0.014);
  });

  it("covariance and variances belong together: var(a + b) = var a + 2 cov + var b", () => {
    const cov = (a: typeof near, b: typeof near) => noiseCovariance(a, b, exact, basis);
    const sum = cov(near, near) + cov(near, far) + cov(far, near) + cov(far, far);
    expect(cov(both, both) / sum).toBeCloseTo(1, 12);
    expect(cov(near, far)).toBe(cov(far, near));
  });

  it("the empties matter: without their common part the replicas refute it", () => {
    const perHarmonic = (exact.noise_V ** 2 * 2) / 32;
    const patchesOnly = perHarmonic * both.z.reduce((sum, value) => sum + value * value, 0);
    expect(squares[2] / patchesOnly).toBeGreaterThan(chiSquareQuantile(1 - 1e-6, replicas));
    expect(rasterFrames(raster).filter(({ patch }) => patch < 0)).toHaveLength(20);
  });
});
