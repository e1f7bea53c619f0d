import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { isKnownError } from "../../errors.js";
import { writeNpy } from "../../formats/index.js";
import { stream } from "../../numerics/index.js";
import { instabilityFromEmpties } from "./empties-file.js";

const folder = mkdtempSync(join(tmpdir(), "ferrule-empties-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function written(name: string, values: Float64Array, shape: readonly number[] = [values.length]): string {
  const file = join(folder, `${name}.npy`);
  writeFileSync(file, writeNpy({ shape: [...shape], data: values, type: "<f8" }));
  return file;
}

const codeOf = (run: () => unknown): string => {
  try {
    run();
  } catch (error) {
    if (isKnownError(error)) return error.code;
    throw error;
  }
  return "nothing refused";
};

describe("Allan deviation of empties", () => {
  it("of white noise about a mean is sd/mean at one interval, and falls as 1/sqrt(t)", () => {
    const n = 8192;
    const random = stream(20261125, 5, 0);
    const values = Float64Array.from({ length: n }, () => 4 + 0.02 * random.normal());
    const found = instabilityFromEmpties(written("white", values), 2);
    expect(found[0].time_s).toBe(2);
    // White noise: Allan deviation = sd/sqrt(m); at 8192 samples it is known to about 1.2 % at m = 1, 4 sd allowed.
    expect(Math.abs(found[0].relativeDeviation / 0.005 - 1)).toBeLessThan(0.05);
    const at16 = found.find(({ time_s }) => time_s === 32);
    // About 512 pairs are left: 3 to 4 %, 4 sd allowed.
    expect(Math.abs(((at16?.relativeDeviation ?? 0) * 4) / 0.005 - 1)).toBeLessThan(0.15);
  });

  it("of a straight drift grows with t: slope t/sqrt(2), over the mean", () => {
    const values = Float64Array.from({ length: 64 }, (_, i) => 10 + 0.01 * i);
    const mean = 10 + 0.01 * 31.5;
    for (const { time_s, relativeDeviation } of instabilityFromEmpties(written("drift", values), 3))
      expect((relativeDeviation * mean) / ((0.01 / 3) * time_s)).toBeCloseTo(Math.SQRT1_2, 9);
  });

  it("does not depend on the sign of the mean", () => {
    const values = Float64Array.from({ length: 32 }, (_, i) => 3 + ((i * 7) % 5) / 10);
    const [plus, minus] = [values, values.map((value) => -value)].map((each, i) =>
      instabilityFromEmpties(written(`sign-${i}`, each), 1),
    );
    expect(minus).toEqual(plus);
  });

  it("is refused for a table, for few empties, for a mean of zero or of no number", () => {
    const eight = Float64Array.from([1, -1, 1, -1, 1, -1, 1, -1]);
    expect(codeOf(() => instabilityFromEmpties(written("table", new Float64Array(16).fill(1), [4, 4]), 1))).toBe(
      "ShapeMismatch",
    );
    expect(codeOf(() => instabilityFromEmpties(written("few", new Float64Array(7).fill(1)), 1))).toBe("ShapeMismatch");
    expect(codeOf(() => instabilityFromEmpties(written("zero", eight), 1))).toBe("NotIdentifiable");
    expect(
      codeOf(() =>
        instabilityFromEmpties(
          written(
            "nan",
            eight.map(() => Number.NaN),
          ),
          1,
        ),
      ),
    ).toBe("NotIdentifiable");
  });
});
