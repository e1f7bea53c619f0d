import { formatQuantity, type QuantityKind } from "../../units/index.js";
import type { ScannerAnalysis } from "../../workbench/index.js";
import { apparentPowerText, massText } from "./engineering-text.js";

/** Four digits with the unit that suits, or that it is not known. */
export const knownText = (value: number | null | undefined, kind: QuantityKind): string =>
  value === null || value === undefined ? "not known" : formatQuantity(value, kind, { digits: 4 });

const places = (values: readonly number[]): string =>
  values.map((value) => `${Number((value * 1e3).toFixed(3)) + 0} mm`).join(", ");

/** Rows of the selection field: where its field-free region lies, and how far it holds. */
export function fieldRows({ field }: ScannerAnalysis): string[][] {
  const { region, reference, principal, usable, edges, ballAtEdge } = field;
  const [line] = region.lines;
  const gradients = principal.values_T_per_m.map((value) => formatQuantity(value, "fieldGradient", { digits: 4 }));
  const along = (["x", "y", "z"] as const).map((axis) => {
    const [minus, plus] = usable.along[axis];
    const at = (reach: typeof minus) => `${(reach.distance_m * 1e3).toFixed(1)}${reach.isBore ? " (bore)" : ""}`;
    return `${axis} -${at(minus)} to ${at(plus)} mm`;
  });
  return [
    [
      "field-free",
      line === undefined
        ? `${region.kind} at ${places(reference.center_m)}`
        : `line through ${places(reference.center_m)}`,
    ],
    ...(line === undefined
      ? []
      : [
          [
            "  along",
            `(${line.direction.map((each) => Number(each.toFixed(4)) + 0).join(", ")}), straight within ${line.straightness_m < 1e-9 ? "1 nm" : knownText(line.straightness_m, "length")}`,
          ],
          [
            "  usable length",
            `${knownText(line.lengthBelow_m, "length")} with less than ${knownText(line.limit_T, "appliedField")} left`,
          ],
        ]),
    ["principal gradients", gradients.join(", ")],
    ["within 10 %", `${along.join("; ")} (common practice)`],
    [
      "",
      `sphere of radius ${knownText(usable.sphere.distance_m, "length")}; ${(100 * usable.volumeFraction).toFixed(0)} % of the bore`,
    ],
    ...edges
      .filter(({ axis }) => usable.along[axis].some(({ isBore }) => !isBore))
      .map(({ axis, distance_m, positionError_m, concentrationFactor }) => [
        `  at its end on ${axis}`,
        `iron at ${knownText(distance_m, "length")} is drawn ${knownText(Math.abs(positionError_m), "length")} too far ${positionError_m < 0 ? "in" : "out"}, its concentration x ${concentrationFactor.toFixed(3)}; the total is kept`,
      ]),
    ...(ballAtEdge === null
      ? []
      : [
          [
            "  a ball there",
            `of radius ${knownText(ballAtEdge.radius_m, "length")}: its own outline misses ${(100 * ballAtEdge.missedShare).toFixed(1)} % of its iron`,
          ],
        ]),
  ];
}

/** Rows of the coils and magnets under a head, with what is not known below. */
export function coilRows({ power }: ScannerAnalysis): string[][] {
  if (power.coils.length === 0 && power.magnetMass_kg === 0)
    return [["no coil or magnet is stated: no power, voltage or mass"]];
  const head = ["coil", "current", "R", "L", "heat", "voltage", "apparent", "conductor"];
  const body = power.coils.map((coil) => [
    coil.name,
    knownText(coil.current_A, "current"),
    knownText(coil.resistance_Ohm, "resistance"),
    knownText(coil.inductance_H, "inductance"),
    knownText(coil.heat_W, "power"),
    knownText(coil.voltage_V, "voltage"),
    apparentPowerText(coil.apparentPower_VA),
    massText(coil.conductorMass_kg),
  ]);
  const magnets = power.magnetMass_kg === 0 ? [] : [["magnets", "", "", "", "", "", "", massText(power.magnetMass_kg)]];
  const total = ["in all", "", "", "", knownText(power.heat_W, "power"), "", "", massText(power.conductorMass_kg)];
  return [head, ...body, total, ...magnets, ...power.unknown.map((name) => [`not included: ${name}`])];
}

/** Rows of the receive channels, from the coil to the digitiser. */
export function receiveRows({ receive }: ScannerAnalysis): string[][] {
  return receive.flatMap(
    ({
      axis,
      sensitivity_T_per_A,
      from,
      reachWithinTenPercent_m,
      noise,
      resonance,
      feedthrough_V,
      driveImbalance,
      dynamicRange,
    }) => [
      [`channel ${axis}`, `${knownText(sensitivity_T_per_A, "receiveSensitivity")} (${from})`],
      ...(reachWithinTenPercent_m === null
        ? []
        : [
            [
              "  within 10 %",
              `to ${reachWithinTenPercent_m.map((reach, i) => `${"xyz"[i]} ${reach === null ? "bore" : knownText(reach, "length")}`).join(", ")}`,
            ],
          ]),
      [
        "  noise",
        `${knownText(noise.total, "voltageNoise")} at ${knownText(noise.frequency_Hz, "frequency")}${noiseParts(noise)}`,
      ],
      ...(resonance === null
        ? []
        : [
            [
              "  resonance",
              `${knownText(resonance.frequency_Hz, "frequency")}, Q ${resonance.quality.toFixed(0)}, with the body ${resonance.loadedQuality.toFixed(0)}`,
            ],
          ]),
      ...(feedthrough_V === null
        ? []
        : [
            [
              "  direct feedthrough",
              `${knownText(feedthrough_V, "voltage")} peak before the filter${balanceText(driveImbalance)}`,
            ],
          ]),
      ...(dynamicRange === null
        ? []
        : [
            [
              "  digitiser",
              `${(100 * dynamicRange.fullScaleShare).toPrecision(3)} % of its range taken by feedthrough; ${dynamicRange.demanded_dB.toFixed(0)} dB demanded, ${dynamicRange.available_dB.toFixed(0)} dB available`,
            ],
          ]),
    ],
  );
}

function noiseParts({
  coil,
  body,
  amplifierVoltage,
  amplifierCurrent,
  quantisation,
}: ScannerAnalysis["receive"][number]["noise"]): string {
  if (coil === undefined || amplifierVoltage === undefined) return " (stated total)";
  const parts: readonly (readonly [string, number | undefined])[] = [
    ["coil", coil],
    ["body", body],
    ["e_n", amplifierVoltage],
    ["i_n", amplifierCurrent],
    ["rounding", quantisation],
  ];
  return `: ${parts.map(([name, value]) => `${name} ${knownText(value, "voltageNoise")}`).join(", ")}`;
}

/** How well opposed windings cancel as drawn; tolerances come on top. */
function balanceText(driveImbalance: number | null): string {
  if (driveImbalance === null) return "";
  const left = driveImbalance < 1e-4 ? "less than 0.01" : (100 * driveImbalance).toPrecision(3);
  return `; as drawn its windings leave ${left} % of one side's`;
}
