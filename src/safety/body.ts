import { FerruleError } from "../errors.js";
import type { SourceStatus } from "../units/index.js";
import type { LimitClass } from "./limit-line.js";
import { requireNotNegative, requirePositive, requireText } from "./ranges.js";

export const bodyParts = ["mouse", "rat", "human-head", "human-arm", "human-torso", "own"] as const;
export type BodyPart = (typeof bodyParts)[number];

/** One of several concentric shells, from the axis outwards. */
export interface TissueLayer {
  readonly name: string;
  readonly outerRadius_m: number;
  readonly conductivity_S_per_m: number;
  readonly density_kg_per_m3: number;
}

/** A stimulation threshold of the user's own, with where it comes from and how well that is known. */
export interface OwnThreshold {
  readonly rheobase_T_per_s: number;
  readonly chronaxie_s: number;
  readonly source: string;
  readonly status: SourceStatus;
}

/**
 * The part of a body inside the coils, as an infinite cylinder along z (the bore).
 *
 * @param radius_m  of the section; with `semiAxes_m` the equal-area radius is not used
 * @param semiAxes_m  elliptic section along x and y, in place of the circle
 * @param layers  concentric shells in place of one tissue; the outermost ends at `radius_m`
 * @param mass_kg  of the whole body
 * @param exposedMass_kg  of the part inside the drive field; without it no whole-body average can be formed
 */
export interface Body {
  readonly part: BodyPart;
  readonly class: Exclude<LimitClass, "staff">;
  readonly radius_m: number;
  readonly semiAxes_m?: { readonly x: number; readonly y: number };
  readonly layers?: readonly TissueLayer[];
  readonly conductivity_S_per_m: number;
  readonly density_kg_per_m3: number;
  readonly mass_kg: number;
  readonly exposedMass_kg?: number;
  readonly ownThreshold?: OwnThreshold;
  /** How well size and tissue are known: shown with every heating line. */
  readonly statusText: string;
}

const tissue = { conductivity_S_per_m: 0.36, density_kg_per_m3: 1000 } as const;
const statusText = "size, mass and tissue typical, from memory; give your own";

/**
 * Round figures that stand in until the user gives measured ones.
 * Source      sizes and masses: typical, from memory. Conductivity: muscle across its fibres near 100 kHz, 0.362 S/m,
 *             BioMedical Engineering OnLine, doi 10.1186/s12938-018-0473-9, table 3 (read), rounded; density of water.
 */
const standing = {
  mouse: { part: "mouse", class: "animal", radius_m: 12.5e-3, mass_kg: 25e-3, ...tissue, statusText },
  rat: { part: "rat", class: "animal", radius_m: 25e-3, mass_kg: 0.3, ...tissue, statusText },
  "human-head": { part: "human-head", class: "scan subject", radius_m: 0.09, mass_kg: 70, ...tissue, statusText },
  "human-arm": { part: "human-arm", class: "scan subject", radius_m: 0.045, mass_kg: 70, ...tissue, statusText },
  "human-torso": { part: "human-torso", class: "scan subject", radius_m: 0.2, mass_kg: 70, ...tissue, statusText },
} as const satisfies Record<Exclude<BodyPart, "own">, Body>;

/** An elliptic trunk, 0.4 m wide (x) and 0.3 m deep (y); typical, from memory. */
export const ellipticTorso = { x: 0.2, y: 0.15 } as const;

/** A body part with our round figures, or with yours in their place. An own part has no figures of ours: see `Body`. */
export function typicalBody(
  part: Exclude<BodyPart, "own">,
  given: Partial<Omit<Body, "part" | "class" | "ownThreshold">> = {},
): Body {
  if (!Object.hasOwn(standing, part))
    throw new FerruleError("UnknownName", {
      path: "part",
      found: `"${part}"`,
      accepted: Object.keys(standing).join(", "),
    });
  return { ...standing[part], ...given };
}

