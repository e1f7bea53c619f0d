import { describe, expect, it } from "vitest";
import { z } from "zod";
import { quantity } from "./quantity-field.js";

function problem(field: z.ZodType, written: unknown) {
  const result = field.safeParse(written);
  if (result.success) throw new Error(`accepted: ${String(written)}`);
  const issue = result.error.issues[0];
  return issue?.code === "custom" ? issue.params : issue?.code;
}

describe("quantity", () => {
  const field = quantity("length", { example: "25 nm", min: "1 nm", max: "1 um" });

  it.each([
    ["1 nm", 1e-9],
    ["25nm", 25e-9],
    ["1 um", 1e-6],
  ])("%s is %f m", (written, length_m) => {
    // A decimal times a power of ten is off by a rounding or two of a double, 1.1e-16 each.
    expect(Math.abs((field.parse(written) as number) / length_m - 1)).toBeLessThan(1e-15);
  });

  it("refuses what lies outside the limits, and says them as written", () => {
    expect(problem(field, "0.9 nm")).toMatchObject({
      code: "InvalidValue",
      found: '"0.9 nm"',
      accepted: 'length at least 1 nm, at most 1 um, e.g. "25 nm"',
    });
    expect(problem(field, "1.1 um")).toMatchObject({ code: "InvalidValue" });
    expect(problem(quantity("time", { positive: true }), "0 s")).toMatchObject({
      accepted: 'time above 0, e.g. "10 us"',
    });
  });

  it("refuses numbers and text without unit, and units that do not fit", () => {
    expect(problem(field, 25)).toBe("invalid_type");
    expect(problem(field, "25")).toMatchObject({ code: "UnitMismatch" });
    expect(problem(field, "25 mT")).toMatchObject({ code: "UnitMismatch" });
    expect(problem(field, "")).toMatchObject({ found: '""' });
  });

  it("takes bare numbers for fractions and pure numbers only", () => {
    expect(quantity("fraction").parse(0.05)).toBe(0.05);
    expect(quantity("fraction").parse("5 %")).toBe(0.05);
    expect(quantity("dimensionless").parse("2")).toBe(2);
  });

  it("carries kind, example and limits into JSON Schema", () => {
    expect(z.toJSONSchema(z.strictObject({ a: field.optional() }), { io: "input" }).properties?.a).toEqual({
      type: "string",
      description: "length with its unit",
      examples: ["25 nm"],
      "x-quantity-kind": "length",
      "x-quantity-minimum": "1 nm",
      "x-quantity-maximum": "1 um",
    });
  });
});
