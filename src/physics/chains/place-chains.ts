import { FerruleError } from "../../errors.js";
import type { RandomStream } from "../../numerics/index.js";
import { type ChainFields, chainFields, type MacrospinChain } from "./macrospin-chain.js";
import type { MacrospinRun } from "./macrospin-run.js";

/** Chains at time 0, in the layout of `MacrospinBlock`. */
export interface PlacedChains extends ChainFields {
  readonly state: Float64Array;
  readonly easyAxis: Float64Array;
  readonly fieldDirection: Float64Array;
}

/** Draws what is random of field directions, easy axes and moments, in this order. */
export function placeChains(
  chain: MacrospinChain,
  { chains, fieldDirection = [0, 0, 1], start = "random" }: MacrospinRun,
  random: RandomStream,
): PlacedChains {
  const { spins, easyAxes } = chain;
  const plane = spins * chains;
  const direction =
    fieldDirection === "random" ? randomDirections(chains, random) : repeated(unit(fieldDirection), chains);
  const easyAxis = easyAxes.kind === "random" ? randomDirections(plane, random) : repeated([0, 0, 1], plane);
  const state = start === "random" ? randomDirections(plane, random) : repeated([0, 0, 1], plane);
  if (start === "along-field" || start === "against-field") {
    const sign = start === "along-field" ? 1 : -1;
    for (let k = 0; k < state.length; k++) state[k] = sign * direction[Math.floor(k / plane) * chains + (k % chains)];
  }
  return { state, easyAxis, fieldDirection: direction, ...chainFields(chain) };
}

/** Uniform on the sphere, shape [3, n]: three normals each, scaled. */
function randomDirections(n: number, random: RandomStream): Float64Array {
  const out = new Float64Array(3 * n);
  for (let i = 0; i < n; i++) {
    const [x, y, z] = [random.normal(), random.normal(), random.normal()];
    const length = Math.hypot(x, y, z);
    out[i] = x / length;
    out[n + i] = y / length;
    out[2 * n + i] = z / length;
  }
  return out;
}

function repeated(vector: readonly [number, number, number], n: number): Float64Array {
  return Float64Array.from({ length: 3 * n }, (_, k) => vector[Math.floor(k / n)]);
}

function unit(vector: readonly [number, number, number]): readonly [number, number, number] {
  const length = Math.hypot(...vector);
  if (!(length > 0 && Number.isFinite(length)))
    throw new FerruleError("InvalidValue", {
      path: "fieldDirection",
      found: `[${vector.join(", ")}]`,
      accepted: 'a direction of non-zero finite length, e.g. [0, 0, 1] (along the chain), or "random"',
    });
  return [vector[0] / length, vector[1] / length, vector[2] / length];
}
