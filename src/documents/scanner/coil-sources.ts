import type { CurrentSource } from "../../physics/index.js";
import type { CoilModel } from "./coil-field.js";

/** The sources of a coil that carries a current. */
export function coilSources({ windings }: Pick<CoilModel, "windings">, current_A: number): CurrentSource[] {
  return windings.flatMap(({ sources }) =>
    sources.map((source) => ({ ...source, current_A: source.current_A * current_A })),
  );
}
