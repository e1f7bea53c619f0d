import { FerruleError } from "../errors.js";
import { checkLengths } from "./check-lengths.js";
import { centred, type PanelSize } from "./key-panel.js";
import { plainNumber } from "./mass-unit.js";
import { palette } from "./palette.js";
import { renderPlot, type SvgPanel } from "./render.js";
import type { SensitivityProfile } from "./sensitivity-line.js";

/** @throws FerruleError ShapeMismatch, InvalidValue (fewer than two places, or not ascending) */
export function checkProfile({ position_m, sensitivity_T_per_A }: SensitivityProfile): void {
  checkLengths({ "profile.sensitivity_T_per_A": sensitivity_T_per_A }, position_m.length, "one for each position");
  const isAscending = position_m.every((x, i) => Number.isFinite(x) && (i === 0 || x > position_m[i - 1]));
  if (isAscending && position_m.length > 1) return;
  const found = isAscending ? `${position_m.length} positions` : "positions that do not ascend";
  const accepted = "two positions or more in ascending order, such as -0.01, 0, 0.01 m";
  throw new FerruleError("InvalidValue", { path: "profile.position_m", found, accepted });
}

interface ProfileUnit {
  readonly factor: number;
  readonly unit: string;
  /** Sensitivity at the centre with the sign of the profile there, T/A. */
  readonly reference_T_per_A: number;
}

/** The profile with the value at the centre and 10 % below it. */
export function profilePanel(
  { axis, position_m, sensitivity_T_per_A }: SensitivityProfile,
  { factor, unit, reference_T_per_A }: ProfileUnit,
  { width, canvas }: PanelSize,
): SvgPanel {
  const { Plot } = canvas;
  const points = Array.from(position_m, (x, i) => ({ x: x * 1e3, y: sensitivity_T_per_A[i] * factor }));
  const [from, to] = [points[0].x, points[points.length - 1].x];
  const levels = [
    { y: reference_T_per_A * factor, text: "centre", dash: "1 3" },
    { y: 0.9 * reference_T_per_A * factor, text: "\u221210 %", dash: "5 3" },
  ];
  const below = reference_T_per_A > 0 ? 9 : -9;
  return renderPlot(
    {
      width,
      height: 260,
      marginLeft: 72,
      marginRight: 64,
      marginTop: 14,
      marginBottom: 46,
      x: {
        domain: [from, to],
        label: `${axis} (mm)`,
        ...centred,
        labelOffset: 38,
        tickFormat: (v: number) => plainNumber(v, 4),
      },
      y: {
        label: `Sensitivity, B/I (${unit})`,
        ...centred,
        labelOffset: 56,
        grid: true,
        nice: true,
        zero: true,
        tickFormat: (v: number) => plainNumber(v, 4),
      },
      marks: [
        Plot.ruleY([0], { stroke: palette.rule }),
        ...levels.flatMap(({ y, text, dash }, i) => [
          Plot.ruleY([y], { stroke: palette.quiet, strokeDasharray: dash }),
          Plot.text([text], {
            x: () => to,
            y: () => y,
            dx: 6,
            dy: i === 0 ? -below / 2 : below / 2,
            textAnchor: "start",
            fill: palette.quiet,
          }),
        ]),
        Plot.line(points, { x: "x", y: "y", stroke: palette.data, strokeWidth: 2 }),
      ],
    },
    canvas,
  );
}
