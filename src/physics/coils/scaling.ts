import { FerruleError } from "../../errors.js";
import { requirePositive } from "../particle/ranges.js";
import type { Vector3 } from "../sources/source.js";
import { coilResistance_Ohm } from "./coil-resistance.js";
import { coilInductance_H } from "./inductance.js";
import type { Coil, Winding, WindingShape } from "./winding.js";
import { measureWinding } from "./winding-measures.js";

export interface ScalingStudy {
  /** At scale 1. */
  readonly coil: Coil;
  /** What the coil is for, per ampere, of the scaled coil: T/A for a field at its centre, T/(m A) for a gradient. */
  readonly fieldPerAmpere: (scaledCoil: Coil) => number;
  /** Wanted fields, T, or gradients, T/m (peak). */
  readonly wanted: readonly number[];
  /** All lengths times each of these. */
  readonly scales: readonly number[];
  readonly frequencies_Hz: readonly number[];
  readonly temperature_K?: number;
  /** "direct": of fine litz, the same at every frequency. "skin": with the skin effect of each wire alone. */
  readonly resistance?: "direct" | "skin";
}

export interface ScalingLaw {
  /** y ∝ wanted^p · scale^s · frequency^q. */
  readonly exponents: { readonly wanted: number; readonly scale: number; readonly frequency: number };
  /** At wanted = scale = frequency = 1 in SI. */
  readonly prefactor: number;
  /** Largest departure of a computed value from the law, relative. */
  readonly worstResidual: number;
}

export interface ScalingResult {
  readonly current_A: ScalingLaw;
  /** Mean over a period of a sine. */
  readonly power_W: ScalingLaw;
  /** At the peak. */
  readonly storedEnergy_J: ScalingLaw;
  readonly reactivePower_var: ScalingLaw;
  readonly mass_kg: ScalingLaw;
}

/**
 * Scaling laws of a coil, found by building it at several sizes.
 * For every scale, wanted field and frequency: I = wanted/(field per ampere), P = R·I²/2, W = L·I²/2, Q = ωL·I²/2; then
 * ln y is fitted by a plane in the logarithms. On the full grid of values the three slopes do not mix, so each is the
 * straight-line slope along its own axis.
 *
 * Valid for   at least two values along every axis. With direct resistance the laws are exact for a fixed shape: for a
 *             field B, P ∝ B²·a, W ∝ B²·a³, Q ∝ f·B²·a³; for a gradient G, P ∝ G²·a³, W ∝ G²·a⁵, Q ∝ f·G²·a⁵
 *             (`worstResidual` is then rounding). With the skin effect the power is no exact power law, and
 *             `worstResidual` says by how much.
 * Source      facts L11 (derived)
 * Checked by  scaling.test.ts, checks/coil-engineering (Maxwell pair and solenoid)
 */
export function scalingExponents(study: ScalingStudy): ScalingResult {
  const { coil, fieldPerAmpere, wanted, scales, frequencies_Hz, temperature_K = 293.15, resistance = "direct" } = study;
  const axes = [wanted, scales, frequencies_Hz].map((values, i) =>
    logarithms(values, ["wanted", "scales", "frequencies_Hz"][i]),
  );
  const built = scales.map((scale) => {
    const scaled = scaleCoil(coil, scale);
    const perAmpere = Math.abs(fieldPerAmpere(scaled));
    requirePositive(perAmpere, "fieldPerAmpere", "1e-4");
    return {
      perAmpere,
      inductance_H: coilInductance_H(scaled),
      mass_kg: scaled.windings.reduce((sum, winding) => sum + measureWinding(winding).mass_kg, 0),
      resistances_Ohm: frequencies_Hz.map((f) =>
        coilResistance_Ohm(scaled, { temperature_K, frequency_Hz: resistance === "skin" ? f : 0 }),
      ),
    };
  });
  type Built = (typeof built)[number];
  const law = (quantity: (at: Built, current_A: number, k: number) => number): ScalingLaw => {
    // Order of the grid: wanted, scale, frequency, the last fastest.
    const logs = wanted.flatMap((goal) =>
      built.flatMap((at) => frequencies_Hz.map((_, k) => Math.log(quantity(at, goal / at.perAmpere, k)))),
    );
    return fitLaw(logs, axes);
  };
  return {
    current_A: law((_, current) => current),
    power_W: law(({ resistances_Ohm }, current, k) => (resistances_Ohm[k] * current ** 2) / 2),
    storedEnergy_J: law(({ inductance_H }, current) => (inductance_H * current ** 2) / 2),
    reactivePower_var: law(({ inductance_H }, current, k) => Math.PI * frequencies_Hz[k] * inductance_H * current ** 2),
    mass_kg: law(({ mass_kg }) => mass_kg),
  };
}

