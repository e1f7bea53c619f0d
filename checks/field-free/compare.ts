import { readFileSync } from "node:fs";
import { findFieldFreeRegion } from "../../src/physics/field/field-free-region.js";
import { fieldFreeShift_m } from "../../src/physics/field/field-free-shift.js";
import { gradientErrors, gradientReference } from "../../src/physics/field/gradient-error.js";
import { massErrorOfSphere } from "../../src/physics/field/mass-error.js";
import { usableRegion } from "../../src/physics/field/usable-region.js";
import { zonalField } from "../../src/physics/field/zonal-field.js";
import { fieldOfSources } from "../../src/physics/sources/field-of-sources.js";
import type { FieldFunction, LoopSource, Vector3 } from "../../src/physics/sources/source.js";
import { distance } from "../../src/physics/sources/vector3.js";
import { vacuumPermeability_T_m_per_A } from "../../src/units/index.js";

/** Shared by the gate and the meter: field-free places and gradient errors of loops against `make.py`. */
interface ChargedField {
  readonly charges: readonly (readonly [number, number, number, number])[];
  readonly uniform: Vector3;
  readonly zeros: readonly Vector3[];
}
const truth: Record<string, unknown> = JSON.parse(readFileSync(new URL("./truth.json", import.meta.url), "utf8"));

function table<Kind>(name: string): Kind {
  if (truth[name] === undefined) throw new Error(`truth.json has no table "${name}"`);
  return truth[name] as Kind;
}

export interface Comparison {
  readonly quantity: string;
  readonly at: string;
  readonly error: number;
}

const radius_m = Number(table<string>("loop radius, m"));
const half_m = Number(table<string>("half separation, m"));
const [boreRadius_m, boreHalf_m] = table<string[]>("bore radius, half length, m").map(Number);
/** 50 kA turns: 6.4 T/m. */
const current_A = 5e4;
const strength = vacuumPermeability_T_m_per_A * current_A;
export const bore = { radius_m: boreRadius_m, halfLength_m: boreHalf_m } as const;

const loop = (center_m: Vector3, normal: Vector3, options: { a?: number; current?: number } = {}): LoopSource => ({
  kind: "loop",
  center_m,
  normal,
  radius_m: options.a ?? radius_m,
  current_A: options.current ?? current_A,
});

/** A pair about z; the upper current may be raised. */
export const pair = (upper = 1): LoopSource[] => [
  loop([0, 0, half_m], [0, 0, 1], { current: upper * current_A }),
  loop([0, 0, -half_m], [0, 0, 1], { current: -current_A }),
];
const field = fieldOfSources(pair());
const step_m = boreRadius_m / 100;
const reference = gradientReference(field, [0, 0, 0], { step_m });

/** The pair's field near the centre against its Taylor coefficients: zonal expansion to degree 7. */
export function expansionErrors(): Comparison[] {
  const b = table<string[]>("on-axis Taylor coefficients of the pair, k = 0..7, per mu0 I").map(Number);
  const expanded = zonalField(b.map((value) => value * strength));
  return [0.001, 0.002, 0.004].map((r) => {
    const at = Float64Array.of(0.48 * r, 0.6 * r, 0.64 * r);
    const [found, series] = [field(at), expanded(at)];
    return { quantity: "expansion", at: `${r} m`, error: distance(found, series) / Math.hypot(...series) };
  });
}

export function gradientComparisons(): Comparison[] {
  const b1 = Number(table<string[]>("on-axis Taylor coefficients of the pair, k = 0..7, per mu0 I")[1]) * strength;
  const g = reference.gradient_T_per_m;
  const centre = [g[8] / b1 - 1, g[0] / (-b1 / 2) - 1, g[4] / (-b1 / 2) - 1].map(Math.abs);
  const rows = table<[string, string, string][]>("gradient error: rho, z, eps");
  return [
    { quantity: "gradient at the centre, relative", at: "0", error: Math.max(...centre) },
    ...rows.map(([rho, z, eps]) => {
      // Turned out of the x axis, so that all elements take part.
      const at = Float64Array.of(0.6 * Number(rho), 0.8 * Number(rho), Number(z));
      const [found] = gradientErrors(field, at, { reference, step_m });
      return { quantity: "gradient error, absolute", at: `${rho}, ${z}`, error: Math.abs(found - Number(eps)) };
    }),
  ];
}

