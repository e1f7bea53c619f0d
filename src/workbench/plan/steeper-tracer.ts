import type { ReferenceDesign } from "./reference-design.js";
import { type DesignPoint, needsAt } from "./scaled-design.js";

/** How much steeper: a tenth of the width for the same gradient. */
export const steepness = 10;

/** What the same resolution costs with a tracer whose response is ten times steeper. */
export interface SteeperTracer {
  readonly factor: number;
  /** Same width along the drive from a tenth of the gradient. */
  readonly gradient_T_per_m: { readonly now: number; readonly steeper: number };
  readonly selectionPower_W: { readonly now: number | null; readonly steeper: number | null };
  readonly storedEnergy_J: { readonly now: number | null; readonly steeper: number | null };
  /** Ten times the patch: shift fields and the number of patches fall with it. */
  readonly patch_m: { readonly now: number; readonly steeper: number };
  readonly shiftForQuarterBore_T: { readonly now: number; readonly steeper: number };
  readonly note: string;
}

/** Worked out with the case's own coils at its own bore; for magnets the gradient is a matter of distance, not of power. */
export function steeperTracer(design: ReferenceDesign, point: DesignPoint): SteeperTracer {
  const lower = { ...point, gradient_T_per_m: point.gradient_T_per_m / steepness };
  const [now, eased] = [needsAt(design, point, new Map()), needsAt(design, lower, new Map())];
  const patch = ({ gradient_T_per_m }: DesignPoint) =>
    (2 * point.driveAmplitude_T) / (gradient_T_per_m * design.shareAlongDrive);
  return {
    factor: steepness,
    gradient_T_per_m: { now: point.gradient_T_per_m, steeper: lower.gradient_T_per_m },
    selectionPower_W: { now: now.selectionPower_W, steeper: eased.selectionPower_W },
    storedEnergy_J: { now: now.storedEnergy_J, steeper: eased.storedEnergy_J },
    patch_m: { now: patch(point), steeper: patch(lower) },
    shiftForQuarterBore_T: { now: now.shiftForQuarterBore_T, steeper: eased.shiftForQuarterBore_T },
    note:
      "steeper chains answer only above a threshold of the drive and remember their history: the width here is taken to " +
      "scale, the drive is kept",
  };
}
