import { describe, expect, it } from "vitest";
import { vacuumPermeability_T_m_per_A as mu0 } from "../../units/index.js";
import type { Vector3 } from "../sources/source.js";
import { conductorMaterials } from "./conductors.js";
import { coilInductance_H, inductanceMatrix_H, mutualInductance_H, selfInductance_H } from "./inductance.js";
import type { Winding, WindingShape } from "./winding.js";

const winding = (shape: WindingShape, changes: Partial<Winding> = {}): Winding => ({
  shape,
  turns: 1,
  material: conductorMaterials.copper,
  conductor: { metalArea_m2: 1e-8 },
  bundleRadius_m: 1e-3,
  ...changes,
});
const frame: { readonly center_m: Vector3; readonly normal: Vector3 } = { center_m: [0, 0, 0], normal: [0, 0, 1] };
const loop = { ...frame, kind: "loop", radius_m: 0.1 } as const;
const stack = { ...frame, kind: "coil-stack", innerRadius_m: 0.05, outerRadius_m: 0.06, length_m: 0.08 } as const;
const rectangle = { ...frame, kind: "rectangle", edge: [1, 0, 0], size_m: [0.3, 0.2] } as const;

describe("self inductance", () => {
  it("of a long thin winding is that of an endless one: μ0·N²·π·a²/l, less its ends 8a/(3πl)", () => {
    const long = winding({ ...frame, kind: "coil-stack", innerRadius_m: 0.01, outerRadius_m: 0.01, length_m: 10 });
    const endless = (mu0 * Math.PI * 1e-4) / 10;
    // The next term of the series is (a/l)²/2 = 5e-7.
    expect(Math.abs(selfInductance_H(long) / endless - (1 - (8 * 1e-3) / (3 * Math.PI) + 5e-7))).toBeLessThan(1e-9);
  });
  it("grows with the square of the turns, for every shape", () => {
    for (const shape of [loop, stack, rectangle]) {
      const one = selfInductance_H(winding(shape));
      expect(selfInductance_H(winding(shape, { turns: 30 })) / one).toBeCloseTo(900, 9);
      expect(selfInductance_H(winding(shape, { turns: 30, sense: -1 })) / one).toBeCloseTo(900, 9);
    }
  });
  it("grows with the size", () => {
    const double = { ...stack, innerRadius_m: 0.1, outerRadius_m: 0.12, length_m: 0.16 };
    expect(selfInductance_H(winding(double)) / selfInductance_H(winding(stack))).toBeCloseTo(2, 12);
  });
  it("of a stack shrinking onto its sheet is that of the sheet", () => {
    const thin = selfInductance_H(winding({ ...stack, outerRadius_m: 0.05 * (1 + 1e-7) }));
    const sheet = selfInductance_H(winding({ ...stack, outerRadius_m: 0.05 }));
    // Radius and width both move by 1e-7.
    expect(Math.abs(thin / sheet - 1)).toBeLessThan(3e-7);
  });
  it("of a stack is that of its parts, self and mutual", () => {
    const half = (side: 1 | -1) => winding({ ...stack, center_m: [0, 0, side * 0.02], length_m: 0.04 }, { turns: 50 });
    const whole = selfInductance_H(winding(stack, { turns: 100 }));
    expect(coilInductance_H({ windings: [half(1), half(-1)] }) / whole).toBeCloseTo(1, 11);
  });
});

