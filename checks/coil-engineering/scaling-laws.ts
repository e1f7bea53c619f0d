import { conductorMaterials } from "../../src/physics/coils/conductors.js";
import { type ScalingResult, scalingExponents } from "../../src/physics/coils/scaling.js";
import type { Coil, Winding } from "../../src/physics/coils/winding.js";
import { vacuumPermeability_T_m_per_A as mu0 } from "../../src/units/index.js";

const copper = { material: conductorMaterials.copper, conductor: { fillFactor: 0.6 } } as const;

/** Two stacks near z = +-(sqrt 3/2) a, opposed, of 40 turns each. */
export const maxwellPair: Coil = {
  windings: ([1, -1] as const).map((side) => ({
    ...copper,
    turns: 40,
    sense: side,
    shape: {
      kind: "coil-stack",
      center_m: [0, 0, side * 0.0866],
      normal: [0, 0, 1],
      innerRadius_m: 0.09,
      outerRadius_m: 0.11,
      length_m: 0.02,
    },
  })),
};

/** Winding of two layers, 100 turns, as a drive coil. */
export const solenoid: Coil = {
  windings: [
    {
      ...copper,
      turns: 100,
      strandDiameter_m: 5e-5,
      shape: {
        kind: "coil-stack",
        center_m: [0, 0, 0],
        normal: [0, 0, 1],
        innerRadius_m: 0.04,
        outerRadius_m: 0.046,
        length_m: 0.12,
      },
    },
  ],
};

/** Axial field and gradient at the centre per ampere, from loops on the axis (facts L1) spread over each section. */
export const fieldAtCentre = (coil: Coil): number =>
  sumOverLoops(coil, (a, z) => (a * a) / (2 * (a * a + z * z) ** 1.5));
export const gradientAtCentre = (coil: Coil): number =>
  sumOverLoops(coil, (a, z) => (3 * a * a * z) / (2 * (a * a + z * z) ** 2.5));

function sumOverLoops({ windings }: Coil, perLoop: (radius: number, z: number) => number): number {
  const steps = Array.from({ length: 40 }, (_, i) => (i + 0.5) / 40);
  const mean = ({ shape }: Winding) => {
    if (shape.kind !== "coil-stack") throw new Error("the two coils here are stacks");
    const { innerRadius_m, outerRadius_m, length_m, center_m } = shape;
    const sum = steps.flatMap((s) =>
      steps.map((t) =>
        perLoop(innerRadius_m + s * (outerRadius_m - innerRadius_m), center_m[2] + (t - 0.5) * length_m),
      ),
    );
    return sum.reduce((total, value) => total + value, 0) / sum.length;
  };
  return windings.reduce((total, winding) => total + mu0 * (winding.sense ?? 1) * winding.turns * mean(winding), 0);
}

/** Both coils at bores from half to four times theirs. */
export function laws(): { readonly name: string; readonly result: ScalingResult }[] {
  const grid = { scales: [0.5, 1, 2, 4], frequencies_Hz: [1e3, 25e3, 100e3] };
  return [
    {
      name: "Maxwell pair",
      result: scalingExponents({
        ...grid,
        coil: maxwellPair,
        fieldPerAmpere: gradientAtCentre,
        wanted: [0.5, 1, 2, 7],
      }),
    },
    {
      name: "solenoid",
      result: scalingExponents({
        ...grid,
        coil: solenoid,
        fieldPerAmpere: fieldAtCentre,
        wanted: [5e-3, 10e-3, 20e-3],
      }),
    },
  ];
}