export function usableComparisons(): Comparison[] {
  const [z, x, ball] = table<string[]>("10 %: along z, along x, ball, angle of the ball's worst place").map(Number);
  const region = usableRegion(field, { reference, within: bore });
  const against = (at: string, found: number, known: number): Comparison => ({
    quantity: "reach, relative",
    at,
    error: Math.abs(found / known - 1),
  });
  return [
    ...[0, 1].flatMap((side) => [
      against("z", region.along.z[side].distance_m, z),
      against("x", region.along.x[side].distance_m, x),
      against("y", region.along.y[side].distance_m, x),
    ]),
    against("ball", region.sphere.distance_m, ball),
    {
      quantity: "volume fraction, absolute",
      at: "bore",
      error: Math.abs(region.volumeFraction - table<number>("10 %: part of the bore")),
    },
  ];
}

export function massComparisons(): Comparison[] {
  type Row = [Vector3, number, number, Vector3];
  return table<Row[]>("mass error: centre, radius, missed share, shift of the centroid").flatMap(
    ([center_m, ball_m, missed, shift]) => {
      const found = massErrorOfSphere(field, { center_m, radius_m: ball_m }, { reference });
      const at = `(${center_m.join(", ")}) ${ball_m}: ${missed.toFixed(5)}`;
      return [
        { quantity: "missed share, absolute", at, error: Math.abs(found.missedShare - missed) },
        { quantity: "shift over radius", at, error: distance(found.centroidShift_m, shift) / ball_m },
      ];
    },
  );
}

export interface Move {
  readonly percent: number;
  /** Place of the zero against the truth, m. */
  readonly placeError_m: number;
  /** Our first-order shift against the truth's, relative. */
  readonly firstOrderError: number;
  /** What first order leaves, m. */
  readonly remainder_m: number;
}

export function currentMoves(): Move[] {
  const upper = fieldOfSources([pair()[0]])(new Float64Array(3));
  const rows = table<[string, string, string][]>("upper current raised by percent: zero on the axis, first order");
  return rows.map(([percent, zero, first]) => {
    const share = Number(percent) / 100;
    const region = findFieldFreeRegion(fieldOfSources(pair(1 + share)), { within: bore });
    const [found] = region.zeros;
    const shift = fieldFreeShift_m(reference.gradient_T_per_m, [share * upper[0], share * upper[1], share * upper[2]]);
    return {
      percent: Number(percent),
      placeError_m: distance(found.position_m, [0, 0, Number(zero)]),
      firstOrderError: Math.abs(shift[2] / Number(first) - 1),
      remainder_m: found.position_m[2] - shift[2],
    };
  });
}

/** A loop in a uniform field: the field-free ring's radius. */
export function ringComparison(): Comparison & { readonly isClosed: boolean; readonly places: number } {
  const known = Number(table<string>("loop in 1.5 times its own field: radius of the ring"));
  const own = fieldOfSources([loop([0, 0, 0], [0, 0, 1])]);
  const against = (1.5 * strength) / (2 * radius_m);
  const opposed: FieldFunction = (points, out) =>
    own(points, out).map((value, i) => (i % 3 === 2 ? value - against : value));
  const { lines } = findFieldFreeRegion(opposed, { within: { radius_m: 0.04, halfLength_m: 0.03 } });
  const ring = lines[0];
  const off = ring.positions_m.map(([x, y, z]) => Math.hypot(Math.hypot(x, y) - known, z));
  return {
    quantity: "ring",
    at: "all places, m",
    error: Math.max(...off),
    isClosed: ring.isClosed,
    places: off.length,
  };
}

