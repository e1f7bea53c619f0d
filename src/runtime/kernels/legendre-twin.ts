import type { BrownianKernel } from "../../physics/index.js";
import { instantiateKernel, type KernelOptions } from "./instantiate.js";

/** Work space of the kernel: 15 vectors of two doubles for each moment of a pair of particles, and some pairs at once. */
const doublesPerPair = 2 * 15;
const pairsTogether = 4;

/**
 * `legendreSteps` in WebAssembly, two particles to a vector: same signature, same bits.
 * Checked by  kernel-twins.test.ts
 */
export async function loadLegendreTwin(options: KernelOptions = {}): Promise<BrownianKernel> {
  const { memory, call } = await instantiateKernel("legendre", options);
  return ({ stageField_T, step_s, xiPerTesla, brownTime_s, moments, state, trace, tail }) => {
    memory.clear();
    const stateAt = memory.place(state);
    const traceAt = memory.reserve(trace.length);
    const tailAt = memory.reserve(tail.length);
    call(
      memory.place(stageField_T),
      memory.place(step_s),
      memory.place(xiPerTesla),
      memory.place(brownTime_s),
      stateAt,
      traceAt,
      tailAt,
      memory.reserve(doublesPerPair * pairsTogether * (moments + 2)),
      moments,
      step_s.length,
      xiPerTesla.length,
    );
    memory.read(stateAt, state);
    memory.read(traceAt, trace);
    memory.read(tailAt, tail);
  };
}
