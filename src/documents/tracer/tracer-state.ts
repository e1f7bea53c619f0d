import { FerruleError } from "../../errors.js";
import type { SignalRatio } from "../../measure/index.js";
import { type Medium, sameTemperature_K } from "./states-field.js";
import type { TracerModel } from "./tracer-model.js";

/** Where a tracer is: what a scan or a prediction asks for. */
export interface StateName {
  readonly medium: Medium;
  readonly temperature_K: number;
}

export const stateWords = ({ medium, temperature_K }: StateName): string =>
  `${medium} at ${Number((temperature_K - 273.15).toFixed(1))} \u00b0C`;

export const isSameState = (a: StateName, b: StateName): boolean =>
  a.medium === b.medium && Math.abs(a.temperature_K - b.temperature_K) < sameTemperature_K;

/**
 * The tracer as it was measured in one state: its relaxation, coupling and temperature there. What a state does not state is
 * taken over from the tracer, and said.
 *
 * @throws FerruleError UnknownName for a state in which this tracer was not measured
 */
export function tracerInState(tracer: TracerModel, wanted: StateName): TracerModel {
  if (isSameState(tracer.environment, wanted)) return tracer;
  const state = tracer.states.find((candidate) => isSameState(candidate, wanted));
  if (state === undefined)
    throw new FerruleError("UnknownName", {
      path: "states",
      found: `the state "${stateWords(wanted)}" of tracer ${tracer.name}`,
      accepted: `a state in which it was measured: ${[tracer.environment, ...tracer.states].map(stateWords).join(", ")}`,
    });
  const { medium, temperature_K, relaxation, coupling, measurement } = state;
  const kept = relaxation === undefined && tracer.relaxation.kind !== "none";
  // A coupling or time of this state has its own uncertainty, which the document does not hold.
  const { relaxationTime_s, coupling: couplingUncertainty, ...uncertainties } = tracer.standardUncertainties;
  return {
    ...tracer,
    relaxation: relaxation ?? tracer.relaxation,
    coupling: coupling ?? tracer.coupling,
    environment: { medium, temperature_K },
    standardUncertainties: {
      ...uncertainties,
      ...(relaxation === undefined ? { relaxationTime_s } : {}),
      ...(coupling === undefined ? { coupling: couplingUncertainty } : {}),
    },
    advisories: [
      ...tracer.advisories,
      `tracer ${tracer.name} in ${stateWords(state)}: from ${measurement}`,
      ...(kept
        ? [
            `tracer ${tracer.name}: no relaxation was measured in ${stateWords(state)}; that of ${stateWords(tracer.environment)} is used`,
          ]
        : []),
    ],
  };
}

/** How much more signal the same iron gives in `use` than in `calibration`, and what has to be said about it. */
export interface StateChange {
  /** Absent where one of the two states has no measured factor. */
  readonly ratio?: SignalRatio;
  readonly advisories: readonly string[];
}

/**
 * Calibrating in one state and measuring in another: the ratio of the two signal factors.
 *   r = f_use / f_cal,  u(r)/r = sqrt((u_use/f_use)^2 + (u_cal/f_cal)^2);  the tracer's own environment has f = 1, u = 0
 *
 * Source      practice J4 (common practice); JCGM 100, law of propagation
 */
export function stateChange(tracer: TracerModel, calibration: StateName, use: StateName): StateChange {
  if (isSameState(calibration, use)) return { advisories: [] };
  const factors = [calibration, use].map((state) => factorIn(tracer, state));
  const names = [calibration, use].map(stateWords);
  const unknown = names.filter((_, i) => factors[i] === undefined);
  const [from, to] = factors;
  if (from === undefined || to === undefined)
    return {
      advisories: [
        `calibrated in ${names[0]} and used in ${names[1]}, but the signal of tracer ${tracer.name} in ${unknown.join(" and ")} was not measured: masses are not corrected and may be off by tens of percent`,
      ],
    };
  const value = to.value / from.value;
  const relative = Math.hypot(to.standardUncertainty / to.value, from.standardUncertainty / from.value);
  return {
    ratio: { value, standardUncertainty: value * relative },
    advisories: [
      `calibrated in ${names[0]}, used in ${names[1]}: masses are divided by the measured signal ratio ${value.toPrecision(3)} \u00b1 ${(value * relative).toPrecision(2)}`,
    ],
  };
}

function factorIn(tracer: TracerModel, state: StateName): SignalRatio | undefined {
  if (isSameState(tracer.environment, state)) return { value: 1, standardUncertainty: 0 };
  return tracer.states.find((candidate) => isSameState(candidate, state))?.signalFactor;
}
