/** A region by its shape in world coordinates, m. */
export interface OutlinedRegion {
  readonly label: string;
  readonly shape:
    | { readonly kind: "sphere"; readonly center_m: readonly [number, number, number]; readonly diameter_m: number }
    | {
        readonly kind: "box";
        readonly center_m: readonly [number, number, number];
        readonly size_m: readonly [number, number, number];
      };
}

/** A plane normal to one axis; `across` and `up` are the axes drawn (0 to 2). */
export interface SlicePlane {
  readonly across: number;
  readonly up: number;
  readonly normal: number;
  readonly at_m: number;
}

const corners = 72;

/** Closed outline where a plane cuts a region, in metres (across, up); empty when it misses. */
export function regionOutline({ shape }: OutlinedRegion, { across, up, normal, at_m }: SlicePlane): [number, number][] {
  const [u, v] = [shape.center_m[across], shape.center_m[up]];
  const away = Math.abs(at_m - shape.center_m[normal]);
  if (shape.kind === "box") {
    const [a, b] = [shape.size_m[across] / 2, shape.size_m[up] / 2];
    if (away > shape.size_m[normal] / 2) return [];
    return [
      [u - a, v - b],
      [u + a, v - b],
      [u + a, v + b],
      [u - a, v + b],
      [u - a, v - b],
    ];
  }
  const radius2 = (shape.diameter_m / 2) ** 2 - away ** 2;
  if (radius2 <= 0) return [];
  const angles = Array.from({ length: corners + 1 }, (_, i) => (2 * Math.PI * i) / corners);
  return angles.map((angle) => [u + Math.sqrt(radius2) * Math.cos(angle), v + Math.sqrt(radius2) * Math.sin(angle)]);
}
