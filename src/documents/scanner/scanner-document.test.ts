import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { vacuumPermeability_T_m_per_A as mu0 } from "../../units/index.js";
import { parseDocument } from "../parse-document.js";
import type { CoilModel } from "./coil-field.js";
import { fieldPerAmpere_T_per_A } from "./coil-needs.js";
import { fieldSourcesOf } from "./selection-field.js";

type Tree = { [key: string]: Tree };

const read = (name: string) =>
  JSON.parse(readFileSync(new URL(`../fixtures/${name}.json`, import.meta.url), "utf8")) as Tree;
const ideal = read("scanner");
const ofCoils = read("scanner-of-coils");

type Edits = readonly (readonly [path: string, value: unknown])[];

function edited(document: Tree, edits: Edits): Tree {
  const copy = structuredClone(document);
  for (const [path, value] of edits) {
    const keys = path.split(".");
    const parent = keys.slice(0, -1).reduce((at, key) => at[key], copy);
    if (value === undefined) delete parent[keys[keys.length - 1]];
    else parent[keys[keys.length - 1]] = value as Tree;
  }
  return copy;
}

const model = (document: Tree, edits: Edits = []) =>
  parseDocument(JSON.stringify(edited(document, edits)), { family: "scanner" }).model;

/** The drive coil of these windings, as read. */
function driveCoil(windings: readonly object[], more: object = {}): CoilModel {
  const [{ coil }] = model(ideal, [["driveAxes.0.coil", { windings, ...more }]]).driveAxes;
  if (coil === undefined) throw new Error("no coil");
  return coil;
}

const centre = ["0 mm", "0 mm", "0 mm"];
const relative = (value: number, truth: number) => Math.abs(value / truth - 1);

describe("windings and their field at the centre", () => {
  it("loop: mu0 N I/(2 a), its sense turns it", () => {
    const loop = { kind: "loop", center: centre, normal: "z", radius: "40 mm", turns: 10 };
    // facts L1 at z = 0; a few roundings.
    expect(relative(fieldPerAmpere_T_per_A(driveCoil([loop]), "z"), (mu0 * 10) / 0.08)).toBeLessThan(1e-13);
    const turned = driveCoil([{ ...loop, sense: -1 }]);
    expect(relative(fieldPerAmpere_T_per_A(turned, "z"), (-mu0 * 10) / 0.08)).toBeLessThan(1e-13);
    const upsideDown = driveCoil([{ ...loop, normal: [0, 0, -3] }]);
    expect(relative(fieldPerAmpere_T_per_A(upsideDown, "z"), (-mu0 * 10) / 0.08)).toBeLessThan(1e-13);
  });

  it("stack of one layer: a solenoid, mu0 N I/sqrt(L^2 + 4 R^2)", () => {
    const stack = { kind: "stack", center: centre, normal: "z", length: "120 mm", turns: 60 };
    const sheet = driveCoil([{ ...stack, innerRadius: "40 mm", outerRadius: "40 mm" }]);
    // facts L7; a few roundings.
    const truth = (mu0 * 60) / Math.hypot(0.12, 2 * 0.04);
    expect(relative(fieldPerAmpere_T_per_A(sheet, "z"), truth)).toBeLessThan(1e-12);
  });

  it("thick stack: mu0 N/(L (R2 - R1)) (L/2) ln((R2 + sqrt(R2^2 + L^2/4))/(R1 + sqrt(R1^2 + L^2/4)))", () => {
    const [r1, r2, length] = [0.04, 0.07, 0.05];
    const thick = driveCoil([
      {
        kind: "stack",
        center: centre,
        normal: "z",
        innerRadius: "40 mm",
        outerRadius: "70 mm",
        length: "50 mm",
        turns: 80,
      },
    ]);
    // Integral of L7 over the radius, textbook; quadrature inside 1e-12.
    const logarithm = Math.log((r2 + Math.hypot(r2, length / 2)) / (r1 + Math.hypot(r1, length / 2)));
    const truth = ((mu0 * 80) / (2 * (r2 - r1))) * logarithm;
    expect(relative(fieldPerAmpere_T_per_A(thick, "z"), truth)).toBeLessThan(1e-12);
  });

  it("rectangle, and the same as a path: mu0 N I 2 sqrt(w^2 + h^2)/(pi w h)", () => {
    const [w, h] = [0.08, 0.12];
    const truth = (mu0 * 7 * 2 * Math.hypot(w, h)) / (Math.PI * w * h); // four Biot-Savart sides, textbook
    const rectangle = driveCoil([
      { kind: "rectangle", center: centre, normal: "z", edge: "x", width: "80 mm", height: "120 mm", turns: 7 },
    ]);
    expect(relative(fieldPerAmpere_T_per_A(rectangle, "z"), truth)).toBeLessThan(1e-13);
    const corner = (x: number, y: number) => [`${x} mm`, `${y} mm`, "0 mm"];
    const path = driveCoil([
      { kind: "path", corners: [corner(40, -60), corner(40, 60), corner(-40, 60), corner(-40, -60)], turns: 7 },
    ]);
    expect(relative(fieldPerAmpere_T_per_A(path, "z"), truth)).toBeLessThan(1e-13);
    expect(path.windings[0].sources).toHaveLength(4);
  });
});

