import { FerruleError } from "../../errors.js";
import type { MagnetisationCurve } from "./curve.js";
import type { CoreConditions } from "./log-normal-model.js";

/** Linear background: free, none, or held between bounds, unit of the curve per tesla. */
export type BackgroundOption = "free" | "none" | { readonly minimum?: number; readonly maximum?: number };

export interface SlopeBounds {
  readonly minimum: number;
  readonly maximum: number;
}

/** Core saturation and temperature of the curve, without which a moment has no diameter. */
export function requireConditions({ name, coreSaturation_A_per_m, temperature_K }: MagnetisationCurve): CoreConditions {
  const missing = (path: string, what: string, example: string) =>
    new FerruleError("MissingFact", {
      path: `facts.${path}`,
      found: `curve "${name}" without ${what}, which turns a moment into a core diameter`,
      accepted: `add it to the curve's descriptor, e.g. "${path}": { "value": "${example}", "status": "assumed", "note": "why" }`,
    });
  if (coreSaturation_A_per_m === undefined) throw missing("coreSaturation", "the saturation of its cores", "446 kA/m");
  if (temperature_K === undefined) throw missing("temperature", "its temperature", "300 K");
  return { coreSaturation_A_per_m, temperature_K };
}

/** At least one field strength more than there are parameters, and some magnetisation. */
export function requireData({ field_T, magnetisation }: MagnetisationCurve, p: number): void {
  const refuse = (found: string, accepted: string): never => {
    throw new FerruleError("NotIdentifiable", { path: "curve", found, accepted });
  };
  const strengths = new Set<number>();
  for (let i = 0; i < field_T.length && strengths.size <= p; i++) strengths.add(Math.abs(field_T[i]));
  if (strengths.size <= p)
    refuse(`${strengths.size} different field strengths`, `at least ${p + 1}, for ${p} parameters and a check`);
  if (magnetisation.every((value) => value === 0)) refuse("a magnetisation of zero throughout", "a magnetised sample");
}

export function slopeBounds(background: BackgroundOption): SlopeBounds {
  if (background === "none") return { minimum: 0, maximum: 0 };
  const { minimum = -Infinity, maximum = Infinity } = background === "free" ? {} : background;
  if (minimum <= maximum) return { minimum, maximum };
  const found = `a minimum of ${minimum} above the maximum of ${maximum}`;
  throw new FerruleError("InvalidValue", {
    path: "background",
    found,
    accepted: "minimum <= maximum, e.g. { minimum: 0 }",
  });
}
