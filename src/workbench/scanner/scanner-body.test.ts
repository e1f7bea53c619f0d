import { describe, expect, it } from "vitest";
import { idealScanner } from "../../../test/invented-scanners.js";
import { bodyAxis, scannerBody } from "./scanner-body.js";

const bodyFor = (parts: Readonly<Record<string, unknown>>) => scannerBody(idealScanner(parts));

describe("the body in the bore", () => {
  it.each([
    [30, "mouse"],
    [50, "mouse"],
    [51, "rat"],
    [110, "rat"],
    [111, "human-arm"],
    [180, "human-arm"],
    [181, "human-head"],
    [350, "human-head"],
    [351, "human-torso"],
  ])("without a subject a bore of %d mm holds a %s, and that is said", (bore, part) => {
    const { body, advisories } = bodyFor({ boreDiameter: `${bore} mm` });
    expect(body.part).toBe(part);
    expect(advisories[0]).toBe(
      `no subject is stated: limits are for part "${part}", the largest of ours for this bore; state "subject"`,
    );
  });

  it("a stated part keeps its typical figures but for what is stated, and its status says so", () => {
    const { body, advisories } = bodyFor({ subject: { part: "mouse", radius: "15 mm", conductivity: "0.5 S/m" } });
    expect(body).toMatchObject({ part: "mouse", class: "animal", radius_m: 0.015, mass_kg: 25e-3 });
    expect(body.conductivity_S_per_m).toBe(0.5);
    expect(body.statusText).toContain("as stated");
    expect(advisories).toEqual([]);
  });

  it("an own part is of the class of its being, in its own size and with its own threshold", () => {
    const own = { part: "own", being: "animal", semiAxes: ["8 mm", "20 mm"] };
    const stimulation = { rheobase: "15 T/s", chronaxie: "0.37 ms", source: "our volunteers" };
    const { body } = bodyFor({ subject: { ...own, stimulation } });
    expect(body).toMatchObject({ part: "own", class: "animal", radius_m: 0.02, semiAxes_m: { x: 0.008, y: 0.02 } });
    expect(body.ownThreshold).toMatchObject({ rheobase_T_per_s: 15, chronaxie_s: 0.37e-3, source: "our volunteers" });
    const person = bodyFor({ subject: { part: "own", being: "person", radius: "20 mm" } });
    expect(person.body.class).toBe("scan subject");
  });

  it("layers: the outermost ends the body", () => {
    const layer = (radius: string) => ({ outerRadius: radius, conductivity: "0.3 S/m", density: "1000 kg/m3" });
    const { body } = bodyFor({ subject: { part: "mouse", layers: [layer("8 mm"), layer("11 mm")] } });
    expect(body.radius_m).toBe(0.011);
    expect(body.layers?.map(({ name }) => name)).toEqual(["layer 1", "layer 2"]);
  });

  it("a body that is wider than the bore is told, by its longer half axis", () => {
    expect(bodyFor({ subject: { part: "human-torso" } }).advisories).toEqual([
      'part "human-torso", 400 mm wide, does not fit a bore of 60 mm',
    ]);
    const flat = { part: "own", being: "person", semiAxes: ["10 mm", "31 mm"] };
    expect(bodyFor({ subject: flat }).advisories).toEqual(['part "own", 62 mm wide, does not fit a bore of 60 mm']);
  });
});

describe("axes of the body", () => {
  it("lie as the scanner's for a bore along z, and turn with it, the bore always at the body's z", () => {
    const turned = (["z", "x", "y"] as const).map((bore) =>
      (["x", "y", "z"] as const).map((axis) => bodyAxis(axis, bore)),
    );
    expect(turned).toEqual([
      ["x", "y", "z"],
      ["z", "x", "y"],
      ["y", "z", "x"],
    ]);
  });
});
