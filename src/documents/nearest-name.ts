import { nearestName } from "../handbook/index.js";

/** The nearest name first when one is near, then all: `"noise" (nearest), or one of "axis", "noise"`. */
export function oneOfNames(written: string, known: readonly string[]): string {
  const nearest = nearestName(written, known);
  const all = known.length === 1 ? quotedList(known) : `one of ${quotedList(known)}`;
  return nearest === undefined || known.length === 1 ? all : `"${nearest}" (nearest), or ${all}`;
}

/** `"a", "b"` */
export function quotedList(names: readonly string[]): string {
  return names.map((name) => JSON.stringify(name)).join(", ");
}
