import { z } from "zod";
import type { Relaxation } from "../../physics/index.js";
import { quantity } from "../fields/quantity-field.js";
import { refuse } from "../fields/refuse.js";
import { textField } from "../fields/text-field.js";
import { relaxationField, toRelaxation } from "./relaxation-field.js";

export const media = ["water", "gel", "blood", "cells", "other"] as const;
export type Medium = (typeof media)[number];

export const mediumField = z
  .enum(media)
  .meta({ description: "what the particles were in when the numbers were taken" });
export const temperatureField = quantity("temperature", { example: "37 Cel", positive: true });

/** The same tracer in another environment: what was measured there. */
export const stateField = z.strictObject({
  medium: mediumField,
  temperature: temperatureField,
  signalFactor: z
    .strictObject({
      value: z
        .number()
        .gt(0)
        .max(100)
        .meta({ description: "signal per iron here over that in the tracer's environment" }),
      standardUncertainty: z.number().gte(0).max(100).meta({ description: "k = 1" }),
    })
    .meta({ description: "measured; without it a mass read in this state is not corrected, and says so" })
    .optional(),
  relaxation: relaxationField.optional(),
  coupling: z.number().gte(0).max(1000).meta({ description: "mean-field coupling in this state" }).optional(),
  measurement: textField("the measurement behind these numbers", "spectroscopy at 25 kHz, 20 mT, file gel-22C.csv"),
});

type ParsedState = z.output<typeof stateField>;

export interface TracerState {
  readonly medium: Medium;
  readonly temperature_K: number;
  readonly signalFactor?: { readonly value: number; readonly standardUncertainty: number } | undefined;
  readonly relaxation?: Relaxation | undefined;
  readonly coupling?: number | undefined;
  readonly measurement: string;
}

export function toState({
  medium,
  temperature,
  signalFactor,
  relaxation,
  coupling,
  measurement,
}: ParsedState): TracerState {
  return {
    medium,
    temperature_K: temperature,
    signalFactor,
    relaxation: relaxation === undefined ? undefined : toRelaxation(relaxation),
    coupling,
    measurement,
  };
}

/** Two temperatures nearer than this are the same state. */
export const sameTemperature_K = 0.5;

/** A state is found by medium and temperature, so no two may share them. */
export function refuseTwinStates(
  {
    environment,
    states = [],
  }: { environment: { medium: Medium; temperature: number }; states?: ParsedState[] | undefined },
  sink: z.core.$RefinementCtx,
): void {
  const known = [environment, ...states];
  for (const [i, state] of states.entries()) {
    const twin = known.slice(0, i + 1).find((other) => isSame(other, state));
    if (twin !== undefined)
      refuse(sink, ["states", i], {
        found: `a second description of ${state.medium} at this temperature`,
        accepted: "one for each medium and temperature; the tracer's own environment counts as one",
      });
  }
}

const isSame = (a: { medium: Medium; temperature: number }, b: { medium: Medium; temperature: number }): boolean =>
  a.medium === b.medium && Math.abs(a.temperature - b.temperature) < sameTemperature_K;
