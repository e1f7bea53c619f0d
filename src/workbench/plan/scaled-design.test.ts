import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { idealScanner, scannerFrom, shippedFile, shippedScanner } from "../../../test/invented-scanners.js";
import { driveNeeds } from "../../documents/index.js";
import { powerAnalysis } from "../scanner/coil-analysis.js";
import { type ReferenceDesign, referenceDesign } from "./reference-design.js";
import { type DesignPoint, needsAt } from "./scaled-design.js";
import { scalingFound } from "./scaling-found.js";
import { steeperTracer } from "./steeper-tracer.js";

const mouse = referenceDesign(shippedScanner("mouse-point"), "z");
const at = (design: ReferenceDesign, change: Partial<DesignPoint> = {}) =>
  needsAt(
    design,
    {
      gradient_T_per_m: design.gradient_T_per_m,
      driveAmplitude_T: design.drive.maximumAmplitude_T,
      frequency_Hz: design.drive.frequency_Hz,
      boreDiameter_m: design.boreDiameter_m,
      ...change,
    },
    new Map(),
  );
const over = (a: number | null, b: number | null): number => (a ?? Number.NaN) / (b ?? Number.NaN);

/** The mouse scanner's document with every length times `scale` and every section times its square; strands stay. */
function scaledDocument(scale: number): Record<string, unknown> {
  const grow = (value: unknown, key: string): unknown => {
    if (Array.isArray(value)) return value.map((each) => grow(each, key));
    if (typeof value === "object" && value !== null)
      return Object.fromEntries(Object.entries(value).map(([name, each]) => [name, grow(each, name)]));
    const [, number, unit] = typeof value === "string" ? (/^(-?[0-9.]+) (mm2?)$/.exec(value) ?? []) : [];
    if (number === undefined || key === "strandDiameter") return value;
    return `${Number(number) * (unit === "mm2" ? scale ** 2 : scale)} ${unit}`;
  };
  const document = JSON.parse(readFileSync(shippedFile("scanners/mouse-point.json"), "utf8"));
  const { subject: _, ...scaled } = grow(document, "") as Record<string, unknown>;
  return scaled;
}

describe("a scanner of twice the size, built from its scaled document", () => {
  const scale = 2;
  const built = scannerFrom(scaledDocument(scale));
  const design = referenceDesign(built, "z");
  const boreDiameter_m = scale * mouse.boreDiameter_m;

  it("has the gradient per ampere that the scaling expects: 1/s² at the same current", () => {
    // The idealised gradient comes from differences of the field: 1e-9.
    expect(design.gradient_T_per_m / mouse.gradient_T_per_m).toBeCloseTo(1 / scale ** 2, 8);
  });

  it.each([1, 0.25])("needs the selection power and energy of the design at %s times the gradient", (share) => {
    const gradient_T_per_m = share * mouse.gradient_T_per_m;
    const needs = at(mouse, { gradient_T_per_m, boreDiameter_m });
    const { coils, selectionEnergy_J } = powerAnalysis(built);
    // The built coils carry their stated current; power and energy go as its square.
    const squared = (gradient_T_per_m / design.gradient_T_per_m) ** 2;
    const power = coils
      .filter(({ role }) => role === "selection")
      .reduce((all, { power_W }) => all + (power_W ?? 0), 0);
    expect(over(needs.selectionPower_W, power * squared)).toBeCloseTo(1, 7);
    expect(over(needs.storedEnergy_J, (selectionEnergy_J ?? 0) * squared)).toBeCloseTo(1, 7);
  });

  it.each([5e3, 25e3, 100e3])(
    "needs the drive's current, power, voltage and kVA at %d Hz, skin effect included",
    (frequency_Hz) => {
      const needs = at(mouse, { frequency_Hz, boreDiameter_m, driveAmplitude_T: 7e-3 });
      const coil = built.driveAxes[0].coil;
      if (coil === undefined) throw new Error("the mouse scanner has a drive coil");
      const direct = driveNeeds(coil, { axis: "z", amplitude_T: 7e-3, frequency_Hz });
      expect(over(needs.driveCurrent_A, direct.current_A)).toBeCloseTo(1, 9);
      expect(over(needs.drivePower_W, direct.power_W)).toBeCloseTo(1, 9);
      expect(over(needs.driveVoltage_V, direct.voltage_V)).toBeCloseTo(1, 9);
      expect(over(needs.driveApparentPower_VA, direct.apparentPower_VA)).toBeCloseTo(1, 9);
    },
  );

  it("weighs eight times as much", () => {
    expect(over(at(mouse, { boreDiameter_m }).conductorMass_kg, powerAnalysis(built).conductorMass_kg)).toBeCloseTo(
      1,
      9,
    );
    expect(over(at(mouse, { boreDiameter_m }).conductorMass_kg, mouse.conductorMass_kg)).toBeCloseTo(8, 9);
  });
});

