import { describe, expect, it } from "vitest";
import { finishSteps } from "../../numerics/index.js";
import { gradientReference } from "./gradient-error.js";
import { usableRegion, usableRegionSteps } from "./usable-region.js";
import { zonalField } from "./zonal-field.js";

const [g, c3] = [2, -400];
const field = zonalField([0, g, 0, c3]);
const within = { radius_m: 0.03, halfLength_m: 0.06 };
const reference = gradientReference(field, [0, 0, 0], { step_m: 1e-3 });
/** eps = 3 |c| z^2/g on the axis, sqrt(234)/8/sqrt(3/2) |c| rho^2/g in the plane of symmetry. */
const onAxis = Math.sqrt((0.1 * g) / (3 * Math.abs(c3)));
const across = Math.sqrt((0.1 * g) / (Math.sqrt(234) / 8 / Math.sqrt(1.5)) / Math.abs(c3));

describe("usable region", () => {
  const region = usableRegion(field, { reference, within });

  it("of a cubic error ends where the closed form says, along every axis", () => {
    expect(region.share).toBe(0.1);
    for (const side of [0, 1]) {
      expect(region.along.z[side].distance_m / onAxis).toBeCloseTo(1, 5);
      expect(region.along.x[side].distance_m / across).toBeCloseTo(1, 5);
      expect(region.along.y[side].distance_m / across).toBeCloseTo(1, 5);
      expect(region.along.z[side].isBore).toBe(false);
    }
  });

  it("holds a ball that touches on the axis first", () => {
    expect(region.sphere.distance_m / onAxis).toBeCloseTo(1, 5);
  });

  it.each([undefined, 0.05, 1])(
    "holds a cylinder of the bore's proportions, or of others (%d): the worst of its surface is at the share",
    (aspect) => {
      const { radius_m, halfLength_m, isBore } = usableRegion(field, {
        reference,
        within,
        volumePoints: 10,
        ...(aspect === undefined ? {} : { halfLengthOverRadius: aspect }),
      }).cylinder;
      expect(isBore).toBe(false);
      expect(halfLength_m / radius_m).toBeCloseTo(aspect ?? 2, 12);
      const part = Array.from({ length: 2001 }, (_, k) => k / 2000);
      const worst = Math.max(
        ...part.map((p) => cubicError(p * radius_m, halfLength_m)),
        ...part.map((p) => cubicError(radius_m, p * halfLength_m)),
      );
      // The size is solved to 1e-6 of the largest that fits, the place of the worst to 1e-3 of a sample's spacing.
      expect(Math.abs(worst / 0.1 - 1)).toBeLessThan(1e-5);
    },
  );

  it("fills the part of the bore that dense counting gives", () => {
    // The error by hand, counted on a fine (rho, z) grid.
    const [n, m] = [600, 1200];
    let inside = 0;
    for (let i = 0; i < n; i++)
      for (let k = 0; k < m; k++) {
        const rho = (within.radius_m * (i + 0.5)) / n;
        const z = within.halfLength_m * ((2 * (k + 0.5)) / m - 1);
        if (cubicError(rho, z) <= 0.1) inside += (2 * (i + 0.5)) / n / n / m;
      }
    expect(Math.abs(region.volumeFraction - inside)).toBeLessThan(region.volumeUncertainty);
  });

  it("is the bore when the gradient is ideal", () => {
    const ideal = zonalField([0.01, 2]);
    const whole = usableRegion(ideal, { reference, within, volumePoints: 100 });
    expect([whole.sphere, whole.cylinder.isBore, whole.volumeFraction]).toEqual([
      { distance_m: 0.03, isBore: true },
      true,
      1,
    ]);
    expect(whole.along.z).toEqual([
      { distance_m: 0.06, isBore: true },
      { distance_m: 0.06, isBore: true },
    ]);
  });

  it("by the field error reaches sqrt 3 times further on the axis of a cubic term", () => {
    const byField = usableRegion(field, { reference, within, measure: "field", volumePoints: 10 });
    expect(byField.along.z[1].distance_m / onAxis).toBeCloseTo(Math.sqrt(3), 5);
  });

  it("works in steps that say how far they are", () => {
    const steps = usableRegionSteps(field, { reference, within, volumePoints: 600 });
    const fractions: number[] = [];
    for (let next = steps.next(); !next.done; next = steps.next()) fractions.push(next.value);
    expect(fractions.length).toBeGreaterThan(5);
    expect([...fractions].sort((a, b) => a - b)).toEqual(fractions);
    expect(finishSteps(usableRegionSteps(field, { reference, within, volumePoints: 600 })).volumeFraction).toBe(
      usableRegion(field, { reference, within, volumePoints: 600 }).volumeFraction,
    );
  });

  it.each([
    [{ share: 0 }, /between 0 and 1/],
    [{ volumePoints: 0.5 }, /whole number/],
    [{ reference: { ...reference, center_m: [0.04, 0, 0] as const } }, /within the bore/],
  ])("refuses %j", (wrong, message) => {
    expect(() => usableRegion(field, { reference, within, ...wrong })).toThrow(message);
  });
});

/** J of the cubic term at (rho, 0, z): derivatives of (-3/2 z^2 + 3/8 rho^2) x and z^3 - 3/2 z rho^2, by hand. */
function cubicError(rho: number, z: number): number {
  const xx = -1.5 * z * z + 1.125 * rho * rho;
  const yy = -1.5 * z * z + 0.375 * rho * rho;
  const zz = 3 * z * z - 1.5 * rho * rho;
  const xz = -3 * z * rho;
  return (Math.abs(c3) / g) * (Math.hypot(xx, yy, zz, xz, xz) / Math.sqrt(1.5));
}