/** The same coil with all lengths multiplied; turns, fill and the diameter of litz strands stay. */
export function scaleCoil({ windings }: Coil, scale: number): Coil {
  requirePositive(scale, "scale", "2");
  return { windings: windings.map((winding) => scaleWinding(winding, scale)) };
}

function scaleWinding(winding: Winding, scale: number): Winding {
  const { conductor, bundleRadius_m, shape } = winding;
  return {
    ...winding,
    shape: scaleShape(shape, scale),
    conductor: "metalArea_m2" in conductor ? { metalArea_m2: conductor.metalArea_m2 * scale ** 2 } : conductor,
    ...(bundleRadius_m === undefined ? {} : { bundleRadius_m: bundleRadius_m * scale }),
  };
}

function scaleShape(shape: WindingShape, scale: number): WindingShape {
  const [x, y, z] = shape.center_m;
  const center_m: Vector3 = [scale * x, scale * y, scale * z];
  if (shape.kind === "loop") return { ...shape, center_m, radius_m: scale * shape.radius_m };
  if (shape.kind === "rectangle")
    return { ...shape, center_m, size_m: [scale * shape.size_m[0], scale * shape.size_m[1]] };
  return {
    ...shape,
    center_m,
    innerRadius_m: scale * shape.innerRadius_m,
    outerRadius_m: scale * shape.outerRadius_m,
    length_m: scale * shape.length_m,
  };
}

/** Slopes of ln y along each axis of a full grid [wanted, scale, frequency]. */
function fitLaw(logs: readonly number[], axes: readonly (readonly number[])[]): ScalingLaw {
  const counts = axes.map((axis) => axis.length);
  const indexOf = (flat: number, axis: number) =>
    Math.floor(flat / counts.slice(axis + 1).reduce((product, n) => product * n, 1)) % counts[axis];
  const mean = logs.reduce((sum, y) => sum + y, 0) / logs.length;
  const centres = axes.map((axis) => axis.reduce((sum, x) => sum + x, 0) / axis.length);
  const slopes = axes.map((axis, a) => {
    const departure = (flat: number) => axis[indexOf(flat, a)] - centres[a];
    const together = logs.reduce((sum, y, flat) => sum + departure(flat) * (y - mean), 0);
    return together / logs.reduce((sum, _, flat) => sum + departure(flat) ** 2, 0);
  });
  const origin = slopes.reduce((value, slope, a) => value - slope * centres[a], mean);
  const residuals = logs.map((y, flat) =>
    Math.abs(Math.expm1(y - slopes.reduce((sum, slope, a) => sum + slope * axes[a][indexOf(flat, a)], origin))),
  );
  const [wanted, scale, frequency] = slopes;
  return {
    exponents: { wanted, scale, frequency },
    prefactor: Math.exp(origin),
    worstResidual: Math.max(...residuals),
  };
}

function logarithms(values: readonly number[], path: string): number[] {
  if (new Set(values).size < 2 || new Set(values).size < values.length)
    throw new FerruleError("NotIdentifiable", {
      path,
      found: `[${values.join(", ")}]`,
      accepted: "at least two values, all different, e.g. [1, 2, 4]",
    });
  return values.map((value) => Math.log(requirePositive(value, path, "1")));
}