describe("facts L11", () => {
  it("are found by building the coils at three sizes: P ~ G² a³, W ~ G² a⁵, kVA ~ f B² a³, drive power ~ B² a", () => {
    const found = scalingFound(mouse.scanner, "z");
    // With direct resistance exact for one shape: rounding and the differences of the gradient.
    const close = (law: (typeof found)["selectionPower"], wanted: number, size: number) => {
      expect(law?.wanted).toBeCloseTo(wanted, 8);
      expect(law?.size).toBeCloseTo(size, 8);
      expect(law?.worstResidual).toBeLessThan(1e-8);
    };
    close(found.selectionPower, 2, 3);
    close(found.storedEnergy, 2, 5);
    close(found.drivePower, 2, 1);
    close(found.reactivePower, 2, 3);
    expect(found.reactivePower?.frequency).toBeCloseTo(1, 8);
  });

  it("are what the design uses", () => {
    const [s, g] = [1.7, 0.6];
    const here = at(mouse);
    const there = at(mouse, {
      gradient_T_per_m: g * mouse.gradient_T_per_m,
      boreDiameter_m: s * mouse.boreDiameter_m,
      frequency_Hz: 2 * mouse.drive.frequency_Hz,
      driveAmplitude_T: 0.5 * mouse.drive.maximumAmplitude_T,
    });
    expect(over(there.selectionPower_W, here.selectionPower_W)).toBeCloseTo(g ** 2 * s ** 3, 10);
    expect(over(there.storedEnergy_J, here.storedEnergy_J)).toBeCloseTo(g ** 2 * s ** 5, 10);
    // |Z| is 2 pi f L but for R, which is a hundredth of it: its square, 1e-4, is the difference.
    expect(over(there.driveApparentPower_VA, here.driveApparentPower_VA) / (2 * 0.25 * s ** 3)).toBeCloseTo(1, 3);
    expect(there.shiftForQuarterBore_T / here.shiftForQuarterBore_T).toBeCloseTo(g * s, 12);
  });
});

describe("magnets", () => {
  const rat = referenceDesign(shippedScanner("rat-line"), "z");

  it("take no power, and give a gradient that falls as 1/s: asking for it at twice the bore is twice what there is", () => {
    expect(rat.selection.kind).toBe("magnets");
    const twice = { boreDiameter_m: 2 * rat.boreDiameter_m };
    expect(at(rat)).toMatchObject({ selectionPower_W: 0, storedEnergy_J: 0, magnetShare: 1 });
    expect(at(rat, twice).magnetShare).toBeCloseTo(2, 12);
    expect(at(rat, { ...twice, gradient_T_per_m: rat.gradient_T_per_m / 2 }).magnetShare).toBeCloseTo(1, 12);
    expect(over(at(rat, twice).magnetMass_kg, rat.magnetMass_kg)).toBeCloseTo(8, 12);
  });
});

describe("what is not stated is not known", () => {
  it("an ideal scanner: no power, energy, mass or drive; a shift and a patch all the same", () => {
    const design = referenceDesign(idealScanner(), "z");
    expect(design).toMatchObject({ conductorMass_kg: null, magnetMass_kg: null, driveCoil: null });
    const needs = at(design);
    expect(needs).toMatchObject({ selectionPower_W: null, storedEnergy_J: null, heat_W: null, drivePower_W: null });
    expect(needs).toMatchObject({ conductorMass_kg: null, magnetMass_kg: null, magnetShare: null });
    // 7 T/m along z over a quarter of 60 mm.
    expect(needs.shiftForQuarterBore_T).toBeCloseTo((7 * 0.06) / 4, 12);
  });

  it("the gradient along a drive across the strong axis is its own share", () => {
    const across = idealScanner({
      driveAxes: [{ axis: "x", maximumAmplitude: "20 mT", frequency: "25 kHz" }],
      receive: [{ axis: "x", sensitivity: "31.4 uT/A", polarity: 1, noise: "1 nV/Hz^0.5", removesFundamental: true }],
    });
    expect(referenceDesign(across, "x").shareAlongDrive).toBeCloseTo(0.5, 12);
    expect(() => referenceDesign(across, "z")).toThrow(/no drive along z/);
  });
});

it("a tracer ten times steeper: a tenth of the gradient, a hundredth of power and energy, ten times the patch", () => {
  const steeper = steeperTracer(mouse, {
    gradient_T_per_m: mouse.gradient_T_per_m,
    driveAmplitude_T: 0.016,
    frequency_Hz: 25e3,
    boreDiameter_m: mouse.boreDiameter_m,
  });
  const change = ({ now, steeper: then }: { now: number | null; steeper: number | null }) => over(then, now);
  expect(steeper.factor).toBe(10);
  expect(change(steeper.gradient_T_per_m)).toBeCloseTo(0.1, 12);
  expect(change(steeper.selectionPower_W)).toBeCloseTo(0.01, 12);
  expect(change(steeper.storedEnergy_J)).toBeCloseTo(0.01, 12);
  expect(change(steeper.patch_m)).toBeCloseTo(10, 12);
  expect(change(steeper.shiftForQuarterBore_T)).toBeCloseTo(0.1, 12);
  // 2 A/G along the drive.
  expect(steeper.patch_m.now).toBeCloseTo(0.032 / (mouse.gradient_T_per_m * mouse.shareAlongDrive), 12);
});
