import { z } from "zod";
import { quantity } from "../fields/quantity-field.js";
import { refuse } from "../fields/refuse.js";
import { type ParsedWinding, toWinding, type WindingModel, windingField } from "./winding-field.js";

const mm2 = (area_m2: number): string => `${Number((area_m2 * 1e6).toPrecision(6))} mm2`;

const conductorField = z
  .strictObject({
    material: z.enum(["copper", "aluminium", "other"]).meta({ description: "other: give its resistivity" }),
    resistivity: quantity("resistivity", {
      description: "at 20 degrees Celsius; that of the material when absent",
      positive: true,
    }).optional(),
    section: quantity("area", {
      description: "cross-section of one turn's conductor",
      example: "6 mm2",
      positive: true,
    }).optional(),
    fill: z
      .number()
      .gt(0)
      .max(1)
      .meta({ description: "share of a stack's section that is conductor", examples: [0.6] })
      .optional(),
    strandDiameter: quantity("length", {
      description: "of one insulated strand of litz wire; solid wire when absent",
      example: "0.1 mm",
      positive: true,
    }).optional(),
    temperature: quantity("temperature", {
      description: "of the conductor in use",
      example: "60 Cel",
      min: "200 K",
      max: "500 K",
    }).optional(),
  })
  .superRefine(({ material, resistivity, section, fill, strandDiameter }, sink) => {
    if (strandDiameter !== undefined && section !== undefined && Math.PI * (strandDiameter / 2) ** 2 > section)
      refuse(sink, ["strandDiameter"], {
        found: `a strand of ${Number((strandDiameter * 1e3).toPrecision(4))} mm in a conductor of ${mm2(section)}`,
        accepted: "strands thinner than the conductor; none for solid wire",
      });
    if (material === "other" && resistivity === undefined)
      refuse(sink, ["resistivity"], { found: "another material without it", accepted: 'e.g. "1.72e-8 Ohm.m"' });
    if ((section === undefined) === (fill === undefined))
      refuse(sink, [section === undefined ? "section" : "fill"], {
        found: section === undefined ? "neither a section nor a fill" : "both a section and a fill",
        accepted: 'one of them: "section": "6 mm2", or "fill": 0.6 for stacks',
      });
  })
  .meta({ description: "what the coil is wound of; without it resistance and power stay unknown" });

const supplyField = z
  .strictObject({
    maximumCurrent: quantity("current", { description: "peak", example: "200 A", positive: true }).optional(),
    maximumVoltage: quantity("voltage", {
      description: "peak, at the amplifier or across the resonant circuit",
      example: "400 V",
      positive: true,
    }).optional(),
    maximumPower: quantity("power", { description: "mean real power", example: "5 kW", positive: true }).optional(),
  })
  .meta({ description: "what the amplifier or supply can give" });

/** Windings in series. The field per ampere follows from them; the current from the field that is asked. */
export const coilField = z
  .strictObject({
    windings: z.array(windingField).min(1),
    conductor: conductorField.optional(),
    resistance: quantity("resistance", {
      description: "measured at the working frequency; otherwise from the conductor, at steady current",
      example: "0.2 Ohm",
      min: "0 Ohm",
    }).optional(),
    inductance: quantity("inductance", {
      description: "measured; otherwise from the windings",
      positive: true,
    }).optional(),
    supply: supplyField.optional(),
    cooling: quantity("power", {
      description: "heat that the cooling carries away",
      example: "8 kW",
      positive: true,
    }).optional(),
    isResonant: z
      .boolean()
      .meta({ description: "tuned by capacitors: the amplifier then feeds the losses only; false when absent" })
      .optional(),
  })
  .superRefine(({ windings, conductor }, sink) => {
    for (const [index, winding] of windings.entries()) refuseMisfit(winding, conductor, { index, sink });
  })
  .meta({ description: "a coil of windings in series" });

/** A fill needs a section to fill; the turns' metal must fit the section that they are wound in. */
function refuseMisfit(
  winding: ParsedWinding,
  conductor: z.output<typeof conductorField> | undefined,
  { index, sink }: { readonly index: number; readonly sink: z.core.$RefinementCtx },
): void {
  if (conductor === undefined) return;
  const { fill, section } = conductor;
  const room_m2 = winding.kind === "stack" ? (winding.outerRadius - winding.innerRadius) * winding.length : 0;
  if (fill !== undefined && room_m2 === 0)
    refuse(sink, ["windings", index], {
      found: "a winding without a section, in a coil whose conductor states a fill",
      accepted: '"section" in the conductor, e.g. "6 mm2", when a winding is not a thick stack',
    });
  if (section !== undefined && room_m2 > 0 && winding.turns * section > room_m2 * (1 + 1e-9))
    refuse(sink, ["windings", index, "turns"], {
      found: `${winding.turns} turns of ${mm2(section)} of metal in a section of ${mm2(room_m2)}`,
      accepted: `at most ${Math.floor((room_m2 / section) * (1 + 1e-9))} turns, or a thinner conductor`,
    });
}

export type ParsedCoil = z.output<typeof coilField>;

export interface ConductorModel {
  readonly material: "copper" | "aluminium" | "other";
  readonly resistivity_Ohm_m?: number | undefined;
  readonly section_m2?: number | undefined;
  readonly fill?: number | undefined;
  readonly strandDiameter_m?: number | undefined;
  readonly temperature_K: number;
}

export interface SupplyModel {
  readonly maximumCurrent_A?: number | undefined;
  readonly maximumVoltage_V?: number | undefined;
  readonly maximumPower_W?: number | undefined;
}

/** A coil in SI; its sources carry one ampere. */
export interface CoilModel {
  readonly windings: readonly WindingModel[];
  readonly conductor?: ConductorModel | undefined;
  readonly resistance_Ohm?: number | undefined;
  readonly inductance_H?: number | undefined;
  readonly supply: SupplyModel;
  readonly cooling_W?: number | undefined;
  readonly isResonant: boolean;
}

/** 20 degrees Celsius: where resistivities are quoted. */
const roomTemperature_K = 293.15;

export function toCoil(parsed: ParsedCoil): CoilModel {
  const { conductor, supply = {} } = parsed;
  return {
    windings: parsed.windings.map(toWinding),
    conductor: conductor && {
      material: conductor.material,
      resistivity_Ohm_m: conductor.resistivity,
      section_m2: conductor.section,
      fill: conductor.fill,
      strandDiameter_m: conductor.strandDiameter,
      temperature_K: conductor.temperature ?? roomTemperature_K,
    },
    resistance_Ohm: parsed.resistance,
    inductance_H: parsed.inductance,
    supply: {
      maximumCurrent_A: supply.maximumCurrent,
      maximumVoltage_V: supply.maximumVoltage,
      maximumPower_W: supply.maximumPower,
    },
    cooling_W: parsed.cooling,
    isResonant: parsed.isResonant ?? false,
  };
}