describe("magnets", () => {
  const sources = (magnet: object) => {
    const documents = [["selectionField", { kind: "sources", magnets: [{ name: "one", magnet }] }]] as const;
    const line = [...documents, ["topology", "field-free-line"]] as const;
    return model(ofCoils, line);
  };
  const halbach = {
    kind: "halbach",
    center: centre,
    axis: "z",
    innerRadius: "60 mm",
    outerRadius: "90 mm",
    length: "600 mm",
    remanence: "1.3 T",
    poles: 4,
    segments: 16,
    reference: "x",
  };

  it("a Halbach ring of four poles makes a line along its axis, near 2 Br (1/Ri - 1/Ro) sin(3 pi/N)/(3 pi/N)", () => {
    const { selectionField } = sources(halbach);
    const [[xx], [, yy], [, , zz]] = selectionField.gradient_T_per_m;
    const x = (3 * Math.PI) / 16;
    const long = 2 * 1.3 * (1 / 0.06 - 1 / 0.09) * (Math.sin(x) / x); // facts L9 and trap 13, infinite length
    // A ring ten radii long lacks less than 1 % of it.
    expect(relative(xx, long)).toBeLessThan(0.01);
    expect(yy).toBe(-xx);
    expect(zz).toBe(0);
    expect(selectionField.fieldFreePoints).toBeUndefined();
    expect(selectionField.sources?.magnets[0].sources).toHaveLength(16);
  });

  it("discrete blocks of the same ring make a weaker line, along the same directions", () => {
    const { innerRadius: _, outerRadius: __, length: ___, segments: ____, ...shared } = halbach;
    const blocks = {
      ...shared,
      kind: "halbach-blocks",
      ringRadius: "75 mm",
      blockSize: ["20 mm", "20 mm", "600 mm"],
      blocks: 16,
    };
    const { selectionField } = sources(blocks);
    const [[xx], [, yy]] = selectionField.gradient_T_per_m;
    // Far apart, a long block is a line dipole of Br A/(2 pi); sixteen of them at R give G = N Br A/(pi R^3) (derived).
    const lines = (16 * 1.3 * 0.02 ** 2) / (Math.PI * 0.075 ** 3);
    // Finite length (8 radii) and square section: a per cent.
    expect(relative(xx, lines)).toBeLessThan(0.02);
    expect(yy).toBeCloseTo(-xx, 12);
    expect(selectionField.sources?.magnets[0].sources).toHaveLength(16);
  });

  it("its reference says along which direction the gradient is positive", () => {
    const [[xx], [, yy]] = sources({ ...halbach, reference: "y" }).selectionField.gradient_T_per_m;
    expect(yy).toBeGreaterThan(0);
    expect(xx).toBe(-yy);
  });

  it.each([
    [1, -1],
    [-1, 1],
  ])("rings of opposed senses make a point (%j)", (front, back) => {
    const ring = (z: string, sense: number) => ({
      kind: "ring",
      center: ["0 mm", "0 mm", z],
      axis: "z",
      innerRadius: "60 mm",
      outerRadius: "100 mm",
      length: "40 mm",
      remanence: "1.3 T",
      sense,
    });
    const magnets = [
      { name: "front", magnet: ring("80 mm", front) },
      { name: "back", magnet: ring("-80 mm", back) },
    ];
    const { selectionField } = model(ofCoils, [["selectionField", { kind: "sources", magnets }]]);
    const [[xx], [, yy], [, , zz]] = selectionField.gradient_T_per_m;
    // div B = 0 and turn about z: (-G/2, -G/2, G); mirrored in z the sense changes the sign.
    expect(relative(xx, -zz / 2)).toBeLessThan(1e-9);
    expect(relative(yy, -zz / 2)).toBeLessThan(1e-9);
    expect(Math.hypot(...selectionField.center_m)).toBeLessThan(1e-9);
    const sources = fieldSourcesOf(selectionField.sources ?? { coils: [], magnets: [] });
    expect(sources.map((each) => each.kind)).toEqual(["ring-sector", "ring-sector"]);
  });

  it("a ring about a slanted axis is taken whole", () => {
    const ring = {
      kind: "ring",
      center: ["0 mm", "0 mm", "0 mm"],
      axis: [0.6, 0, 0.8],
      innerRadius: "200 mm",
      outerRadius: "220 mm",
      length: "30 mm",
      remanence: "0.1 T",
      sense: 1,
    };
    const coils = (ofCoils.selectionField as unknown as { coils: unknown }).coils;
    const magnets = [{ name: "trim", magnet: ring }];
    const { selectionField } = model(ofCoils, [["selectionField", { kind: "sources", coils, magnets }]]);
    const [source] = selectionField.sources?.magnets[0].sources ?? [];
    expect(source).toMatchObject({ kind: "ring-sector", axis: [0.6, 0, 0.8], fromAngle_rad: 0 });
    expect(source?.remanence_T.map((each) => Number(each.toFixed(12)))).toEqual([0.06, 0, 0.08]);
  });
});

