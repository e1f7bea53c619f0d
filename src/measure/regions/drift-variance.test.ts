import { describe, expect, it } from "vitest";
import { smallGeometry } from "../../../checks/imaging/small-raster.js";
import { periodBasis, projectFrames, rasterFrames, removeFundamental, subtractEmpties } from "../../imaging/index.js";
import { chiSquareQuantile, stream } from "../../numerics/index.js";
import { driftVariance } from "./drift-variance.js";
import { applyFunctional, type MassFunctional, noiseCovariance } from "./mass-functional.js";

const n = 24;
/** 90 patches in 9 equal gaps of 10, ten blocks of 3 empties. */
const { raster } = smallGeometry({
  linesA: 6,
  linesB: 5,
  patches: 3,
  samplesPerPeriod: n,
  patchesPerEmpty: 10,
  framesPerEmpty: 3,
});
const order = rasterFrames(raster);
const basis = periodBasis(n, 2, 9);
const shape = removeFundamental(stream(3).fillNormal(new Float64Array(n)), n);
const shapeRows = projectFrames(shape, basis.sine, n);

/** One weight for all patches on every harmonic: what "common to its patches" means. */
const level: MassFunctional = { label: "level", z: new Float64Array(90 * 8).fill(1), compressed: new Float64Array(0) };

function scanOf(size: (frame: number) => number, noise?: Float64Array) {
  const voltage = new Float64Array(order.length * n);
  order.forEach((_, frame) => {
    for (let j = 0; j < n; j++) voltage[frame * n + j] = size(frame) * shape[j] + (noise?.[frame * n + j] ?? 0);
  });
  const scan = subtractEmpties(removeFundamental(voltage, n), raster);
  return { scan, rows: projectFrames(scan.frames, basis.sine, n) };
}

/** Steps between patches, none inside a block of empties. */
function walk(seed: number): Float64Array {
  const random = stream(17, 0, seed);
  let at = 0;
  return Float64Array.from(order, ({ patch }) => {
    if (patch >= 0) at += random.normal();
    return at;
  });
}

describe("drift from how badly each block is predicted by its neighbours", () => {
  it("is nothing for a constant or linear drift, and for a drift that the functional does not see", () => {
    for (const size of [() => 3, (frame: number) => 3 - 2 * order[frame].time_s]) {
      const { scan } = scanOf(size);
      expect(driftVariance(level, scan, basis)).toBeLessThan(1e-20);
    }
    const blind: MassFunctional = { ...level, z: new Float64Array(90 * 8) };
    expect(driftVariance(blind, scanOf((frame) => walk(1)[frame]).scan, basis)).toBe(0);
  });

  it("of one known miss is half of the parabola's share, gap by gap", () => {
    // One block out of line by 1: it is missed by 1, each neighbour by −1/2; mean square (1 + 1/4 + 1/4)/8.
    const { scan } = scanOf((frame) => (order[frame].emptyBlock === 4 ? 1 : 0));
    const seen = shapeRows.reduce((sum, value) => sum + value, 0);
    let expected = 0;
    for (let gap = 0; gap < 9; gap++) {
      let bump = 0;
      scan.emptyWeights.block.forEach((block, patch) => {
        const late = scan.emptyWeights.late[patch];
        if (block === gap) bump += 4 * late * (1 - late);
      });
      expected += ((bump * seen) ** 2 * 1.5) / 8 / 2;
    }
    expect(driftVariance(level, scan, basis) / expected).toBeCloseTo(1, 6);
  });

  it("of a random walk is what its closed form says, on the safe side of what the walk does (400 scans)", () => {
    let [estimated, squares] = [0, 0];
    let bump = 0;
    for (let seed = 0; seed < 400; seed++) {
      const steps = walk(seed);
      const { scan, rows } = scanOf((frame) => steps[frame]);
      estimated += driftVariance(level, scan, basis) / 400;
      squares += applyFunctional(level, rows) ** 2;
      bump = scan.emptyWeights.late.slice(0, 10).reduce((sum, late) => sum + 4 * late * (1 - late), 0);
    }
    const seen2 = shapeRows.reduce((sum, value) => sum + value, 0) ** 2;
    // Ten unit steps a gap. Step i moves the patches from i on and, through the later block, half of all ten:
    // Σ (11 − i − 5)² = 85 a gap. A miss over two gaps has variance (10 + 10)/4; the estimator takes half of it.
    const actual = 9 * 85 * seen2;
    expect(squares / actual).toBeGreaterThan(chiSquareQuantile(5e-4, 400));
    expect(squares / actual).toBeLessThan(chiSquareQuantile(1 - 5e-4, 400));
    // Mean of 400 averages over 8 squares, neighbours correlated: 3 % (1 sd), four of them.
    expect(Math.abs(estimated / (9 * 2.5 * bump ** 2 * seen2) - 1)).toBeLessThan(0.12);
    expect((2.5 * bump ** 2) / 85).toBeGreaterThan(1.3);
    expect((2.5 * bump ** 2) / 85).toBeLessThan(2);
  });

  it("of a smooth drift is 8 times what a parabola does within one gap: 2.8 times in sd, on the safe side", () => {
    const { scan: measured, rows } = scanOf((frame) => 100 * order[frame].time_s ** 2);
    // This parabola is steep enough to move inside a block, which the scan takes for noise; here only the drift is asked.
    const scan = { ...measured, noise_V: 0 };
    const inGap = (patch: number) => scan.emptyWeights.block[patch] === 4;
    const local: MassFunctional = { ...level, z: level.z.map((_, i) => (inGap(Math.floor(i / 8)) ? 1 : 0)) };
    // A parabola strays over one gap a quarter of what it is missed by over two; half the variance is taken: 16/2.
    // The blocks' own length adds 4 % to the voltage.
    const ratio = driftVariance(local, scan, basis) / applyFunctional(local, rows) ** 2;
    expect(ratio).toBeGreaterThan(7);
    expect(ratio).toBeLessThan(8.1);
  });

  it("of coil noise alone stays far below the noise's own variance", () => {
    let [drift, noise] = [0, 0];
    for (let seed = 0; seed < 200; seed++) {
      const { scan } = scanOf(() => 0, stream(19, 0, seed).fillNormal(new Float64Array(order.length * n)));
      drift += driftVariance(level, scan, basis);
      noise += noiseCovariance(level, level, scan, basis);
    }
    // The noise of the misses is subtracted; what is left is scatter, cut off at 0: measured 10 %.
    expect(drift / noise).toBeLessThan(0.2);
  });

  it("cannot be judged from two blocks of empties", () => {
    const few = { ...raster, patchesPerEmpty: 90 };
    const scan = subtractEmpties(new Float64Array(rasterFrames(few).length * n), few);
    expect(driftVariance(level, scan, basis)).toBeNaN();
  });
});
