import type { TracerModel } from "../../documents/index.js";
import type { Relaxation } from "../../physics/index.js";

/** An input of a tracer with its stated uncertainty, and the tracer with it moved. */
export interface UncertainInput {
  readonly name: string;
  readonly u: number;
  readonly moved: (by: number) => TracerModel;
}

/** Every input that states an uncertainty above 0. */
export function uncertainInputs(tracer: TracerModel): UncertainInput[] {
  const stated = tracer.standardUncertainties;
  const all = [
    ...sizeInputs(tracer),
    { name: "saturation", u: stated.saturation_A_per_m, moved: (by: number) => withSaturation(tracer, by) },
    { name: "coupling", u: stated.coupling, moved: (by: number) => withCoupling(tracer, by) },
    { name: "relaxation time", u: stated.relaxationTime_s, moved: (by: number) => withTime(tracer, by) },
  ];
  return all.flatMap(({ name, u, moved }) => (u === undefined || u === 0 ? [] : [{ name, u, moved }]));
}

/** Change of a width for one standard uncertainty of each input, from a fraction of it on either side. */
export function effectsOf(
  inputs: readonly UncertainInput[],
  width: (tracer: TracerModel) => number,
  { fraction }: { fraction: number },
): { name: string; effect: number }[] {
  return inputs.map(({ name, u, moved }) => ({
    name,
    effect: (width(moved(fraction * u)) - width(moved(-fraction * u))) / (2 * fraction),
  }));
}

function sizeInputs(tracer: TracerModel) {
  const { sizes } = tracer.core;
  const stated = tracer.standardUncertainties;
  const withSizes = (changed: typeof sizes): TracerModel => ({ ...tracer, core: { ...tracer.core, sizes: changed } });
  if (sizes.kind === "single")
    return [
      {
        name: "diameter",
        u: stated.diameter_m,
        moved: (by: number) => withSizes({ ...sizes, diameter_m: sizes.diameter_m + by }),
      },
    ];
  if (sizes.kind !== "lognormal") return [];
  return [
    {
      name: "median diameter",
      u: stated.medianDiameter_m,
      moved: (by: number) => withSizes({ ...sizes, medianDiameter_m: sizes.medianDiameter_m + by }),
    },
    {
      name: "log-sd",
      u: stated.logSd,
      moved: (by: number) => withSizes({ ...sizes, logSd: Math.max(0, sizes.logSd + by) }),
    },
  ];
}

function withSaturation(tracer: TracerModel, by: number): TracerModel {
  const saturation_A_per_m = tracer.core.saturation_A_per_m + by;
  return { ...tracer, core: { ...tracer.core, saturation_A_per_m } };
}

function withCoupling(tracer: TracerModel, by: number): TracerModel {
  return { ...tracer, coupling: Math.max(0, (tracer.coupling ?? 0) + by) };
}

/** The stated time moved, never below a hundredth of itself; a model without one stays as it is. */
function withTime(tracer: TracerModel, by: number): TracerModel {
  const { relaxation } = tracer;
  const moved = (time: number) => Math.max(time / 100, time + by);
  const changed: Relaxation =
    relaxation.kind === "debye"
      ? { ...relaxation, time_s: moved(relaxation.time_s) }
      : relaxation.kind === "field-dependent"
        ? { ...relaxation, zeroFieldTime_s: moved(relaxation.zeroFieldTime_s) }
        : relaxation;
  return { ...tracer, relaxation: changed };
}
