import { z } from "zod";
import { quantity } from "../fields/quantity-field.js";
import { refuse } from "../fields/refuse.js";

const position = (description: string, example: string) =>
  quantity("length", { description, example, min: "-10 m", max: "10 m" });

/** How far from a whole number of steps a range may be: the rounding of decimal text in a few operations. */
const stepTolerance = 1e-6;

/** Equally spaced positions of the field-free centre along one axis; `from` = `to` is a single position. */
export const axisPositionsField = z
  .strictObject({
    from: position("first position of the field-free centre", "-10 mm"),
    to: position("last position, reached by whole steps", "10 mm"),
    step: quantity("length", {
      description: "spacing; may be left out for one position",
      example: "2 mm",
      positive: true,
    }).optional(),
  })
  .superRefine((positions, sink) => {
    const { from, to, step } = positions;
    if (to < from) refuse(sink, ["to"], { found: `${mm(to)}, below "from"`, accepted: `${mm(from)} or more` });
    else if (step !== undefined) refuseBrokenSteps(to - from, step, sink);
    else if (to > from) refuse(sink, [], { found: "a range without a step", accepted: '"step", e.g. "2 mm"' });
  });

function refuseBrokenSteps(range_m: number, step_m: number, sink: z.core.$RefinementCtx): void {
  const steps = range_m / step_m;
  if (Math.abs(steps - Math.round(steps)) <= stepTolerance) return;
  refuse(sink, ["step"], {
    found: `${mm(step_m)}, of which ${mm(range_m)} holds ${Number(steps.toPrecision(6))}`,
    accepted: `a step that divides the range, e.g. ${mm(range_m / Math.max(1, Math.round(steps)))}`,
  });
}

export interface AxisPositions {
  readonly from_m: number;
  readonly to_m: number;
  /** Absent for a single position. */
  readonly step_m?: number | undefined;
  readonly count: number;
}

export function toAxisPositions({ from, to, step }: z.output<typeof axisPositionsField>): AxisPositions {
  const count = step === undefined ? 1 : Math.round((to - from) / step) + 1;
  return { from_m: from, to_m: to, ...(count > 1 ? { step_m: step } : {}), count };
}

function mm(length_m: number): string {
  return `"${Number((length_m * 1e3).toPrecision(9))} mm"`;
}