/** Four loops that make a line along z: residual along it, length, direction. */
export function lineComparisons(): { comparisons: Comparison[]; region: ReturnType<typeof findFieldFreeRegion> } {
  const a = 0.12;
  const half = (Math.sqrt(3) / 2) * a;
  const sources = [
    loop([0, 0, half], [0, 0, 1], { a }),
    loop([0, 0, -half], [0, 0, 1], { a, current: -current_A }),
    loop([half, 0, 0], [1, 0, 0], { a, current: 2 * current_A }),
    loop([-half, 0, 0], [1, 0, 0], { a, current: -2 * current_A }),
  ];
  const own = fieldOfSources(sources);
  const region = findFieldFreeRegion(own, { within: { radius_m: 0.04, halfLength_m: 0.09 } });
  const [line] = region.lines;
  const [across, end] = table<string[]>("four loops: gradient across, half length within 1 mm of it").map(Number);
  const rows = table<[string, string][]>("four loops: z, field along the line per mu0 I");
  const limit = across * strength * 1e-3;
  const residuals = rows.map(([z, known]) => {
    const found = own(Float64Array.of(0, 0, Number(z)));
    return {
      quantity: "residual over limit",
      at: `${z} m`,
      error: Math.abs(found[2] - Number(known) * strength) / limit,
    };
  });
  return {
    comparisons: [
      ...residuals,
      { quantity: "limit, relative", at: "line", error: Math.abs(line.limit_T / limit - 1) },
      { quantity: "length, relative", at: "line", error: Math.abs(line.lengthBelow_m / (2 * end) - 1) },
      { quantity: "direction", at: "line", error: distance(line.direction, [0, 0, 1]) },
      { quantity: "straightness over bore", at: "line", error: line.straightness_m / 0.04 },
    ],
    region,
  };
}

export interface ZeroCount {
  readonly known: number;
  readonly found: number;
  /** Those whose next zero is further than 0.1 radius. */
  readonly knownApart: number;
  readonly foundApart: number;
  /** Zeros of ours that the truth lacks. */
  readonly more: number;
  readonly worstPlace: number;
  readonly worstResidual: number;
  readonly mostEvaluations: number;
  readonly meanEvaluations: number;
}

/** Random harmonic fields: how many of the known zeros are found. Places in radii of the bore, residuals of the field of one charge at 1. */
export function randomZeros(): ZeroCount {
  const fields = table<ChargedField[]>("charges");
  let [known, found, knownApart, foundApart] = [0, 0, 0, 0];
  let [more, worstPlace, worstResidual] = [0, 0, 0];
  const evaluations: number[] = [];
  for (const charged of fields) {
    const region = findFieldFreeRegion(chargedField(charged), { within: { radius_m: 1, halfLength_m: 1.5 } });
    evaluations.push(region.evaluations);
    const inside = region.zeros.filter(({ isInside }) => isInside);
    known += charged.zeros.length;
    for (const zero of charged.zeros) {
      const isApart = charged.zeros.every((other) => other === zero || distance(other, zero) > 0.1);
      if (isApart) knownApart++;
      const nearest = Math.min(...inside.map(({ position_m }) => distance(position_m, zero)));
      if (!(nearest < 1e-5)) continue;
      found++;
      if (isApart) foundApart++;
      worstPlace = Math.max(worstPlace, nearest);
    }
    for (const { position_m, residual_T } of inside) {
      if (!charged.zeros.some((zero) => distance(position_m, zero) < 1e-5)) more++;
      worstResidual = Math.max(worstResidual, residual_T);
    }
  }
  const mean = evaluations.reduce((sum, value) => sum + value, 0) / evaluations.length;
  const mostEvaluations = Math.max(...evaluations);
  const counts = { known, found, knownApart, foundApart, more };
  return { ...counts, worstPlace, worstResidual, mostEvaluations, meanEvaluations: mean };
}

function chargedField({ charges, uniform }: ChargedField): FieldFunction {
  return (points, out = new Float64Array(points.length)) => {
    for (let at = 0; at < points.length; at += 3) {
      const sum = [...uniform];
      for (const [x, y, z, q] of charges) {
        const d = [points[at] - x, points[at + 1] - y, points[at + 2] - z];
        const cube = Math.hypot(...d) ** 3;
        for (let i = 0; i < 3; i++) sum[i] += (q * d[i]) / cube;
      }
      out.set(sum, at);
    }
    return out;
  };
}
