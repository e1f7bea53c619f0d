import { describe, expect, it } from "vitest";
import { contourLabels } from "./contour-labels.js";

const frame = { left: 0, right: 200, low: 0, high: 200 };
const circle = (r: number) =>
  Array.from({ length: 121 }, (_, i) => {
    const a = (2 * Math.PI * i) / 120;
    return [100 + r * Math.cos(a), 100 + r * Math.sin(a)] as const;
  });
const level = (r: number, ...words: string[]) => ({ words, lines: [circle(r)] });

describe("contourLabels", () => {
  it("sets every label on its own line, inside the frame and off the others", () => {
    const labels = contourLabels([level(30, "10"), level(60, "20"), level(90, "30")], { frame });
    expect(labels.map(({ words }) => words)).toEqual(["10", "20", "30"]);
    labels.forEach(({ x, y }, i) => {
      expect(Math.hypot(x - 100, y - 100)).toBeCloseTo(30 * (i + 1), 9);
      expect(x).toBeGreaterThan(9);
      expect(x).toBeLessThan(191);
    });
    labels.forEach((a, i) => {
      for (const b of labels.slice(i + 1)) expect(Math.abs(a.x - b.x) > 18 || Math.abs(a.y - b.y) > 13).toBe(true);
    });
  });
  it("takes the next words where the first are too long, and none on a line that is too short", () => {
    const long = "10 % (common practice)";
    expect(contourLabels([level(60, long, "10 %")], { frame })[0].words).toBe("10 %");
    expect(contourLabels([level(60, long)], { frame: { ...frame, right: 400 } })[0].words).toBe(long);
    expect(contourLabels([level(3, "1")], { frame })).toEqual([]);
    expect(contourLabels([{ words: ["1"], lines: [] }], { frame })).toEqual([]);
  });
  it("keeps off other lines where it can, and still labels where it can't", () => {
    const others = circle(60).filter(([x]) => x < 140);
    const [{ x }] = contourLabels([level(60, "20")], { frame, others });
    expect(x).toBeGreaterThan(140);
    expect(contourLabels([level(60, "20")], { frame, others: circle(60) })).toHaveLength(1);
  });
});
