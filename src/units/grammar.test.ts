import { describe, expect, it } from "vitest";
import { FerruleError } from "../errors.js";
import { dimensionText } from "./dimension.js";
import { parseUnit } from "./grammar.js";

/** Text, SI factor from the definition of the units, dimension. */
const readings: ReadonlyArray<readonly [string, number, string]> = [
  ["1", 1, "1"],
  ["T", 1, "kg.s-2.A-1"],
  ["T/m", 1, "m-1.kg.s-2.A-1"],
  ["A.m2/kg", 1, "m2.kg-1.A"],
  ["A m2/kg", 1, "m2.kg-1.A"],
  ["A·m²/kg", 1, "m2.kg-1.A"],
  ["A*m^2*kg^-1", 1, "m2.kg-1.A"],
  ["A.m2.kg-1", 1, "m2.kg-1.A"],
  ["A m² kg⁻¹", 1, "m2.kg-1.A"],
  ["emu/g", 1, "m2.kg-1.A"],
  ["emu/cm3", 1e3, "m-1.A"],
  ["kA/m", 1e3, "m-1.A"],
  ["G", 1e-4, "kg.s-2.A-1"],
  ["Oe", 79.57747154594767, "m-1.A"], // 250/pi
  ["A/m/s", 1, "m-1.s-1.A"],
  ["J/kg.K", 1, "m2.s-2.K"], // the slash takes the next factor only
  ["J/kg/K", 1, "m2.s-2.K-1"],
  ["1/h", 1 / 3600, "s-1"],
  ["/min", 1 / 60, "s-1"],
  ["nV/Hz^0.5", 1e-9, "m2.kg.s^-2.5.A-1"],
  ["nV/sqrt(Hz)", 1e-9, "m2.kg.s^-2.5.A-1"],
  ["nV/√Hz", 1e-9, "m2.kg.s^-2.5.A-1"],
  ["nV.Hz^-0.5", 1e-9, "m2.kg.s^-2.5.A-1"],
  ["V/sqrt(kHz)", 10 ** -1.5, "m2.kg.s^-2.5.A-1"],
  ["µg/mL", 1e-3, "m-3.kg"],
  ["μg/mL", 1e-3, "m-3.kg"],
  ["ug/ml", 1e-3, "m-3.kg"],
  ["mg/L", 1e-3, "m-3.kg"],
  ["uL/min", 1e-9 / 60, "m3.s-1"],
  ["kΩ", 1e3, "m2.kg.s-3.A-2"],
  ["kOhm", 1e3, "m2.kg.s-3.A-2"],
  ["mPa.s", 1e-3, "m-1.kg.s-1"],
  ["cP", 1e-3, "m-1.kg.s-1"],
  ["mmol/L", 1, "m-3.mol"],
  ["MS/s", 1e6, "s-1"],
  ["MS", 0, ""], // see below: no mega for siemens
  ["mS/s", 1e-3, "m-2.kg-1.s2.A2"], // siemens: not one of the four whole texts
  ["mSv/MBq", 1e-9, "m2.s-1"],
  ["deg", 0.017453292519943295, "1"],
  ["%", 0.01, "1"],
  ["ppm", 1e-6, "1"],
  ["d", 86400, "s"],
  ["mm3", 1e-9, "m3"],
  ["T . m", 1, "m.kg.s-2.A-1"],
];

describe("unit grammar", () => {
  it.each(readings.filter(([, factor]) => factor !== 0))("reads %s", (text, factor, dimension) => {
    const unit = parseUnit(text);
    // two roundings of one unit in the last place: the power of ten and the scale
    expect(Math.abs(unit.factor / factor - 1)).toBeLessThan(4 * Number.EPSILON);
    expect(dimensionText(unit.dimension)).toBe(dimension);
  });

  it.each(["T/[mu_0]", "T/mu0", "T/µ0", "T/μ0", "T/mu_0", "T/µ₀"])("reads %s as 1/mu0 in A/m", (text) => {
    const unit = parseUnit(text);
    expect(dimensionText(unit.dimension)).toBe("m-1.A");
    // 1/(4 pi 1e-7) = 795774.71546; CODATA mu0 is 1.3e-10 smaller
    expect(Math.abs(unit.factor / 795774.7154594767 - 1)).toBeLessThan(2e-10);
  });

  it("keeps the point of a temperature scale apart", () => {
    for (const text of ["Cel", "°C", "degC", "℃"]) expect(parseUnit(text).offset_K).toBe(273.15);
    expect(parseUnit("K").offset_K).toBe(0);
  });

  it("reads its own text of a dimension", () => {
    for (const text of ["V/Hz^0.5", "T/m", "W/kg", "mol/L", "cd"]) {
      const { dimension } = parseUnit(text);
      expect(parseUnit(dimensionText(dimension)).dimension).toEqual(dimension);
    }
  });

  /** Text, and a word that the advice must have. */
  const refusals: ReadonlyArray<readonly [string, RegExp]> = [
    ["", /symbols joined/],
    ["M", /mmol\/L/],
    ["mM", /mmol\/L/],
    ["uM", /umol\/L/],
    ["µM", /umol\/L/],
    ["U", /u or µ/],
    ["Ug", /u or µ/],
    ["u", /whole symbol/],
    ["mcg", /ug/],
    ["cc", /cm3 or mL/],
    ["emu/cc", /cm3 or mL/],
    ["gauss", /symbol G/],
    ["tesla", /symbol T/],
    ["millitesla", /symbol T/],
    ["mg Fe/mL", /field's name/],
    ["mgFe/mL", /field's name/],
    ["mt", /mT/],
    ["t/m", /T/],
    ["khz", /kHz/],
    ["MG", /mg or mG/],
    ["KA/m", /kA/],
    ["rpm", /60 rpm = 1 Hz/],
    ["Vpp", /peak/],
    ["mT rms", /peak/],
    ["MSa/s", /MS\/s/],
    ["Am2", /A\.m/],
    ["Tm", /T\.m/],
    ["MS", /mS/],
    ["%ID/g", /%/],
    ["dB", /ratio/],
    ["W/kg/Cel", /K in products/],
    ["Cel2", /K in products/],
    ["1/°C", /K in products/],
    ["m0", /whole or half/],
    ["m^0.3", /whole or half/],
    ["m99", /whole or half/],
    ["T/(m.s)", /symbols joined/],
    ["T//m", /symbols joined/],
    ["T/", /symbols joined/],
    ["T..m", /symbols joined/],
    ["3 mT", /symbols joined/],
    ["sqrt(V/Hz)", /./],
    ["Foo", /symbol of the unit table|did you mean/],
    ["GA/m", /A takes f, p, n, u, m, k, M here: write the power of ten, as in 1e9 A, or .*: G\.A/],
    ["GV/m", /V takes f, p, n, u, m, k, M here: write the power of ten, as in 1e9 V/],
    ["<script>", /symbols joined/],
  ];
  it.each(refusals)("refuses %s and says what to write", (text, advice) => {
    const error = thrown(() => parseUnit(text, { path: "scanner.gradient" }));
    expect(error.code).toBe("UnitMismatch");
    expect(error.place.path).toBe("scanner.gradient");
    expect(error.accepted).toMatch(advice);
  });
});

function thrown(action: () => unknown): FerruleError {
  try {
    action();
  } catch (error) {
    if (error instanceof FerruleError) return error;
    throw error;
  }
  throw new Error("nothing was refused");
}