/** Refuses a body that cannot be: sizes, tissues, layers that do not grow, an own part without source. */
export function checkedBody(body: Body): Body {
  if (!bodyParts.includes(body.part))
    throw new FerruleError("UnknownName", {
      path: "body.part",
      found: `"${body.part}"`,
      accepted: bodyParts.join(", "),
    });
  if (body.part !== "own" && body.class !== standing[body.part].class)
    throw new FerruleError("InvalidValue", {
      path: "body.class",
      found: `${body.part} as ${body.class}`,
      accepted: standing[body.part].class,
    });
  requirePositive(body.radius_m, "body.radius_m", "0.2");
  requirePositive(body.conductivity_S_per_m, "body.conductivity_S_per_m", "0.36");
  requirePositive(body.density_kg_per_m3, "body.density_kg_per_m3", "1000");
  requirePositive(body.mass_kg, "body.mass_kg", "70");
  if (body.semiAxes_m !== undefined) {
    requirePositive(body.semiAxes_m.x, "body.semiAxes_m.x", "0.2");
    requirePositive(body.semiAxes_m.y, "body.semiAxes_m.y", "0.15");
  }
  checkExposedMass(body);
  checkLayers(body);
  checkOwnThreshold(body);
  return body;
}

function checkExposedMass({ exposedMass_kg, mass_kg }: Body): void {
  if (exposedMass_kg === undefined) return;
  requirePositive(exposedMass_kg, "body.exposedMass_kg", "5");
  if (exposedMass_kg <= mass_kg) return;
  throw new FerruleError("InvalidValue", {
    path: "body.exposedMass_kg",
    found: `${exposedMass_kg} kg of a body of ${mass_kg} kg`,
    accepted: "at most the mass of the body",
  });
}

function checkLayers({ layers, radius_m, semiAxes_m }: Body): void {
  if (layers === undefined) return;
  if (semiAxes_m !== undefined)
    throw new FerruleError("InvalidValue", {
      path: "body.layers",
      found: "layers in an elliptic section",
      accepted: "layers in a round section (radius_m), or an elliptic section of one tissue",
    });
  if (!layers.some(({ conductivity_S_per_m }) => conductivity_S_per_m > 0))
    throw new FerruleError("InvalidValue", {
      path: "body.layers",
      found: "no layer that conducts",
      accepted: "one layer or more of a conductivity above 0 S/m",
    });
  let inner_m = 0;
  for (const [i, layer] of layers.entries()) {
    requireNotNegative(layer.conductivity_S_per_m, `body.layers[${i}].conductivity_S_per_m`, "0 (air) or 0.36");
    requirePositive(layer.density_kg_per_m3, `body.layers[${i}].density_kg_per_m3`, "1000");
    if (!(layer.outerRadius_m > inner_m))
      throw new FerruleError("InvalidValue", {
        path: `body.layers[${i}].outerRadius_m`,
        found: `${layer.outerRadius_m} m`,
        accepted: `a radius above that of the layer inside, ${inner_m} m`,
      });
    inner_m = layer.outerRadius_m;
  }
  if (Math.abs(inner_m - radius_m) > 1e-9 * radius_m)
    throw new FerruleError("InvalidValue", {
      path: "body.layers",
      found: `layers that end at ${inner_m} m in a section of radius ${radius_m} m`,
      accepted: "layers that fill the section",
    });
}

function checkOwnThreshold({ part, ownThreshold }: Body): void {
  if (ownThreshold === undefined) return;
  if (part !== "own")
    throw new FerruleError("InvalidValue", {
      path: "body.ownThreshold",
      found: `a threshold of your own for ${part}`,
      accepted: 'part "own", so that it is not taken for a published one',
    });
  requirePositive(ownThreshold.rheobase_T_per_s, "body.ownThreshold.rheobase_T_per_s", "20");
  requirePositive(ownThreshold.chronaxie_s, "body.ownThreshold.chronaxie_s", "0.36e-3");
  requireText(ownThreshold.source, "body.ownThreshold.source", "author, journal, year, table");
}
