import { type Axis, axes, axisIndex, type ScannerModel, type SubjectModel } from "../../documents/index.js";
import { type Body, type BodyPart, typicalBody } from "../../safety/index.js";

export interface ScannerBody {
  readonly body: Body;
  readonly advisories: readonly string[];
}

/**
 * The body in the bore: stated, or the largest one of ours that fits, which is said. Bounds by bore diameter: common
 * practice, a mouse in up to 50 mm, a rat in up to 110 mm, an arm in up to 180 mm, a head in up to 350 mm.
 */
export function scannerBody({
  subject,
  boreDiameter_m,
}: Pick<ScannerModel, "subject" | "boreDiameter_m">): ScannerBody {
  if (subject !== undefined)
    return { body: bodyOf(subject), advisories: fitAdvisories(bodyOf(subject), boreDiameter_m) };
  const part = largestThatFits(boreDiameter_m);
  const body = typicalBody(part);
  return {
    body,
    advisories: [
      `no subject is stated: limits are for part "${part}", the largest of ours for this bore; state "subject"`,
      ...fitAdvisories(body, boreDiameter_m),
    ],
  };
}

export function bodyOf(subject: SubjectModel): Body {
  const { part, layers, semiAxes_m, radius_m, conductivity_S_per_m, density_kg_per_m3, mass_kg, exposedMass_kg } =
    subject;
  const outer_m = layers?.at(-1)?.outerRadius_m ?? radius_m;
  const stated = {
    ...given("radius_m", outer_m),
    ...given("conductivity_S_per_m", conductivity_S_per_m),
    ...given("density_kg_per_m3", density_kg_per_m3),
    ...given("mass_kg", mass_kg),
    ...given("exposedMass_kg", exposedMass_kg),
    ...given("semiAxes_m", semiAxes_m && { x: semiAxes_m[0], y: semiAxes_m[1] }),
    ...given(
      "layers",
      layers?.map((layer, i) => ({ ...layer, name: `layer ${i + 1}` })),
    ),
  };
  if (part !== "own") {
    const isStated = Object.keys(stated).length > 0;
    return typicalBody(part, isStated ? { ...stated, statusText: "as stated, the rest typical, from memory" } : {});
  }
  const largest_m = semiAxes_m === undefined ? (outer_m ?? 0.1) : Math.max(...semiAxes_m);
  return {
    ...typicalBody("human-torso"),
    ...stated,
    part: "own",
    class: subject.being === "animal" ? "animal" : "scan subject",
    radius_m: largest_m,
    statusText: "as stated by the scanner document; what it leaves out is typical, from memory",
    // The document's source stands beside the numbers; how it was read, its writer knows.
    ...given("ownThreshold", subject.stimulation && { ...subject.stimulation, status: "read (secondary)" as const }),
  };
}

function given<Key extends string, Value>(key: Key, value: Value | undefined): Partial<Record<Key, Value>> {
  return value === undefined ? {} : ({ [key]: value } as Record<Key, Value>);
}

function largestThatFits(boreDiameter_m: number): Exclude<BodyPart, "own"> {
  if (boreDiameter_m <= 0.05) return "mouse";
  if (boreDiameter_m <= 0.11) return "rat";
  if (boreDiameter_m <= 0.18) return "human-arm";
  return boreDiameter_m <= 0.35 ? "human-head" : "human-torso";
}

function fitAdvisories({ part, radius_m, semiAxes_m }: Body, boreDiameter_m: number): string[] {
  const widest_m = semiAxes_m === undefined ? radius_m : Math.max(semiAxes_m.x, semiAxes_m.y);
  if (2 * widest_m <= boreDiameter_m) return [];
  return [
    `part "${part}", ${(2e3 * widest_m).toFixed(0)} mm wide, does not fit a bore of ${(1e3 * boreDiameter_m).toFixed(0)} mm`,
  ];
}

/** Axes of the body, which lies along z here, for a scanner whose bore runs along another axis. */
export function bodyAxis(axis: Axis, bore: Axis): Axis {
  const turned = (axisIndex(axis) - axisIndex(bore) + 5) % 3;
  return axes[turned];
}
