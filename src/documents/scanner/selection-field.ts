import { z } from "zod";
import { type FieldSource, halbachBlocks, halbachSectors, type MagnetSource } from "../../physics/index.js";
import { unitVector } from "../fields/direction-field.js";
import { quantity } from "../fields/quantity-field.js";
import { refuse } from "../fields/refuse.js";
import { nameField } from "../fields/text-field.js";
import type { Vector3 } from "../fields/vector-field.js";
import { type CoilModel, coilField, type ParsedCoil, toCoil } from "./coil-field.js";
import { resistanceOf_Ohm } from "./coil-needs.js";
import { coilSources } from "./coil-sources.js";
import { magnetField, type ParsedMagnet } from "./magnet-field.js";
import { diagonalTensor } from "./selection-tensor.js";

const element = () => quantity("fieldGradient", { description: "gradient of mu0*H, signed", example: "-3.5 T/m" });
const row = () => z.tuple([element(), element(), element()]);

/** The diagonal, or all nine elements by rows; one tensor once parsed. */
const gradientField = z.union([row().transform(diagonalTensor), z.tuple([row(), row(), row()])]).meta({
  description:
    "tensor of mu0*H, traceless and symmetric: its diagonal along x, y, z, or three rows of three, " +
    'e.g. ["-3.5 T/m", "-3.5 T/m", "7 T/m"]',
});

/** A steady selection field is made all the time: what its supply cannot give, it does not have. */
function refuseWeakSupply(
  { current, coil }: { readonly current: number; readonly coil: ParsedCoil },
  sink: z.core.$RefinementCtx,
): void {
  const { maximumVoltage, maximumPower } = coil.supply ?? {};
  if (maximumVoltage === undefined && maximumPower === undefined) return;
  const resistance_Ohm = resistanceOf_Ohm(toCoil(coil));
  if (resistance_Ohm === null) return;
  const [voltage_V, power_W] = [resistance_Ohm * Math.abs(current), resistance_Ohm * current ** 2];
  const refuseNeed = (field: string, needed: string, available: string) =>
    refuse(sink, ["coil", "supply", field], {
      found: `${available}, where ${current} A need ${needed}`,
      accepted: `at least ${needed}, or a smaller current`,
    });
  if (maximumVoltage !== undefined && voltage_V > maximumVoltage)
    refuseNeed("maximumVoltage", `${Number(voltage_V.toPrecision(4))} V`, `${maximumVoltage} V`);
  if (maximumPower !== undefined && power_W > maximumPower)
    refuseNeed("maximumPower", `${Number(power_W.toPrecision(4))} W`, `${maximumPower} W`);
}

const sourcesField = z
  .strictObject({
    kind: z.literal("sources"),
    coils: z
      .array(
        z
          .strictObject({
            name: nameField("what the coil is called", "upper coil"),
            current: quantity("current", { description: "steady, in each turn", example: "300 A" }),
            coil: coilField,
          })
          .superRefine(({ current, coil }, sink) => {
            refuseWeakSupply({ current, coil }, sink);
            const most = coil.supply?.maximumCurrent;
            if (most !== undefined && Math.abs(current) > most)
              refuse(sink, ["current"], {
                found: `${current} A from a supply of at most ${most} A`,
                accepted: `at most ${most} A, or a larger "maximumCurrent"`,
              });
          }),
      )
      .optional(),
    magnets: z
      .array(z.strictObject({ name: nameField("what the magnet is called", "left block"), magnet: magnetField }))
      .optional(),
  })
  .superRefine(({ coils = [], magnets = [] }, sink) => {
    if (coils.length + magnets.length === 0)
      refuse(sink, ["coils"], { found: "no source", accepted: 'at least one of "coils" or "magnets"' });
  });

/** An ideal gradient, or the coils and magnets that make a real one. */
export const selectionFieldField = z.discriminatedUnion("kind", [
  z.strictObject({ kind: z.literal("ideal"), gradient: gradientField }),
  sourcesField,
]);

export type ParsedSelectionField = z.output<typeof selectionFieldField>;
export type ParsedSources = Extract<ParsedSelectionField, { kind: "sources" }>;

export interface SelectionCoil {
  readonly name: string;
  readonly current_A: number;
  readonly coil: CoilModel;
}

export interface SelectionMagnet {
  readonly name: string;
  readonly sources: readonly MagnetSource[];
}

export interface SelectionSources {
  readonly coils: readonly SelectionCoil[];
  readonly magnets: readonly SelectionMagnet[];
}

export function toSelectionSources({ coils = [], magnets = [] }: ParsedSources): SelectionSources {
  return {
    coils: coils.map(({ name, current, coil }) => ({ name, current_A: current, coil: toCoil(coil) })),
    magnets: magnets.map(({ name, magnet }) => ({ name, sources: magnetSources(magnet) })),
  };
}

/** All of it, coils at their currents. */
export function fieldSourcesOf({ coils, magnets }: SelectionSources): FieldSource[] {
  return [
    ...coils.flatMap(({ coil, current_A }) => coilSources(coil, current_A)),
    ...magnets.flatMap(({ sources }) => sources),
  ];
}

function magnetSources(magnet: ParsedMagnet): MagnetSource[] {
  const along = (direction: Vector3, factor: number) => direction.map((each) => factor * each) as unknown as Vector3;
  switch (magnet.kind) {
    case "block":
      return [
        {
          kind: "block",
          center_m: magnet.center,
          size_m: magnet.size,
          remanence_T: along(magnet.magnetisation, magnet.remanence),
        },
      ];
    case "ring":
      return [
        {
          kind: "ring-sector",
          center_m: magnet.center,
          axis: magnet.axis,
          reference: acrossOf(magnet.axis),
          innerRadius_m: magnet.innerRadius,
          outerRadius_m: magnet.outerRadius,
          length_m: magnet.length,
          fromAngle_rad: 0,
          toAngle_rad: 2 * Math.PI,
          remanence_T: along(magnet.axis, magnet.sense * magnet.remanence),
        },
      ];
    case "halbach":
      return halbachSectors({
        poles: magnet.poles,
        segments: magnet.segments,
        center_m: magnet.center,
        axis: magnet.axis,
        reference: magnet.reference,
        innerRadius_m: magnet.innerRadius,
        outerRadius_m: magnet.outerRadius,
        length_m: magnet.length,
        remanence_T: magnet.remanence,
      });
    case "halbach-blocks":
      return halbachBlocks({
        poles: magnet.poles,
        count: magnet.blocks,
        center_m: magnet.center,
        axis: magnet.axis,
        reference: magnet.reference,
        ringRadius_m: magnet.ringRadius,
        blockSize_m: magnet.blockSize,
        remanence_T: magnet.remanence,
        ...(magnet.turn === undefined ? {} : { turn: magnet.turn }),
      });
  }
}

/** A unit vector across a direction: from the axis that lies farthest from it. */
function acrossOf(axis: Vector3): Vector3 {
  const sizes = axis.map(Math.abs);
  const letter = (["x", "y", "z"] as const)[sizes.indexOf(Math.min(...sizes))];
  const start = unitVector(letter);
  const share = start.reduce((sum, each, i) => sum + each * axis[i], 0);
  const across = start.map((each, i) => each - share * axis[i]);
  const length = Math.hypot(...across);
  return across.map((each) => each / length) as unknown as Vector3;
}
