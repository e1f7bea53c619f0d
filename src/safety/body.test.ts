import { describe, expect, it } from "vitest";
import { type Body, bodyParts, checkedBody, typicalBody } from "./body.js";

const own: Body = { ...typicalBody("human-arm"), part: "own", statusText: "measured" };
const layers = [
  { name: "bone", outerRadius_m: 0.02, conductivity_S_per_m: 0.02, density_kg_per_m3: 1900 },
  { name: "muscle", outerRadius_m: 0.045, conductivity_S_per_m: 0.36, density_kg_per_m3: 1090 },
];

describe("typicalBody", () => {
  it("has every part but the user's own, and says that its figures stand in", () => {
    for (const part of bodyParts.filter((name) => name !== "own"))
      expect(checkedBody(typicalBody(part)).statusText).toMatch(/typical, from memory; give your own/);
    expect(typicalBody("mouse")).toMatchObject({ class: "animal", radius_m: 12.5e-3, mass_kg: 25e-3 });
    expect(typicalBody("human-torso", { radius_m: 0.15 }).radius_m).toBe(0.15);
    expect(() => typicalBody("rabbit" as "rat")).toThrow(/found "rabbit"; accepted: mouse, rat/);
  });
});

describe("checkedBody", () => {
  it("never lets an animal pass for a person or the reverse", () => {
    expect(() => checkedBody({ ...typicalBody("mouse"), class: "scan subject" })).toThrow(/at body.class: found mouse/);
    expect(() => checkedBody({ ...typicalBody("human-head"), class: "animal" })).toThrow(/accepted: scan subject/);
  });

  it("refuses sizes and masses that cannot be", () => {
    expect(() => checkedBody({ ...own, radius_m: 0 })).toThrow(/at body.radius_m/);
    expect(() => checkedBody({ ...own, exposedMass_kg: 80 })).toThrow(/found 80 kg of a body of 70 kg/);
    expect(() => checkedBody({ ...own, semiAxes_m: { x: 0.2, y: -1 } })).toThrow(/at body.semiAxes_m.y/);
  });

  it("takes layers that fill a round section, growing outwards", () => {
    expect(checkedBody({ ...own, layers }).layers).toBe(layers);
    expect(() => checkedBody({ ...own, layers: [...layers].reverse() })).toThrow(/at body.layers\[1\].outerRadius_m/);
    expect(() => checkedBody({ ...own, layers: layers.slice(0, 1) })).toThrow(/found layers that end at 0.02 m/);
    expect(() => checkedBody({ ...own, layers: [] })).toThrow(/found no layer that conducts/);
    const [bone, muscle] = layers.map((layer) => ({ ...layer, conductivity_S_per_m: 0 }));
    expect(checkedBody({ ...own, layers: [bone, layers[1]] }).layers).toEqual([bone, layers[1]]);
    expect(() => checkedBody({ ...own, layers: [bone, muscle] })).toThrow(/found no layer that conducts/);
    expect(() => checkedBody({ ...own, layers, semiAxes_m: { x: 0.05, y: 0.04 } })).toThrow(/elliptic section/);
  });

  it("takes a threshold of the user's own only with its source, and only for an own part", () => {
    const ownThreshold = {
      rheobase_T_per_s: 10,
      chronaxie_s: 0.5e-3,
      source: "our own trial",
      status: "read",
    } as const;
    expect(checkedBody({ ...own, ownThreshold }).ownThreshold).toBe(ownThreshold);
    expect(() => checkedBody({ ...own, ownThreshold: { ...ownThreshold, source: " " } })).toThrow(/an empty text/);
    expect(() => checkedBody({ ...typicalBody("human-arm"), ownThreshold })).toThrow(/part "own"/);
  });
});
