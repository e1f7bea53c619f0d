import type { Point } from "./clip-line.js";
import { axesOf, type PlaneValues } from "./plane-cells.js";

type Place_m = readonly [number, number, number];

/** A round bore about one axis of the scanner. */
export interface BoreOutline {
  readonly axis: "x" | "y" | "z";
  readonly radius_m: number;
  /** A place on its axis, in the middle where it has a length; the origin by default. */
  readonly centre_m?: Place_m;
  /** Unbounded where it is left out. */
  readonly length_m?: number;
}

/** Where a field vanishes, or a seam of it that is to be marked. */
export type FieldFreeMark =
  | { readonly kind: "point"; readonly at_m: Place_m }
  | { readonly kind: "line"; readonly through_m: Place_m; readonly direction: Place_m };

/** A length beyond every plane that is drawn, m: a bore without ends, a line without ends. */
const far_m = 1e3;

const sides = 180;

/** Closed line or pair of lines where a plane cuts the bore, m (across, up); nothing where it misses. */
export function boreLines(bore: BoreOutline, slice: Pick<PlaneValues, "plane" | "at_m">): Point[][] {
  const { across, up, normal } = axesOf(slice);
  const along = "xyz".indexOf(bore.axis);
  const centre = bore.centre_m ?? [0, 0, 0];
  const away = slice.at_m - centre[normal];
  const half = bore.length_m === undefined ? far_m : bore.length_m / 2;
  if (along === normal) {
    if (Math.abs(away) > half) return [];
    const angles = Array.from({ length: sides + 1 }, (_, i) => (2 * Math.PI * i) / sides);
    return [
      angles.map((a) => [centre[across] + bore.radius_m * Math.cos(a), centre[up] + bore.radius_m * Math.sin(a)]),
    ];
  }
  const wide = Math.sqrt(bore.radius_m ** 2 - away ** 2);
  if (!(wide > 0)) return [];
  const place = (lengthwise: number, sideways: number): Point =>
    along === across
      ? [centre[across] + lengthwise, centre[up] + sideways]
      : [centre[across] + sideways, centre[up] + lengthwise];
  const [a, b, c, d] = [place(-half, -wide), place(half, -wide), place(half, wide), place(-half, wide)];
  return bore.length_m === undefined
    ? [
        [a, b],
        [d, c],
      ]
    : [[a, b, c, d, a]];
}

/**
 * Where a mark shows in a plane, m (across, up): one point, or the two ends of a line that lies in it; null where the
 * plane does not hold it.
 *
 * @param options.reach_m  a mark so far from the plane still counts as in it
 */
export function markInPlane(
  mark: FieldFreeMark,
  slice: Pick<PlaneValues, "plane" | "at_m">,
  { reach_m }: { reach_m: number },
): readonly Point[] | null {
  const { across, up, normal } = axesOf(slice);
  const flat = (place: Place_m): Point => [place[across], place[up]];
  if (mark.kind === "point") return Math.abs(mark.at_m[normal] - slice.at_m) <= reach_m ? [flat(mark.at_m)] : null;
  const { through_m, direction } = mark;
  const length = Math.hypot(...direction);
  const along = (s: number): Place_m =>
    [0, 1, 2].map((i) => through_m[i] + (s * direction[i]) / length) as [number, number, number];
  const slope = direction[normal] / length;
  const away = slice.at_m - through_m[normal];
  if (Math.abs(slope) < 1e-6) return Math.abs(away) <= reach_m ? [flat(along(-far_m)), flat(along(far_m))] : null;
  return [flat(along(away / slope))];
}
