import { describe, expect, it } from "vitest";
import { stream } from "../../numerics/index.js";
import { effectSd } from "./shape-family.js";

describe("effectSd", () => {
  it("equals the sd of a t + b t²/2 over a standard normal t", () => {
    const [a, b] = [0.3, -0.8];
    const effect = (t: number) => a * t + (b * t * t) / 2;
    const random = stream(7);
    const values = Array.from({ length: 200_000 }, () => effect(random.normal()));
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    const sd = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length);
    expect(effectSd(effect(-1), effect(0), effect(1)) / sd).toBeCloseTo(1, 2); // 2e5 draws: 0.3 % of the sd
    expect(mean).toBeCloseTo(b / 2, 2);
  });
});
