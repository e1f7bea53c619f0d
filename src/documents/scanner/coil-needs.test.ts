import { describe, expect, it } from "vitest";
import { coilField, toCoil } from "./coil-field.js";
import { coilElectrics, driveNeeds } from "./coil-needs.js";
import { physicalCoil } from "./physical-coil.js";

const centre = ["0 mm", "0 mm", "0 mm"];
const loop = { kind: "loop", center: centre, normal: "z", radius: "40 mm", turns: 10 };
const wire = { material: "other", resistivity: "2e-8 Ohm.m", section: "4 mm2" };
const coil = (more: object, windings: readonly object[] = [loop]) => toCoil(coilField.parse({ windings, ...more }));

/** 10 turns of 2 pi 40 mm at 2e-8 Ohm m / 4 mm2. */
const direct_Ohm = (10 * 2 * Math.PI * 0.04 * 2e-8) / 4e-6;

describe("coilElectrics", () => {
  it("takes what is measured before what follows from the windings", () => {
    expect(coilElectrics(coil({ conductor: wire, resistance: "0.3 Ohm", inductance: "20 uH" }))).toEqual({
      resistance_Ohm: 0.3,
      inductance_H: 20e-6,
    });
  });

  it("takes resistivity times length over section: R = rho 2 pi a N/A", () => {
    const { resistance_Ohm } = coilElectrics(coil({ conductor: wire }));
    expect(Math.abs((resistance_Ohm ?? 0) / direct_Ohm - 1)).toBeLessThan(1e-12);
  });

  it("copper warms: 3.93e-3 per kelvin above 20 degrees", () => {
    const at = (temperature: string) =>
      coilElectrics(coil({ conductor: { material: "copper", section: "4 mm2", temperature } })).resistance_Ohm ?? 0;
    expect(at("70 Cel") / at("20 Cel")).toBeCloseTo(1 + 3.93e-3 * 50, 12); // IEC 60028, from memory
  });

  it("a fill is a share of a thick stack's section", () => {
    const stack = {
      kind: "stack",
      center: centre,
      normal: "z",
      innerRadius: "40 mm",
      outerRadius: "60 mm",
      length: "30 mm",
      turns: 50,
    };
    const conductor = { material: "other", resistivity: "2e-8 Ohm.m", fill: 0.6 };
    // N^2 rho 2 pi (mean radius)/(fill section): every turn has 1/N of the metal.
    const truth = (50 ** 2 * 2e-8 * 2 * Math.PI * 0.05) / (0.6 * 0.02 * 0.03);
    expect(Math.abs((coilElectrics(coil({ conductor }, [stack])).resistance_Ohm ?? 0) / truth - 1)).toBeLessThan(1e-12);
  });

  it("knows nothing of a coil without a conductor, or of a path of segments", () => {
    expect(coilElectrics(coil({}))).toEqual({ resistance_Ohm: null, inductance_H: null });
    const corners = [centre, ["50 mm", "0 mm", "0 mm"], ["0 mm", "50 mm", "0 mm"]];
    const path = coil({ conductor: wire }, [{ kind: "path", corners, turns: 3 }]);
    expect(physicalCoil(path)).toBeUndefined();
    expect(coilElectrics(path)).toEqual({ resistance_Ohm: null, inductance_H: null });
  });

  it("at frequency a solid wire has more resistance, litz less of it", () => {
    const at = (conductor: object) => coilElectrics(coil({ conductor }), { frequency_Hz: 25e3 }).resistance_Ohm ?? 0;
    expect(at(wire)).toBeGreaterThan(1.3 * direct_Ohm); // 2.26 mm wide, skin depth 0.45 mm
    const litz = at({ ...wire, strandDiameter: "0.1 mm" });
    expect(litz).toBeGreaterThanOrEqual(direct_Ohm * (1 - 1e-12));
    expect(litz).toBeLessThan(1.001 * direct_Ohm);
  });
});

describe("driveNeeds", () => {
  const measured = coil({ resistance: "0.3 Ohm", inductance: "20 uH" });
  const drive = { axis: "z", amplitude_T: 5e-3, frequency_Hz: 25e3 } as const;

  it("follows Ohm's law at the working frequency", () => {
    const { current_A, power_W, voltage_V, windingVoltage_V, apparentPower_VA } = driveNeeds(measured, drive);
    const impedance = Math.hypot(0.3, 2 * Math.PI * 25e3 * 20e-6);
    expect(current_A).toBeCloseTo((5e-3 * 2 * 0.04) / (4e-7 * Math.PI * 10), 6); // facts L1
    expect(power_W).toBeCloseTo((0.3 * current_A ** 2) / 2, 9);
    expect(voltage_V).toBeCloseTo(impedance * current_A, 9);
    expect(windingVoltage_V).toBe(voltage_V);
    expect(apparentPower_VA).toBeCloseTo((impedance * current_A ** 2) / 2, 9); // V_rms I_rms
  });

  it("a tuned coil asks R I of the amplifier and the same of the winding", () => {
    const plain = driveNeeds(measured, drive);
    const tuned = driveNeeds({ ...measured, isResonant: true }, drive);
    expect(tuned.voltage_V).toBeCloseTo(0.3 * tuned.current_A, 12);
    expect(tuned.windingVoltage_V).toBe(plain.windingVoltage_V);
  });

  it("says what it does not know", () => {
    expect(driveNeeds(coil({ inductance: "20 uH" }), drive)).toMatchObject({ power_W: null, voltage_V: null });
    expect(driveNeeds(coil({ resistance: "0.3 Ohm" }), drive)).toMatchObject({
      voltage_V: null,
      apparentPower_VA: null,
    });
    expect(driveNeeds(coil({}), drive).current_A).toBeGreaterThan(0);
  });
});
