import { type FieldFreeRegion, type FieldSource, fieldOfSources, findFieldFreeRegion } from "../../physics/index.js";
import type { Axis } from "../fields/axis-field.js";
import type { Vector3 } from "../fields/vector-field.js";
import type { Tensor3, Topology } from "./selection-tensor.js";

export interface Bore {
  readonly axis: Axis;
  readonly radius_m: number;
  readonly halfLength_m: number;
}

export function boreOf({
  boreDiameter,
  boreLength = 2 * boreDiameter,
  boreAxis = "z",
}: {
  readonly boreDiameter: number;
  readonly boreLength?: number | undefined;
  readonly boreAxis?: Axis | undefined;
}): Bore {
  return { axis: boreAxis, radius_m: boreDiameter / 2, halfLength_m: boreLength / 2 };
}

/** Where coils and magnets leave no field within the bore. */
export function fieldFreeRegionOf(
  sources: readonly FieldSource[],
  { axis, radius_m, halfLength_m }: Bore,
): FieldFreeRegion {
  return findFieldFreeRegion(fieldOfSources(sources), { within: { axis, radius_m, halfLength_m } });
}

/**
 * The gradient that scans and predictions take for an ideal field: symmetric, free of trace, and for a line without the
 * small part along it.
 *   line along v:  P = I - v v',  G' = P G P - (tr(P G P)/2) P
 * What a real field departs from it is reported beside (gradient error); elements below 1e-8 of the largest are rounding.
 */
export function idealised(gradient: Float64Array, direction: readonly number[] | undefined): Tensor3 {
  const symmetric = Array.from(
    gradient,
    (each, index) => (each + gradient[3 * (index % 3) + Math.floor(index / 3)]) / 2,
  );
  const free = direction === undefined ? withoutTrace(symmetric, identity) : acrossLine(symmetric, direction);
  const largest = Math.max(...free.map(Math.abs));
  const clean = free.map((each) => (Math.abs(each) < 1e-8 * largest ? 0 : each));
  const row = (i: number) => [clean[3 * i], clean[3 * i + 1], clean[3 * i + 2]] as const;
  return [row(0), row(1), row(2)];
}

const identity = [1, 0, 0, 0, 1, 0, 0, 0, 1];

function acrossLine(tensor: readonly number[], v: readonly number[]): number[] {
  const across = identity.map((each, index) => each - v[Math.floor(index / 3)] * v[index % 3]);
  return withoutTrace(product(product(across, tensor), across), across);
}

/** Takes the trace out evenly over the space onto which `projector` projects. */
function withoutTrace(tensor: readonly number[], projector: readonly number[]): number[] {
  const trace = (of: readonly number[]) => of[0] + of[4] + of[8];
  const part = trace(tensor) / trace(projector);
  return tensor.map((each, index) => each - part * projector[index]);
}

function product(a: readonly number[], b: readonly number[]): number[] {
  return identity.map((_, index) => {
    const [i, j] = [Math.floor(index / 3), index % 3];
    return a[3 * i] * b[j] + a[3 * i + 1] * b[3 + j] + a[3 * i + 2] * b[6 + j];
  });
}

export function topologyOf({ kind }: FieldFreeRegion): Topology | undefined {
  if (kind === "line") return "field-free-line";
  return kind === "point" || kind === "points" ? "field-free-point" : undefined;
}

/** Points that can be imaged with, within the bore; `undefined` when there is a line. */
export function pointCount({ kind, zeros }: FieldFreeRegion): number | undefined {
  return kind === "line" ? undefined : zeros.filter(isUsable).length;
}

const isUsable = ({ isInside, outcome }: FieldFreeRegion["zeros"][number]): boolean =>
  isInside && outcome !== "degenerate";

export interface FieldFreeCentre {
  readonly position_m: Vector3;
  readonly gradient_T_per_m: Float64Array;
  /** Of a line. */
  readonly direction?: Vector3 | undefined;
}

/** The place that a scanner images about: the middle of the longest line, or the field-free point nearest the centre. */
export function centreOf({ lines, zeros }: FieldFreeRegion): FieldFreeCentre | undefined {
  if (lines.length > 0) {
    const [{ point_m, gradient_T_per_m, direction }] = lines;
    return { position_m: point_m, gradient_T_per_m, direction };
  }
  return zeros.find(isUsable);
}
