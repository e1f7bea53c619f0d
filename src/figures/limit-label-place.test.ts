import { describe, expect, it } from "vitest";
import { labelPlace } from "./limit-label-place.js";

const axis = { limit_px: 200, end_px: 400 };

describe("labelPlace", () => {
  it.each([
    ["right of a bar beyond the limit", { low_px: 220, high_px: 250 }, { x_px: 262, anchor: "start", crosses: false }],
    ["right of a bar far below it", { low_px: 20, high_px: 50 }, { x_px: 62, anchor: "start", crosses: false }],
    ["left of a bar just below it", { low_px: 160, high_px: 190 }, { x_px: 151, anchor: "end", crosses: false }],
    [
      "beyond the line where both are shut",
      { low_px: 90, high_px: 190 },
      { x_px: 212, anchor: "start", crosses: false },
    ],
    ["before the line, likewise", { low_px: 205, high_px: 360 }, { x_px: 191, anchor: "end", crosses: false }],
    ["below a bar that leaves no room", { low_px: 10, high_px: 390 }, { x_px: 200, anchor: "middle", crosses: true }],
  ])("%s", (_, bar, place) => {
    expect(labelPlace({ ...axis, ...bar }, 100)).toEqual(place);
  });
  it("stays between the ends when it stands below its bar", () => {
    const narrow = { limit_px: 50, end_px: 120 };
    expect(labelPlace({ ...narrow, low_px: 0, high_px: 10 }, 110)).toMatchObject({ x_px: 55, anchor: "middle" });
    expect(labelPlace({ ...narrow, low_px: 100, high_px: 110 }, 110)).toMatchObject({ x_px: 65, anchor: "middle" });
  });
});
