import { gaussLegendre } from "../../numerics/index.js";
import { coarseNodes } from "../particle/coarse-nodes.js";
import { xiPerTesla } from "../particle/core.js";
import type { ParticleEnsemble } from "../particle/magnetisation.js";
import type { HydrodynamicSize, Relaxation } from "../particle/relaxation-model.js";
import { brownianChunk } from "../relaxation/brownian-fokker-planck.js";
import type { NeelParticle } from "../relaxation/neel-periodic.js";
import { barrierRatio, brownTime_s, freeNeelTime_s } from "../relaxation/relaxation-times.js";

/** What a tracer is made of, as far as its answer to a drive goes. Plain data. */
export interface DrivenTracer {
  readonly ensemble: ParticleEnsemble;
  readonly relaxation: Relaxation;
  /** Effective mean-field coupling kappa of chained cores; 0 or absent: none. */
  readonly coupling?: number | undefined;
}

/** Cores of one size with their share of the moment. */
export interface CoreNode {
  readonly diameter_m: number;
  readonly xiPerTesla: number;
  readonly weight: number;
}

/**
 * A share of the work that a tracer's response takes, and of its moment: plain data, so that it can be sent to a worker. How a
 * tracer is cut follows from the tracer alone.
 */
export type ResponsePart = { readonly weight: number } & (
  | { readonly kind: "whole"; readonly tracer: DrivenTracer }
  /** Particles of unlike size or time with their shares of this part. */
  | {
      readonly kind: "brownian";
      readonly particles: {
        readonly xiPerTesla: Float64Array;
        readonly brownTime_s: Float64Array;
        readonly weight: Float64Array;
      };
    }
  | { readonly kind: "core"; readonly tracer: DrivenTracer; readonly core: CoreNode }
  | { readonly kind: "neel-axis"; readonly particle: NeelParticle; readonly cosAngle: number }
);

/** Fixed axes cost seconds for each size and angle: few of both. */
const randomAxes = { sizes: 6, angles: 5 } as const;

/** The parts of a tracer's response, in the order in which they are summed; their weights sum to 1. */
export function responseParts(tracer: DrivenTracer): ResponsePart[] {
  const { ensemble, relaxation, coupling = 0 } = tracer;
  if (coupling > 0 || relaxation.kind === "none" || relaxation.kind === "debye")
    return [{ kind: "whole", weight: 1, tracer }];
  if (relaxation.kind === "brownian") return brownianParts(ensemble, relaxation);
  if (relaxation.kind === "neel" && relaxation.easyAxes === "random") return axisParts(ensemble, relaxation);
  return coreNodes(ensemble).map((core) => ({ kind: "core", weight: core.weight, tracer, core }));
}

export function coreNodes({ sizes, saturation_A_per_m, temperature_K }: ParticleEnsemble, count = 24): CoreNode[] {
  const { diameter_m, weight } = coarseNodes(sizes, { count });
  return Array.from(diameter_m, (d, j) => ({
    diameter_m: d,
    xiPerTesla: xiPerTesla(d, saturation_A_per_m, temperature_K),
    weight: weight[j],
  }));
}

/** Core sizes, each with every hydrodynamic size (independent of it) or with its own shell, in chunks of the method. */
function brownianParts(
  ensemble: ParticleEnsemble,
  { viscosity_Pa_s, hydrodynamic }: { viscosity_Pa_s: number; hydrodynamic: HydrodynamicSize },
): ResponsePart[] {
  const nodes = coreNodes(ensemble).flatMap((core) =>
    hydrodynamicSizes(core.diameter_m, hydrodynamic).map(({ diameter_m, weight }) => ({
      xiPerTesla: core.xiPerTesla,
      time_s: brownTime_s(diameter_m, viscosity_Pa_s, ensemble.temperature_K),
      weight: core.weight * weight,
    })),
  );
  return Array.from({ length: Math.ceil(nodes.length / brownianChunk) }, (_, i) => {
    const chunk = nodes.slice(i * brownianChunk, (i + 1) * brownianChunk);
    const weight = chunk.reduce((sum, node) => sum + node.weight, 0);
    const particles = {
      xiPerTesla: Float64Array.from(chunk, (node) => node.xiPerTesla),
      brownTime_s: Float64Array.from(chunk, (node) => node.time_s),
      weight: Float64Array.from(chunk, (node) => node.weight / weight),
    };
    return { kind: "brownian", weight, particles };
  });
}

/** Hydrodynamic diameters of particles with a core of this size; shares by number, since the moment is the core's. */
export function hydrodynamicSizes(core_m: number, size: HydrodynamicSize): { diameter_m: number; weight: number }[] {
  if (size.kind === "shell") return [{ diameter_m: core_m + 2 * size.thickness_m, weight: 1 }];
  const { diameter_m: median, logSd } = size;
  if (logSd === 0) return [{ diameter_m: median, weight: 1 }];
  const sizes = { kind: "lognormal", weighting: "number", medianDiameter_m: median, logSd } as const;
  const { diameter_m, weight } = coarseNodes(sizes, { order: 0, count: 8 });
  return Array.from(diameter_m, (d, j) => ({ diameter_m: d, weight: weight[j] }));
}

export type NeelRelaxation = Extract<Relaxation, { kind: "neel" }>;

function axisParts(ensemble: ParticleEnsemble, relaxation: NeelRelaxation): ResponsePart[] {
  const { nodes, weights } = gaussLegendre(randomAxes.angles, { interval: [0, 1] });
  return coreNodes(ensemble, randomAxes.sizes).flatMap((core) => {
    const particle = neelParticle(core, ensemble, relaxation);
    return Array.from(nodes, (cosAngle, a): ResponsePart => {
      return { kind: "neel-axis", weight: core.weight * weights[a], particle, cosAngle };
    });
  });
}

export function neelParticle(
  { diameter_m, xiPerTesla }: CoreNode,
  { saturation_A_per_m, temperature_K }: ParticleEnsemble,
  { anisotropy_J_per_m3, damping }: { anisotropy_J_per_m3: number; damping: number },
): NeelParticle {
  const conditions = { coreDiameter_m: diameter_m, saturation_A_per_m, temperature_K, damping };
  return {
    xiPerTesla,
    barrier: barrierRatio(diameter_m, anisotropy_J_per_m3, temperature_K),
    freeTime_s: freeNeelTime_s(conditions),
  };
}
