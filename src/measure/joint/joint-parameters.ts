import { FerruleError } from "../../errors.js";
import type { BlockParameter, FitBlock } from "./fit-block.js";

/** All parameters of a joint fit, and where each block finds its own among them. */
export interface JointParameters {
  readonly parameters: readonly BlockParameter[];
  /** Names common to at least two blocks. */
  readonly shared: readonly string[];
  /** For each block the positions of its parameters. */
  readonly positions: readonly Int32Array[];
}

/** Suffix of the names of an instrument's own parameters: its place among the instruments, counted from 1. */
const ownName = (name: string, block: number): string => `${name}-of-${block + 1}`;

/**
 * Lays the parameters of several blocks side by side: the tracer's once, with the narrower of the bounds, those of an
 * instrument (scale, background) once for each.
 */
export function joinParameters(blocks: readonly FitBlock[]): JointParameters {
  const count = new Map<string, number>();
  for (const block of blocks) for (const name of block.shared) count.set(name, (count.get(name) ?? 0) + 1);
  const shared = [...count].filter(([, times]) => times > 1).map(([name]) => name);
  if (shared.length === 0)
    throw new FerruleError("NotIdentifiable", {
      path: "instruments",
      found: `no parameter in common between ${blocks.map(({ model }) => model).join(", ")}`,
      accepted:
        "at least two instruments that see the same parameter, e.g. a curve and harmonics (core sizes), or harmonics and a susceptibility (relaxation)",
    });
  const parameters: BlockParameter[] = [];
  const index = new Map<string, number>();
  const positions = blocks.map((block, b) =>
    Int32Array.from(block.parameters, (parameter) => {
      const name = shared.includes(parameter.name) ? parameter.name : ownName(parameter.name, b);
      const known = index.get(name);
      if (known === undefined) {
        index.set(name, parameters.length);
        parameters.push({ ...parameter, name });
        return parameters.length - 1;
      }
      const { lower, upper } = parameters[known];
      parameters[known] = {
        ...parameters[known],
        lower: Math.max(lower, parameter.lower),
        upper: Math.min(upper, parameter.upper),
      };
      return known;
    }),
  );
  return { parameters, shared, positions };
}
