import { describe, expect, it } from "vitest";
import { ellipticTorso, typicalBody } from "../body.js";
import type { Drive } from "../drive.js";
import { bodyHeating } from "./body-heating.js";
import { ellipticField_V_per_m } from "./elliptic-section.js";
import { tissueConductivity, tissues } from "./tissue-conductivity.js";
import { adiabaticWarming_K_per_s } from "./warming-rate.js";

const torso = typicalBody("human-torso");
const drive: Drive = { axis: "z", amplitude_T: 6e-3, frequency_Hz: 25e3 };
const shell = (outerRadius_m: number, conductivity_S_per_m: number) => ({
  name: "shell",
  outerRadius_m,
  conductivity_S_per_m,
  density_kg_per_m3: 1000,
});

describe("bodyHeating", () => {
  it("W27: a torso of 0.2 m at 25 kHz, 6 mT peak", () => {
    const { mean_W_per_kg, highest_W_per_kg, peakField_V_per_m, model } = bodyHeating(torso, drive);
    expect(mean_W_per_kg).toBeCloseTo(0.799438, 6);
    expect(highest_W_per_kg).toBeCloseTo(1.598876, 6);
    expect(peakField_V_per_m).toBeCloseTo(94.2478, 4);
    expect(model).toMatch(/field along it/);
  });

  it("grows with the square of amplitude, frequency and radius, and in step with the duty", () => {
    const base = bodyHeating(torso, drive).mean_W_per_kg;
    expect(bodyHeating(torso, { ...drive, amplitude_T: 12e-3 }).mean_W_per_kg / base).toBeCloseTo(4, 12);
    expect(bodyHeating(torso, { ...drive, frequency_Hz: 50e3 }).mean_W_per_kg / base).toBeCloseTo(4, 12);
    expect(bodyHeating({ ...torso, radius_m: 0.1 }, drive).mean_W_per_kg / base).toBeCloseTo(0.25, 12);
    expect(bodyHeating(torso, { ...drive, duty: 0.1 }).mean_W_per_kg / base).toBeCloseTo(0.1, 12);
  });

  it("the duty leaves the peak electric field alone", () => {
    expect(bodyHeating(torso, { ...drive, duty: 0.1 }).peakField_V_per_m).toBe(
      bodyHeating(torso, drive).peakField_V_per_m,
    );
  });

  it("a field across the body: twice the electric field and mean, four times the worst point", () => {
    const [along, across] = [bodyHeating(torso, drive), bodyHeating(torso, { ...drive, axis: "x" })];
    expect(across.peakField_V_per_m / along.peakField_V_per_m).toBeCloseTo(2, 12);
    expect(across.mean_W_per_kg / along.mean_W_per_kg).toBeCloseTo(2, 12);
    expect(across.highest_W_per_kg / along.highest_W_per_kg).toBeCloseTo(4, 12);
    expect(across.model).toMatch(/upper figure/);
  });

  it("layers of one tissue are the homogeneous cylinder, along and across", () => {
    const layered = { ...torso, layers: [shell(0.07, 0.36), shell(0.2, 0.36)] };
    for (const axis of ["x", "z"] as const) {
      const [a, b] = [bodyHeating(layered, { ...drive, axis }), bodyHeating(torso, { ...drive, axis })];
      expect(a.mean_W_per_kg / b.mean_W_per_kg).toBeCloseTo(1, 12);
      expect(a.highest_W_per_kg / b.highest_W_per_kg).toBeCloseTo(1, 12);
    }
  });

  it("the worst point may lie inside: a conducting core under fat", () => {
    const fatty = { ...torso, layers: [shell(0.17, 0.36), shell(0.2, 0.025)] };
    const { highest_W_per_kg } = bodyHeating(fatty, drive);
    expect(highest_W_per_kg / bodyHeating(torso, drive).highest_W_per_kg).toBeCloseTo((0.17 / 0.2) ** 2, 12);
  });

  it("a circle as an ellipse is a circle; a flat section heats less along and by its own half width across", () => {
    const round = bodyHeating({ ...torso, semiAxes_m: { x: 0.2, y: 0.2 } }, drive);
    expect(round.mean_W_per_kg / bodyHeating(torso, drive).mean_W_per_kg).toBeCloseTo(1, 12);
    expect(round.highest_W_per_kg / bodyHeating(torso, drive).highest_W_per_kg).toBeCloseTo(1, 12);
    const flat = { ...torso, semiAxes_m: ellipticTorso };
    expect(bodyHeating(flat, drive).mean_W_per_kg).toBeLessThan(round.mean_W_per_kg);
    const [x, y] = (["x", "y"] as const).map((axis) => bodyHeating(flat, { ...drive, axis }).peakField_V_per_m);
    expect(y / x).toBeCloseTo(0.2 / 0.15, 12); // a field along y drives loops as wide as x
  });
});

it("the field in an ellipse is largest at the end of the short axis", () => {
  const ends = { x: 0.2, y: 0.15 };
  expect(ellipticField_V_per_m([0, 0.15], ends, 1)).toBeCloseTo(0.096, 12);
  expect(ellipticField_V_per_m([0.2, 0], ends, 1)).toBeCloseTo(0.072, 12);
  expect(ellipticField_V_per_m([0, 0], ends, 1)).toBe(0);
});

describe("tissueConductivity", () => {
  it("takes the nearest published frequency and says so", () => {
    expect(tissueConductivity("muscle across fibres", 25e3)).toMatchObject({
      conductivity_S_per_m: 0.341,
      atFrequency_Hz: 10e3,
    });
    expect(tissueConductivity("fat", 500).conductivity_S_per_m).toBe(0.025); // the table below 1 kHz
    expect(tissueConductivity("blood", 25e3).caution).toMatch(/published at 1.000 kHz, used at 25.00 kHz/);
  });

  it("names the tissues that it has", () => {
    expect(tissues).toContain("cerebrospinal fluid");
    expect(() => tissueConductivity("bone", 25e3)).toThrow(/found "bone"; accepted: blood, muscle/);
  });
});

it("3.5 W/kg warms tissue by 1 mK/s while nothing cools it", () => {
  expect(adiabaticWarming_K_per_s(3.5)).toBe(1e-3);
});