describe("mutual inductance", () => {
  it("of far loops is that of dipoles: μ0·π·r1²·r2²/(2·z³) on the axis, −1/2 of it beside", () => {
    const dipole = (mu0 * Math.PI * 1e-4) / 2 / 100 ** 3;
    const on = mutualInductance_H(winding(loop), winding({ ...loop, center_m: [0, 0, 100] }));
    const beside = mutualInductance_H(winding(loop), winding({ ...loop, center_m: [100, 0, 0] }));
    // The next multipole is of the order (r/z)² = 1e-6, times about 3.
    expect(Math.abs(on / dipole - 1)).toBeLessThan(4e-6);
    expect(Math.abs(beside / (-dipole / 2) - 1)).toBeLessThan(1e-5);
  });
  it("is the same both ways, and changes sign with a normal or a sense", () => {
    const pairs = [
      [winding(stack), winding({ ...loop, center_m: [0, 0, 0.1] })],
      [winding(stack), winding({ ...loop, center_m: [0.03, 0, 0.12], normal: [0.6, 0, 0.8] })],
      [winding(loop), winding({ ...rectangle, center_m: [0.01, 0.02, 0.05] })],
    ];
    for (const [a, b] of pairs) {
      const m = mutualInductance_H(a, b);
      expect(mutualInductance_H(b, a) / m).toBeCloseTo(1, 9);
      expect(mutualInductance_H(a, { ...b, sense: -1 })).toBe(-m);
      const [x, y, z] = b.shape.normal;
      const turned = { ...b, shape: { ...b.shape, normal: [-x, -y, -z] as const } };
      expect(mutualInductance_H(a, turned) / m).toBeCloseTo(-1, 9);
    }
  });
  it("does not know where the axis points", () => {
    const turn = (shape: WindingShape): WindingShape => {
      // A rotation that maps z to (0.48, 0.64, 0.6).
      const [, , z] = shape.center_m;
      return { ...shape, normal: [0.48, 0.64, 0.6], center_m: [0.48 * z + 0.3, 0.64 * z, 0.6 * z - 0.1] };
    };
    const [a, b] = [stack, { ...loop, center_m: [0, 0, 0.07] as const }];
    const straight = mutualInductance_H(winding(a), winding(b));
    expect(mutualInductance_H(winding(turn(a)), winding(turn(b))) / straight).toBeCloseTo(1, 11);
  });
  it("off the axis by a hair agrees with on the axis: two methods", () => {
    for (const b of [
      { ...loop, center_m: [0, 0, 0.08] as const },
      { ...stack, center_m: [0, 0, 0.2] as const },
    ]) {
      const on = mutualInductance_H(winding(stack), winding(b));
      const off = mutualInductance_H(winding(stack), winding({ ...b, center_m: [1e-7, 0, b.center_m[2]] }));
      // The shift enters squared: (1e-7/0.05)² = 4e-12; the quadrature is good to 1e-9.
      expect(Math.abs(off / on - 1)).toBeLessThan(1e-9);
    }
  });
  it("of windings at right angles vanishes by symmetry", () => {
    const across = winding({ ...stack, normal: [1, 0, 0], center_m: [0, 0, 0.2] });
    const scale = selfInductance_H(winding(stack));
    expect(Math.abs(mutualInductance_H(winding(stack), across)) / scale).toBeLessThan(1e-14);
  });
});

describe("coil in series", () => {
  const pair = (sense: 1 | -1) => [
    winding({ ...stack, center_m: [0, 0, -0.06] }, { turns: 100 }),
    winding({ ...stack, center_m: [0, 0, 0.06] }, { turns: 100, sense }),
  ];
  it("adds self and twice the mutual inductance, with its sign", () => {
    const [a, b] = pair(1);
    const [self, m] = [selfInductance_H(a), mutualInductance_H(a, b)];
    expect(m).toBeGreaterThan(0);
    expect(coilInductance_H({ windings: pair(1) }) / (2 * self + 2 * m)).toBeCloseTo(1, 14);
    expect(coilInductance_H({ windings: pair(-1) }) / (2 * self - 2 * m)).toBeCloseTo(1, 14);
  });
  it("has a matrix that is symmetric and couples less than fully", () => {
    const [l1, m, m2, l2] = inductanceMatrix_H({ windings: pair(-1) });
    expect(m).toBe(m2);
    expect(m * m).toBeLessThan(l1 * l2);
  });
  it.each<[string, () => unknown, RegExp]>([
    ["no windings", () => coilInductance_H({ windings: [] }), /at least one winding/],
    ["a loop twice", () => coilInductance_H({ windings: [winding(loop), winding(loop)] }), /do not overlap/],
    [
      "loops that touch",
      () => mutualInductance_H(winding(loop), winding({ ...loop, normal: [0.6, 0, 0.8], center_m: [0, 0.2, 0] })),
      /touch or cross/,
    ],
    [
      "rectangles that share an edge",
      () => mutualInductance_H(winding(rectangle), winding({ ...rectangle, center_m: [0, 0.2, 0] })),
      /touch or cross/,
    ],
  ])("refuses %s", (_, act, message) => expect(act).toThrow(message));
});
