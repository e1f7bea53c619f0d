import type { StudyReportData } from "./study-report-data.js";

/** One subject of the record that a study should leave, and what of it is missing here. */
export interface RecordGap {
  readonly subject: string;
  readonly missing: readonly string[];
}

/**
 * Items of a complete record that the study does not hold, so that nobody has to notice an absence.
 *
 * Source  the house's record of what a study should leave (own synthesis of published reporting lists); this report's
 *         data hold no animal, dose, registration or ex vivo fields at all
 */
export function recordGaps(data: StudyReportData): RecordGap[] {
  const when = (isMissing: boolean, item: string) => (isMissing ? [item] : []);
  return [
    { subject: "Tracer", missing: ["lot", "hydrodynamic size", "coating", "storage", "spectrum"] },
    {
      subject: "Scanner",
      missing: [
        ...when(data.scanner.boreDiameter_m === undefined, "bore"),
        ...when(data.scanner.bandwidth_Hz === undefined, "receive band"),
        "magnet and coil temperature",
      ],
    },
    {
      subject: "Scan",
      missing: ["gating", "bed position", "time of day of each empty", ...when(data.scans.length === 0, "scans")],
    },
    { subject: "Calibration", missing: ["matrix of the vials (water, gel, cells)", "quantification limit", "date"] },
    { subject: "Region", missing: ["who drew it", "blinding", "spread between methods and users"] },
    {
      subject: "Animal",
      missing: [
        "species, strain, sex, age, weight",
        "diet and fasting",
        "anaesthesia",
        "ethics approval",
        "number and exclusions",
      ],
    },
    {
      subject: "Dose",
      missing: ["mass of Fe per body weight", "volume and route", "time zero", "residue in the syringe"],
    },
    { subject: "Registration", missing: ["anatomy", "fiducials", "fiducial and target error"] },
    {
      subject: "Result",
      missing: [
        "percent of injected iron, and per gram",
        "ex vivo closure",
        ...when(
          data.answers.every(({ decision }) => decision === "detected"),
          "a negative control region",
        ),
      ],
    },
    { subject: "Files", missing: ["licence of the data"] },
  ];
}
