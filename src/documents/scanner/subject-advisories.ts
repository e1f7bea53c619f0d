import { typicalBody } from "../../safety/index.js";
import { formatQuantity } from "../../units/index.js";
import type { ScannerModel } from "./scanner-model.js";
import type { SubjectModel } from "./subject-field.js";

/** A body that does not fit the bore, and staff inside it. */
export function subjectAdvisories({
  subject,
  staffDistance_m,
  bore,
}: Pick<ScannerModel, "subject" | "staffDistance_m" | "bore">): string[] {
  const width_m = 2 * bore.radius_m;
  const body_m = subject === undefined ? 0 : 2 * (largestRadius_m(subject) ?? 0);
  return [
    ...when(
      body_m > width_m,
      `its subject, ${formatQuantity(body_m, "length")} across, does not fit the bore of ${formatQuantity(width_m, "length")}`,
    ),
    ...when(
      staffDistance_m !== undefined && staffDistance_m < bore.radius_m,
      `its staff stand ${formatQuantity(staffDistance_m ?? 0, "length")} from the centre, inside the bore`,
    ),
  ];
}

function largestRadius_m({ part, radius_m, semiAxes_m, layers }: SubjectModel): number | undefined {
  const stated = [
    ...(radius_m === undefined ? [] : [radius_m]),
    ...(semiAxes_m ?? []),
    ...(layers ?? []).map(({ outerRadius_m }) => outerRadius_m),
  ];
  if (stated.length > 0) return Math.max(...stated);
  return part === "own" ? undefined : typicalBody(part).radius_m;
}

const when = (holds: boolean, words: string): string[] => (holds ? [words] : []);