describe("the whole scanner", () => {
  it("a Maxwell pair: dB/dz = (48/49) sqrt(3/7) mu0 N I/a^2, half of it across with the other sign", () => {
    const { selectionField, bore } = model(ofCoils);
    const [[xx, xy, xz], [yx, yy, yz], [zx, zy, zz]] = selectionField.gradient_T_per_m;
    // facts L5, L6: 0.641293 mu0 * 1e4 A/(0.1 m)^2 = 0.8059 T/m. The gradient is taken numerically: 1e-8.
    const truth = ((48 / 49) * Math.sqrt(3 / 7) * mu0 * 1e4) / 0.01;
    expect(relative(Math.abs(zz), truth)).toBeLessThan(1e-8);
    expect(relative(xx, -zz / 2)).toBeLessThan(1e-12);
    expect(yy).toBe(xx);
    expect([xy, xz, yx, yz, zx, zy]).toEqual([0, 0, 0, 0, 0, 0]);
    expect(Math.hypot(...selectionField.center_m)).toBeLessThan(1e-12);
    expect(selectionField.fieldFreePoints).toBe(1);
    expect(bore).toEqual({ axis: "z", radius_m: 0.03, halfLength_m: 0.04 });
  });

  it("one coil stronger by 1 % moves the field-free point by G^-1 dB", () => {
    const [more, less] = ["101 A", "99 A"].map(
      (current) => model(ofCoils, [["selectionField.coils.0.current", current]]).selectionField,
    );
    const [, , [, , zz]] = model(ofCoils).selectionField.gradient_T_per_m;
    // The front loop alone makes mu0 N I a^2/(2 (a^2 + d^2)^1.5) at the centre (facts L1); 1 % of it over G. The mean of
    // both signs leaves the third order: (2e-3)^2.
    const change_T = (0.01 * (mu0 * 1e4)) / (2 * 0.1 * 1.75 ** 1.5);
    const moved = (more.center_m[2] - less.center_m[2]) / 2;
    expect(Math.abs(moved / (-change_T / zz) - 1)).toBeLessThan(1e-4);
  });

  it("fills in what is left out of an ideal scanner", () => {
    const { bore, bed, duty, subject, lineRotation_Hz, staffDistance_m, driveAxes, shiftFields, receive } =
      model(ideal);
    expect(bore).toEqual({ axis: "z", radius_m: 0.03, halfLength_m: 0.06 }); // twice the diameter long
    expect([bed, subject, lineRotation_Hz, staffDistance_m]).toEqual([undefined, undefined, undefined, undefined]);
    expect(duty).toBe(1);
    expect(driveAxes).toEqual([
      {
        axis: "z",
        maximumAmplitude_T: 0.02,
        frequency_Hz: 25e3,
        phase_rad: 0,
        waveform: { kind: "sine", edge_s: 2e-5 },
        coil: undefined,
      },
    ]);
    expect(shiftFields.map(({ slew_T_per_s, coil }) => [slew_T_per_s, coil])).toEqual(
      Array(3).fill([undefined, undefined]),
    );
    expect(receive[0].chain).toMatchObject({
      temperature_K: 300,
      filterOrder: 4,
      fundamentalLeft: 0,
      imbalance: undefined,
      statedNoise_V_per_sqrtHz: 0.9e-9,
    });
  });

  it("reads waveforms, phase, bed, rotation, duty, subject and staff", () => {
    const scanner = model(ideal, [
      ["driveAxes.1", { axis: "x", maximumAmplitude: "5 mT", frequency: "1 kHz", phase: "90 deg" }],
      ["driveAxes.1.waveform", { kind: "trapezoid", rampTime: "100 us" }],
      ["driveAxes.2", { axis: "y", maximumAmplitude: "5 mT", frequency: "1 kHz" }],
      ["driveAxes.2.waveform", { kind: "pulsed", riseTime: "2 us" }],
      ["shiftFields.0.slew", "40 T/s"],
      ["bed", { axis: "z", range: "60 mm", speed: "20 mm/s" }],
      ["topology", "field-free-line"],
      ["selectionField.gradient", ["7 T/m", "-7 T/m", "0 T/m"]],
      ["lineRotation", "0.5 Hz"],
      ["duty", "50 %"],
      ["staffDistance", "1 m"],
      ["boreAxis", "x"],
      [
        "subject",
        {
          part: "own",
          being: "animal",
          semiAxes: ["20 mm", "15 mm"],
          mass: "0.3 kg",
          exposedMass: "0.1 kg",
          conductivity: "0.4 S/m",
          density: "1050 kg/m3",
          stimulation: { rheobase: "20 T/s", chronaxie: "0.36 ms", source: "Invented for a test." },
        },
      ],
    ]);
    expect(scanner.driveAxes[1]).toMatchObject({ waveform: { kind: "trapezoid", edge_s: 1e-4 } });
    expect(scanner.driveAxes[1].phase_rad).toBeCloseTo(Math.PI / 2, 15);
    expect(scanner.driveAxes[2].waveform).toEqual({ kind: "pulsed", edge_s: 2e-6 });
    expect(scanner.shiftFields[0].slew_T_per_s).toBe(40);
    expect(scanner.bed).toEqual({ axis: "z", range_m: 0.06, speed_m_per_s: 0.02 });
    expect([scanner.lineRotation_Hz, scanner.duty, scanner.staffDistance_m]).toEqual([0.5, 0.5, 1]);
    expect(scanner.bore.axis).toBe("x");
    expect(scanner.subject).toEqual({
      part: "own",
      being: "animal",
      radius_m: undefined,
      semiAxes_m: [0.02, 0.015],
      conductivity_S_per_m: 0.4,
      density_kg_per_m3: 1050,
      mass_kg: 0.3,
      exposedMass_kg: 0.1,
      layers: undefined,
      stimulation: { rheobase_T_per_s: 20, chronaxie_s: 0.36e-3, source: "Invented for a test." },
    });
  });

  it("takes sensitivity and noise from windings, resistance and amplifier", () => {
    const [{ sensitivity_T_per_A, noise_V_per_sqrtHz, chain }] = model(ofCoils).receive;
    expect(relative(sensitivity_T_per_A, (mu0 * 10) / (2 * 0.032))).toBeLessThan(1e-13); // facts L1
    // facts N12 with |Z| = R: sqrt(4 kB 300 K 0.5 Ohm + (0.9 nV)^2 + (2 pA 0.5 Ohm)^2), kB exact in SI.
    const truth = Math.sqrt(4 * 1.380649e-23 * 300 * 0.5 + 0.9e-9 ** 2 + (2e-12 * 0.5) ** 2);
    expect(relative(noise_V_per_sqrtHz, truth)).toBeLessThan(1e-13);
    expect(chain.digitiser).toEqual({ bits: 16, range_V: 10, rate_per_s: 2.5e6, gain: 1 });
    expect(chain.statedNoise_V_per_sqrtHz).toBeUndefined();
  });

  it("the polarity stays a sign of its own: the sensitivity is a magnitude", () => {
    const [channel] = model(ofCoils, [
      ["receive.0.windings.0.sense", -1],
      ["receive.0.polarity", -1],
    ]).receive;
    expect(channel.sensitivity_T_per_A).toBe(model(ofCoils).receive[0].sensitivity_T_per_A);
    expect(channel.polarity).toBe(-1);
  });
});
