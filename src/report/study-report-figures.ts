import {
  budgetFigure,
  calibrationFigure,
  discrepancyFigure,
  type Figure,
  mapSlicesFigure,
  massesFigure,
  regionSlicesFigure,
} from "../figures/index.js";
import type { StudyReportData } from "./study-report-data.js";

/** The figures of a report, each with its numbers, by the name under which it is saved. */
export interface StudyReportFigures {
  readonly masses: Figure;
  readonly ironMap: Figure;
  readonly ironMapRegions: Figure;
  readonly signalMap: Figure;
  readonly budget: Figure;
  readonly calibration: Figure;
  readonly discrepancy: Figure;
}

export async function studyReportFigures(data: StudyReportData): Promise<StudyReportFigures> {
  const { maps, regions, answers, calibration, regularisation } = data;
  const truth = data.study.invented ? data.truth : undefined;
  const subtitle = data.study.invented ? `Invented data: ${data.study.name}` : data.study.name;
  const shown = { subtitle: subtitle.length > 90 ? `${subtitle.slice(0, 89)}\u2026` : subtitle };
  return {
    masses: await massesFigure({ title: "Mass of iron in each region", ...shown, answers, truth }),
    ironMap: await mapSlicesFigure({ title: "Iron map: mass of Fe per volume", ...shown, map: maps.iron, regions }),
    ironMapRegions: await regionSlicesFigure({
      title: "Iron map: a slice through every region",
      ...shown,
      map: maps.iron,
      regions,
    }),
    signalMap: await mapSlicesFigure({
      title: "Signal map: shows, does not measure",
      ...shown,
      map: maps.signal,
      regions,
    }),
    budget: await budgetFigure({ title: "What the uncertainty is made of", answers }),
    calibration: await calibrationFigure({
      title: "Calibration: readings of vials with known iron",
      ...shown,
      line: calibration,
    }),
    discrepancy: await discrepancyFigure({
      title: "Choice of the regularisation weight",
      ...shown,
      choice: regularisation,
    }),
  };
}
