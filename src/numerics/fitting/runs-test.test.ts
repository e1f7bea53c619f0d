import { describe, expect, it } from "vitest";
import { stream } from "../random/stream.js";
import { lagOneAutocorrelation } from "./autocorrelation.js";
import { runsTest } from "./runs-test.js";

/** Every arrangement of the signs, counted: certain, and only possible for few. */
function enumerated(n1: number, n2: number): Map<number, number> {
  const counts = new Map<number, number>();
  const n = n1 + n2;
  for (let code = 0; code < 2 ** n; code++) {
    const bits = Array.from({ length: n }, (_, i) => (code >> i) & 1);
    if (bits.reduce((sum, bit) => sum + bit, 0) !== n1) continue;
    const runs = bits.filter((bit, i) => i === 0 || bit !== bits[i - 1]).length;
    counts.set(runs, (counts.get(runs) ?? 0) + 1);
  }
  return counts;
}

/** Some sequence with these counts and this number of runs (long runs first). */
function sequence(n1: number, n2: number, runs: number): number[] {
  const [first, second] = n1 >= n2 ? [1, -1] : [-1, 1];
  const counts = [Math.max(n1, n2), Math.min(n1, n2)];
  const signs = Array.from({ length: runs }, (_, i) => i % 2);
  return signs.flatMap((which, i) => {
    const later = signs.slice(i + 1).filter((other) => other === which).length;
    const take = counts[which] - later;
    const length = i < 2 ? take : 1;
    counts[which] -= length;
    return Array(length).fill(which === 0 ? first : second);
  });
}

describe("runs test", () => {
  it.each([
    [3, 4],
    [5, 5],
    [7, 2],
    [6, 8],
  ])("has the exact tails of enumeration, %i and %i signs", (n1, n2) => {
    const counts = enumerated(n1, n2);
    const total = Array.from(counts.values()).reduce((sum, count) => sum + count, 0);
    for (const runs of counts.keys()) {
      const test = runsTest(sequence(n1, n2, runs));
      expect(test.runs).toBe(runs);
      const tail = (keep: (r: number) => boolean) =>
        Array.from(counts).reduce((sum, [r, count]) => sum + (keep(r) ? count : 0), 0) / total;
      expect(test.pTooFew).toBeCloseTo(
        tail((r) => r <= runs),
        12,
      );
      expect(test.pTooMany).toBeCloseTo(
        tail((r) => r >= runs),
        12,
      );
      expect(test.method).toBe("exact");
    }
  });

  it("gives a worked example: ++--: 2 runs, p = 2/6 of too few", () => {
    expect(runsTest([1, 2, -1, -3])).toMatchObject({ runs: 2, positive: 2, negative: 2, expectedRuns: 3 });
    expect(runsTest([1, 2, -1, -3]).pTooFew).toBeCloseTo(1 / 3, 14);
  });

  it("meets its normal approximation for many", () => {
    const residuals = stream(1).fillNormal(new Float64Array(900));
    const exact = runsTest(residuals);
    const normal = runsTest(residuals, { exactUpTo: 0 });
    expect([exact.method, normal.method]).toEqual(["exact", "normal"]);
    expect(Math.abs(exact.pTooFew - normal.pTooFew)).toBeLessThan(2e-3);
  });

  it("rejects as often as it says (conservatively, being discrete)", () => {
    let rejected = 0;
    const source = stream(2);
    for (let k = 0; k < 4000; k++) if (runsTest(source.fillNormal(new Float64Array(60))).pTwoSided <= 0.05) rejected++;
    // At most 5 %, and within what the steps of p allow: 200 expected at most, ±3.5 sd.
    expect(rejected).toBeLessThan(250);
    expect(rejected).toBeGreaterThan(80);
  });

  it("sees a slow drift, and alternation", () => {
    expect(runsTest(Array.from({ length: 40 }, (_, i) => Math.sin(i / 6))).pTooFew).toBeLessThan(1e-6);
    expect(runsTest(Array.from({ length: 40 }, (_, i) => (-1) ** i)).pTooMany).toBeLessThan(1e-6);
  });

  it("leaves zeros out, says when it cannot tell, refuses NaN", () => {
    expect(runsTest([1, 0, 2, 0, -1])).toMatchObject({ runs: 2, positive: 2, negative: 1 });
    expect(runsTest([1, 2, 3])).toMatchObject({ isInformative: false, pTwoSided: 1 });
    expect(runsTest([])).toMatchObject({ runs: 0, isInformative: false });
    expect(() => runsTest([1, Number.NaN])).toThrow(/residuals\[1\]/);
  });
});

describe("lag-1 autocorrelation", () => {
  it("is the closed form for alternation and for a constant", () => {
    expect(lagOneAutocorrelation([1, -1, 1, -1]).r1).toBeCloseTo(-3 / 4, 15);
    expect(lagOneAutocorrelation([2, 2, 2, 2]).r1).toBeCloseTo(3 / 4, 15);
    expect(lagOneAutocorrelation([0, 0]).r1).toBeNaN();
  });
  it("finds 0.6 in an autoregressive sequence", () => {
    const source = stream(3);
    let value = 0;
    const residuals = Array.from({ length: 20_000 }, () => {
      value = 0.6 * value + source.normal();
      return value;
    });
    // Standard error √((1 − 0.36)/n) = 0.006.
    expect(Math.abs(lagOneAutocorrelation(residuals).r1 - 0.6)).toBeLessThan(0.024);
  });
});
