/** A bar and the line of the limit, across, from the left end of the axis. */
export interface BarSpan {
  readonly low_px: number;
  readonly high_px: number;
  readonly limit_px: number;
  /** Where the figure ends. */
  readonly end_px: number;
}

/** Where the words of a bar stand. */
export interface LabelPlace {
  readonly x_px: number;
  /** Begun or ended there beside the bar; about there below it. */
  readonly anchor: "start" | "end" | "middle";
  /** They lie across the line of the limit, and want a ground of their own. */
  readonly crosses: boolean;
}

const gap_px = { start: 12, end: 9, line: 4 };

/**
 * Words right of their bar, left of it, or on the far side of the limit's line: the first of these that has room and stays
 * off that line. Else the first that has room, else below the bar.
 */
export function labelPlace({ low_px, high_px, limit_px, end_px }: BarSpan, length_px: number): LabelPlace {
  const after = (x: number) => ({ x_px: x + gap_px.start, anchor: "start" as const });
  const before = (x: number) => ({ x_px: x - gap_px.end, anchor: "end" as const });
  const places = [
    after(high_px),
    before(low_px),
    ...(high_px < limit_px ? [after(limit_px)] : []),
    ...(low_px > limit_px ? [before(limit_px)] : []),
  ];
  const half = length_px / 2;
  const below = {
    x_px: Math.max(half, Math.min((low_px + high_px) / 2, end_px - half)),
    anchor: "middle" as const,
  };
  const leftOf = ({ x_px, anchor }: Omit<LabelPlace, "crosses">): number =>
    x_px - { start: 0, middle: half, end: length_px }[anchor];
  const isClear = (place: Omit<LabelPlace, "crosses">) =>
    leftOf(place) > limit_px + gap_px.line || leftOf(place) + length_px < limit_px - gap_px.line;
  const fitting = places.filter((place) => leftOf(place) >= 0 && leftOf(place) + length_px <= end_px);
  const chosen = fitting.find(isClear) ?? fitting[0] ?? below;
  return { ...chosen, crosses: !isClear(chosen) };
}
