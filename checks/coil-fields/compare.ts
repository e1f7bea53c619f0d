import { readFileSync } from "node:fs";
import { cel, ellipticKE } from "../../src/numerics/index.js";
import { contributionSum_T, fieldAtPoint, fieldOfSources } from "../../src/physics/sources/field-of-sources.js";
import type { FieldSource, Vector3 } from "../../src/physics/sources/source.js";
import { vectorPotentialOfSources } from "../../src/physics/sources/vector-potential.js";
import { vacuumPermeability_T_m_per_A as mu0 } from "../../src/units/index.js";

/** Shared by the gate and the meter: errors of fields and vector potentials as a share of the size of the true vector. */
export interface Comparison {
  readonly kind: string;
  readonly at: string;
  readonly error: number;
}

type Numbers = readonly (number | string)[];
type Row = readonly (number | string | Numbers)[];
const truth: Record<string, readonly Row[]> = JSON.parse(
  readFileSync(new URL("./truth.json", import.meta.url), "utf8"),
);

/** The table whose name starts so. */
function table(name: string): readonly Row[] {
  const found = Object.entries(truth).find(([key]) => key.startsWith(name));
  if (found === undefined) throw new Error(`truth.json has no table "${name}"`);
  return found[1];
}

const list = (cell: Row[number]): number[] => (Array.isArray(cell) ? cell.map(Number) : [Number(cell)]);
const triple = (cell: Row[number]): Vector3 => list(cell) as unknown as Vector3;
const relative = (found: ArrayLike<number>, expected: readonly number[]): number =>
  Math.hypot(...expected.map((value, i) => found[i] - value)) / Math.hypot(...expected);

export function ellipticErrors(): Comparison[] {
  const ke = table("elliptic").flatMap(([m, k, e]) => {
    const found = ellipticKE(Number(m));
    return [
      { kind: "K", at: `m ${m}`, error: relative([found[0]], list(k)) },
      { kind: "E", at: `m ${m}`, error: relative([found[1]], list(e)) },
    ];
  });
  const general = table("cel").map(([inputs, value]) => {
    const [kc, p, a, b] = list(inputs);
    return { kind: "cel", at: `(${list(inputs).join(", ")})`, error: relative([cel(kc, p, [a, b])], list(value)) };
  });
  return [...ke, ...general];
}

/** A tilted frame, so that no component is trivially 0, and a centre off the origin. */
const tilt = tiltedFrame(0.7, 0.4);
const center_m: Vector3 = [0.25, -0.5, 0.125];

function tiltedFrame(turn: number, tip: number): readonly [Vector3, Vector3, Vector3] {
  const [c, s, d, t] = [Math.cos(turn), Math.sin(turn), Math.cos(tip), Math.sin(tip)];
  return [
    [c * d, s * d, -t],
    [-s, c, 0],
    [c * t, s * t, d],
  ];
}

const scannerAxes = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
] as const satisfies readonly [Vector3, Vector3, Vector3];

interface Placement {
  readonly frame: readonly [Vector3, Vector3, Vector3];
  readonly center_m: Vector3;
}

const upright: Placement = { frame: scannerAxes, center_m: [0, 0, 0] };
const tilted: Placement = { frame: tilt, center_m };

const place = ({ frame, center_m: c }: Placement, p: readonly number[]): Vector3 =>
  [0, 1, 2].map((k) => c[k] + p[0] * frame[0][k] + p[1] * frame[1][k] + p[2] * frame[2][k]) as unknown as Vector3;
const turned = ({ frame }: Placement, v: readonly number[]): number[] => [...place({ frame, center_m: [0, 0, 0] }, v)];

interface Case {
  readonly kind: string;
  readonly at: string;
  readonly source: FieldSource;
  readonly point_m: Vector3;
  readonly field: readonly number[];
  readonly potential?: readonly number[];
}

function errorsOf({ kind, at, source, point_m, field, potential }: Case): Comparison[] {
  const b = { kind, at, error: relative(fieldAtPoint([source], point_m), field) };
  if (potential === undefined) return [b];
  const found = vectorPotentialOfSources([source])(Float64Array.from(point_m));
  // On an axis of symmetry the potential is 0 and has no relative error: measured against |B| times the distance then.
  const size = Math.hypot(...potential);
  const error = size > 0 ? relative(found, potential) : Math.hypot(...found) / Math.hypot(...field);
  return [b, { kind: `${kind} A`, at, error }];
}

export function loopErrors(): Comparison[] {
  return table("loops").flatMap(([where, values]) => {
    const [radius_m, rho, z] = list(where);
    const [radial, axial, around] = list(values);
    const at = `(${list(where).join(", ")})`;
    const source = { kind: "loop", normal: [0, 0, 1], radius_m, current_A: 1 / mu0, center_m: [0, 0, 0] } as const;
    return errorsOf({
      kind: "loop",
      at,
      source,
      point_m: [rho, 0, z],
      field: [radial, 0, axial],
      potential: [0, around, 0],
    });
  });
}

/** The same loops tilted, off the origin: the coordinates' own rounding comes in, so only points clear of the wire. */
export function tiltedLoopErrors(): Comparison[] {
  return table("loops").flatMap(([where, values]) => {
    const [radius_m, rho, z] = list(where);
    const [radial, axial] = list(values);
    if (Math.hypot(rho - radius_m, z) < 0.01 * radius_m) return [];
    const source = { kind: "loop", normal: tilt[2], radius_m, current_A: 1 / mu0, center_m } as const;
    const point_m = place(tilted, [0.6 * rho, 0.8 * rho, z]);
    const field = turned(tilted, [0.6 * radial, 0.8 * radial, axial]);
    return errorsOf({ kind: "tilted loop", at: `(${list(where).join(", ")})`, source, point_m, field });
  });
}

