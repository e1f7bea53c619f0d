import { describe, expect, it } from "vitest";
import { idealScanner, shippedNames, shippedScanner } from "../../../test/invented-scanners.js";
import { powerAnalysis } from "./coil-analysis.js";

const conductor = { material: "copper", section: "2 mm2" };
const stack = (z: string, sense = 1) => ({
  kind: "stack",
  center: ["0 mm", "0 mm", z],
  normal: "z",
  innerRadius: "50 mm",
  outerRadius: "70 mm",
  length: "20 mm",
  turns: 100,
  sense,
});

describe("coils at their largest field", () => {
  it.each(shippedNames)("%s: power is R I², voltage and energy follow, sums add up", (name) => {
    const { coils, heat_W, conductorMass_kg } = powerAnalysis(shippedScanner(name));
    expect(coils.length).toBeGreaterThan(0);
    for (const coil of coils) {
      const [r, l, i] = [coil.resistance_Ohm ?? 0, coil.inductance_H ?? 0, coil.current_A];
      const mean = coil.role === "drive" ? 0.5 : 1;
      expect(coil.power_W).toBeCloseTo(r * i * i * mean, 9);
      expect(coil.storedEnergy_J).toBeCloseTo((l * i * i) / 2, 9);
      if (coil.role !== "drive") expect(coil.voltage_V).toBeGreaterThanOrEqual(r * i * (1 - 1e-12));
    }
    const sum = (of: (coil: (typeof coils)[number]) => number | null) =>
      coils.reduce((all, coil) => all + (of(coil) ?? 0), 0);
    expect(heat_W).toBeCloseTo(
      sum((coil) => coil.heat_W),
      9,
    );
    expect(conductorMass_kg).toBeCloseTo(
      sum((coil) => coil.conductorMass_kg),
      9,
    );
  });

  it("opposed coils together store less than each alone, coils of one sense more", () => {
    const energyOf = (sense: 1 | -1) => {
      const coil = (name: string, z: string, current: string) => ({
        name,
        current,
        coil: { windings: [stack(z)], conductor },
      });
      const coils =
        sense === -1
          ? [coil("a", "60 mm", "100 A"), coil("b", "-60 mm", "-100 A")]
          : [
              coil("a", "60 mm", "100 A"),
              coil("b", "70 mm", "100 A"),
              coil("c", "-60 mm", "-100 A"),
              coil("d", "-70 mm", "-100 A"),
            ];
      const scanner = idealScanner({ selectionField: { kind: "sources", coils } });
      const { coils: found, selectionEnergy_J } = powerAnalysis(scanner);
      const alone = found.reduce((all, { storedEnergy_J }) => all + (storedEnergy_J ?? 0), 0);
      return (selectionEnergy_J ?? Number.NaN) / alone;
    };
    expect(energyOf(-1)).toBeGreaterThan(0.5);
    expect(energyOf(-1)).toBeLessThan(1);
    // Two overlapping coils a side: each pair holds nearly twice the energy of its two alone.
    expect(energyOf(1)).toBeGreaterThan(1.2);
  });

  it("a shift coil's voltage holds R I and the slew, L dI/dt", () => {
    const coil = { windings: [stack("0 mm")], conductor };
    const at = (slew?: string) =>
      powerAnalysis(idealScanner({ shiftFields: [{ axis: "z", range: "20 mT", ...(slew && { slew }), coil }] }))
        .coils[0];
    const [still, slewed] = [at(), at("10 T/s")];
    const fieldPerAmpere = 0.02 / still.current_A;
    expect(still.voltage_V).toBeCloseTo((still.resistance_Ohm ?? 0) * still.current_A, 12);
    expect((slewed.voltage_V ?? 0) - (still.voltage_V ?? 0)).toBeCloseTo(
      ((still.inductance_H ?? 0) * 10) / fieldPerAmpere,
      9,
    );
  });

  it("what is only stated as a field is named, with no power of its own", () => {
    const { coils, unknown, selectionEnergy_J, heat_W } = powerAnalysis(
      idealScanner({ shiftFields: [{ axis: "x", range: "20 mT" }] }),
    );
    expect(coils).toEqual([]);
    expect(heat_W).toBe(0);
    expect(selectionEnergy_J).toBeNull();
    expect(unknown).toEqual(["selection field (ideal)", "drive z (no coil stated)", "shift x (no coil stated)"]);
  });

  it("a coil without a conductor has a current, and nothing that would need one", () => {
    const [coil] = powerAnalysis(
      idealScanner({ shiftFields: [{ axis: "z", range: "20 mT", coil: { windings: [stack("0 mm")] } }] }),
    ).coils;
    expect(coil.current_A).toBeGreaterThan(0);
    expect(coil).toMatchObject({ resistance_Ohm: null, power_W: null, heat_W: null, conductorMass_kg: null });
  });

  it("heat of a drive counts its duty", () => {
    const drive = {
      axis: "z",
      maximumAmplitude: "20 mT",
      frequency: "25 kHz",
      coil: { windings: [stack("0 mm")], conductor: { ...conductor, strandDiameter: "0.1 mm" } },
    };
    const at = (duty: number) => powerAnalysis(idealScanner({ driveAxes: [drive], duty })).coils[0];
    expect(at(0.25).power_W).toBe(at(1).power_W);
    expect((at(0.25).heat_W ?? 0) / (at(1).heat_W ?? 0)).toBeCloseTo(0.25, 12);
  });
});
