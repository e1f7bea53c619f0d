import type { NormalKernel } from "../../numerics/index.js";
import { type BrownianKernel, legendreSteps, type MacrospinKernel, macrospinSteps } from "../../physics/index.js";
import { loadLegendreTwin } from "./legendre-twin.js";
import { loadMacrospinTwin } from "./macrospin-twin.js";
import { loadNormalsTwin } from "./normals-twin.js";
import { once } from "./once.js";

/** The definitions in TypeScript, or their twins in WebAssembly. Both give the same bits. */
export type KernelKind = "reference" | "wasm";

/** The hot loops of one kind, loaded when first asked for. */
export interface KernelSet {
  readonly brownian: () => Promise<BrownianKernel>;
  readonly macrospin: () => Promise<MacrospinKernel>;
  readonly normals: () => Promise<NormalKernel | undefined>;
}

export function kernelSet(kind: KernelKind): KernelSet {
  if (kind === "reference")
    return {
      brownian: async () => legendreSteps,
      macrospin: async () => macrospinSteps,
      normals: async () => undefined,
    };
  return { brownian: once(loadLegendreTwin), macrospin: once(loadMacrospinTwin), normals: once(loadNormalsTwin) };
}
