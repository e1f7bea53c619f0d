import { describe, expect, it } from "vitest";
import { stream } from "../../numerics/index.js";
import { type MacrospinBlock, macrospinSteps } from "./macrospin-steps.js";

/** Chains of random moments in a random setting; `chain` cuts out one of them. */
function block({ spins = 3, chains = 4, steps = 20, thermalField_T = 0.01 } = {}): MacrospinBlock {
  const random = stream(7);
  const directions = (n: number) => {
    const out = random.fillNormal(new Float64Array(3 * n));
    for (let i = 0; i < n; i++) {
      const length = Math.hypot(out[i], out[n + i], out[2 * n + i]);
      for (const k of [i, n + i, 2 * n + i]) out[k] /= length;
    }
    return out;
  };
  return {
    spins,
    chains,
    steps,
    state: directions(spins * chains),
    easyAxis: directions(spins * chains),
    fieldDirection: directions(chains),
    field_T: Float64Array.from({ length: steps + 1 }, (_, k) => 0.02 * Math.cos(0.1 * k)),
    dipoleField_T: Float64Array.from({ length: spins }, (_, n) => (n === 0 ? 0 : 0.013 / n ** 3)),
    anisotropyField_T: 0.03,
    thermalField_T,
    noise: random.fillNormal(new Float64Array(steps * 3 * spins * chains)),
    precession_per_T: 1,
    damping: 0.3,
  };
}

function only(whole: MacrospinBlock, chain: number): MacrospinBlock {
  const pick = (values: Float64Array) => values.filter((_, k) => k % whole.chains === chain);
  return {
    ...whole,
    chains: 1,
    state: pick(whole.state),
    easyAxis: pick(whole.easyAxis),
    fieldDirection: pick(whole.fieldDirection),
    noise: pick(whole.noise),
  };
}

describe("macrospin steps", () => {
  it("turn one free spin as the closed form: tan(theta/2) falls exponentially, the angle runs evenly", () => {
    // One spin in a field b along z: d theta/dt = -alpha p b sin theta per step, d phi/dt = p b.
    const [b, damping, steps, angle] = [0.05, 0.2, 1000, 2];
    const precession_per_T = 0.2;
    const state = Float64Array.of(Math.sin(angle), 0, Math.cos(angle));
    macrospinSteps({
      ...block({ spins: 1, chains: 1, steps, thermalField_T: 0 }),
      state,
      fieldDirection: Float64Array.of(0, 0, 1),
      field_T: new Float64Array(steps + 1).fill(b),
      anisotropyField_T: 0,
      precession_per_T,
      damping,
    });
    const turns = precession_per_T * b * steps;
    const theta = 2 * Math.atan(Math.tan(angle / 2) * Math.exp(-damping * turns));
    // Heun's local error is about (0.01)^3/3 a step of 0.01 rad: 3e-4 after 1000.
    const expected = [Math.sin(theta) * Math.cos(turns), Math.sin(theta) * Math.sin(turns), Math.cos(theta)];
    for (let k = 0; k < 3; k++) expect(Math.abs(state[k] - expected[k])).toBeLessThan(4e-4);
  });

  it("keep unit length", () => {
    const whole = block();
    macrospinSteps(whole);
    const n = whole.spins * whole.chains;
    for (let i = 0; i < n; i++)
      expect(Math.hypot(whole.state[i], whole.state[n + i], whole.state[2 * n + i])).toBeCloseTo(1, 14);
  });

  it("move every chain as if it were alone, to the last bit", () => {
    const whole = block();
    const alone = [0, 1, 2, 3].map((chain) => only(whole, chain));
    macrospinSteps(whole);
    alone.forEach((one, chain) => {
      macrospinSteps(one);
      expect(Array.from(one.state)).toEqual(Array.from(whole.state.filter((_, k) => k % whole.chains === chain)));
    });
  });

  it("do not care how the steps are cut into blocks", () => {
    const whole = block({ steps: 20 });
    const cut = { ...whole, state: whole.state.slice() };
    macrospinSteps(whole);
    const perStep = 3 * cut.spins * cut.chains;
    for (const [from, to] of [
      [0, 7],
      [7, 20],
    ])
      macrospinSteps({
        ...cut,
        steps: to - from,
        field_T: cut.field_T.slice(from, to + 1),
        noise: cut.noise.slice(from * perStep, to * perStep),
      });
    expect(Array.from(cut.state)).toEqual(Array.from(whole.state));
  });

  it("leave an aligned chain in its own field at rest, and read no noise without a thermal field", () => {
    const still = {
      ...block({ spins: 4, chains: 1, thermalField_T: 0 }),
      state: Float64Array.from({ length: 12 }, (_, k) => (k < 8 ? 0 : 1)),
      easyAxis: Float64Array.from({ length: 12 }, (_, k) => (k < 8 ? 0 : 1)),
      fieldDirection: Float64Array.of(0, 0, 1),
      noise: new Float64Array(0),
    };
    const before = Array.from(still.state);
    macrospinSteps(still);
    expect(Array.from(still.state)).toEqual(before);
  });

  it("turn with space: everything turned by pi about x moves as before, turned", () => {
    // (x, y, z) -> (x, -y, -z) keeps the handedness of space and the line of the chain.
    const turned = (values: Float64Array, n: number) => values.map((value, k) => (k < n ? value : -value));
    const whole = block({ thermalField_T: 0 });
    const n = whole.spins * whole.chains;
    const other = {
      ...whole,
      state: turned(whole.state, n),
      easyAxis: turned(whole.easyAxis, n),
      fieldDirection: turned(whole.fieldDirection, whole.chains),
    };
    macrospinSteps(whole);
    macrospinSteps(other);
    expect(Array.from(other.state)).toEqual(Array.from(turned(whole.state, n)));
  });
});
