import type { MacrospinKernel } from "../../physics/index.js";
import { instantiateKernel, type KernelOptions } from "./instantiate.js";

/** Work space of the kernel: 13 vectors of two doubles for each spin of a pair of chains. */
const doublesPerSpin = 2 * 13;

/**
 * `macrospinSteps` in WebAssembly, two chains to a vector: same signature, same bits.
 * Checked by  kernel-twins.test.ts
 */
export async function loadMacrospinTwin(options: KernelOptions = {}): Promise<MacrospinKernel> {
  const { memory, call } = await instantiateKernel("macrospin", options);
  return (block) => {
    memory.clear();
    const stateAt = memory.place(block.state);
    call(
      stateAt,
      memory.place(block.easyAxis),
      memory.place(block.fieldDirection),
      memory.place(block.field_T),
      memory.place(block.dipoleField_T),
      memory.place(block.noise),
      memory.reserve(doublesPerSpin * block.spins),
      block.spins,
      block.chains,
      block.steps,
      block.anisotropyField_T,
      block.thermalField_T,
      block.precession_per_T,
      block.damping,
    );
    memory.read(stateAt, block.state);
  };
}