export function stackErrors(): Comparison[] {
  return table("stacks").flatMap(([where, values]) => {
    const [innerRadius_m, outerRadius_m, length_m, rho, z] = list(where);
    const [radial, axial] = list(values);
    const source = {
      kind: "coil-stack",
      normal: [0, 0, 1],
      center_m: [0, 0, 0],
      innerRadius_m,
      outerRadius_m,
      length_m,
      current_A: 1 / mu0,
    } as const;
    const kind = innerRadius_m === outerRadius_m ? "sheet" : "thick coil";
    const at = `(${list(where).join(", ")})`;
    return errorsOf({ kind, at, source, point_m: [rho, 0, z], field: [radial, 0, axial] });
  });
}

export function segmentErrors(): Comparison[] {
  return table("segments").flatMap(([from, to, point, b, a]) =>
    errorsOf({
      kind: "segment",
      at: `(${list(point).join(", ")})`,
      source: { kind: "segment", from_m: triple(from), to_m: triple(to), current_A: 1 / mu0 },
      point_m: triple(point),
      field: list(b),
      potential: list(a),
    }),
  );
}

export function blockErrors(): Comparison[] {
  return table("blocks").flatMap(([size, j, point, b, a]) =>
    [upright, tilted].flatMap((placement) => {
      // Off the origin a far point's coordinates carry no more digits than the offset leaves them.
      const source = {
        kind: "block",
        center_m: placement.center_m,
        size_m: triple(size),
        edges: placement.frame,
        remanence_T: turned(placement, list(j)) as unknown as Vector3,
      } as const;
      return errorsOf({
        kind: placement === upright ? "block" : "tilted block",
        at: `(${list(point).join(", ")})`,
        source,
        point_m: place(placement, list(point)),
        field: turned(placement, list(b)),
        potential: turned(placement, list(a)),
      });
    }),
  );
}

export function sectorErrors(): Comparison[] {
  return table("sectors").flatMap(([shape, j, point, b, a]) => {
    const [innerRadius_m, outerRadius_m, length_m, fromAngle_rad, toAngle_rad] = list(shape);
    return [upright, tilted].flatMap((placement) =>
      errorsOf({
        kind: placement === upright ? "ring sector" : "tilted sector",
        at: `${list(shape).join(", ")} (${list(point).join(", ")})`,
        source: {
          kind: "ring-sector",
          center_m: placement.center_m,
          axis: placement.frame[2],
          reference: placement.frame[0],
          innerRadius_m,
          outerRadius_m,
          length_m,
          fromAngle_rad,
          toAngle_rad,
          remanence_T: turned(placement, list(j)) as unknown as Vector3,
        },
        point_m: place(placement, list(point)),
        field: turned(placement, list(b)),
        potential: turned(placement, list(a)),
      }),
    );
  });
}

/** Facts W34 to W36: loops and the Maxwell pair, with the sheet's own numbers (mu0 = 4 pi 1e-7 there: 1.3e-10 apart). */
export function printedErrors(): Comparison[] {
  const loop = (radius_m: number, current_A: number, height: number): FieldSource => ({
    kind: "loop",
    center_m: [0, 0, height],
    normal: [0, 0, 1],
    radius_m,
    current_A,
  });
  const at34 = fieldAtPoint([loop(0.1, 100, 0)], [0.05, 0, 0.05]);
  const at35 = fieldAtPoint([loop(1, 1, 0)], [0.5, 0, 0.25]);
  const ke = ellipticKE(0.8);
  const height = (Math.sqrt(3) / 2) * 0.165;
  const maxwell = fieldOfSources([loop(0.165, 5, height), loop(0.165, -5, -height)]);
  const step = 1e-3;
  const around = maxwell(Float64Array.of(0, 0, step, 0, 0, -step));
  const helmholtz = fieldAtPoint([loop(0.1, 100, 0.05), loop(0.1, 100, -0.05)], [0, 0, 0]);
  const rows: readonly [string, number, number][] = [
    ["W34 K", ke[0], 2.257205327],
    ["W34 E", ke[1], 1.178489924],
    ["W34 B_rho", at34[0], 1.6168908e-4],
    ["W34 B_z", at34[2], 4.3458489e-4],
    ["W35 B_rho", at35[0], 1.524646e-7],
    ["W35 B_z", at35[2], 6.4819197e-7],
    ["W36", (around[2] - around[5]) / (2 * step), 1.480024e-4],
    ["W37 Helmholtz", helmholtz[2], 0.8991763e-3],
  ];
  return rows.map(([at, found, printed]) => ({ kind: "printed", at, error: Math.abs(found / printed - 1) }));
}

/** 24 loops in a ring, currents that largely cancel at the centre: error of the sum against the sum of magnitudes. */
export function sumOfContributions(): { readonly sum_T: number; readonly size_T: number } {
  const sources: FieldSource[] = Array.from({ length: 24 }, (_, k) => {
    const angle = (2 * Math.PI * k) / 24;
    const normal: Vector3 = [Math.cos(angle), Math.sin(angle), 0];
    return { kind: "loop", center_m: [normal[0] * 0.2, normal[1] * 0.2, 0], normal, radius_m: 0.02, current_A: 100 };
  });
  return { sum_T: Math.hypot(...fieldAtPoint(sources, [0, 0, 0])), size_T: contributionSum_T(sources, [0, 0, 0]) };
}

export function allErrors(): Comparison[] {
  return [
    ...ellipticErrors(),
    ...loopErrors(),
    ...tiltedLoopErrors(),
    ...stackErrors(),
    ...segmentErrors(),
    ...blockErrors(),
    ...sectorErrors(),
    ...printedErrors(),
  ];
}
