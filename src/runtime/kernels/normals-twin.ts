import { type NormalKernel, normalTables } from "../../numerics/index.js";
import { instantiateKernel, type KernelOptions } from "./instantiate.js";

/** Room for the generator's state in doubles. */
const stateDoubles = 5;

/**
 * `fillNormal` of a random stream in WebAssembly: same state, same bits.
 * Checked by  kernel-twins.test.ts
 */
export async function loadNormalsTwin(options: KernelOptions = {}): Promise<NormalKernel> {
  const { memory, call } = await instantiateKernel("normals", options);
  const { bound, width, height } = normalTables;
  return (state, out) => {
    memory.clear();
    const stateAt = memory.reserve(stateDoubles);
    const tables = [memory.place(bound), memory.place(width), memory.place(height)];
    const outAt = memory.reserve(out.length);
    const words = memory.words(stateAt, state.length);
    words.set(state);
    call(stateAt, ...tables, outAt, out.length);
    state.set(words);
    memory.read(outAt, out);
    return out;
  };
}
