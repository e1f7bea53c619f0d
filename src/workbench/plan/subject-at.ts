import type { DriveAxisModel, ScannerModel } from "../../documents/index.js";
import { type Body, bodyHeating, firstLimits, type LimitBand, limitBands, subjectLimits } from "../../safety/index.js";
import { driveOf } from "../scanner/limit-analysis.js";
import type { DesignPoint } from "./scaled-design.js";

export interface SubjectAt {
  readonly stimulation: LimitBand["ratio"];
  readonly heating: LimitBand["ratio"];
  /** Mean over the section, W/kg. */
  readonly sar_W_per_kg: number;
  /** The limit reached first in the subject's own class; null: no published threshold in our sources. */
  readonly first: LimitBand | null;
}

/** What the drive at a point does to the body in the bore, beside the limits of its class. */
export function subjectAt(
  body: Body,
  { axis, waveform, ...drive }: DriveAxisModel,
  { point, scanner }: { readonly point: DesignPoint; readonly scanner: ScannerModel },
): SubjectAt {
  const here = driveOf(
    {
      ...drive,
      axis,
      waveform: { ...waveform, edge_s: edgeAt(waveform, drive.frequency_Hz, point.frequency_Hz) },
      maximumAmplitude_T: point.driveAmplitude_T,
      frequency_Hz: point.frequency_Hz,
    },
    scanner,
  );
  const lines = subjectLimits({ body, drives: [here], shifts: [] });
  const bands = limitBands(lines);
  const ofKind = (start: string) => widest(bands.filter(({ quantity }) => quantity.startsWith(start)));
  return {
    stimulation: ofKind("nerve stimulation"),
    heating: ofKind("heating"),
    sar_W_per_kg: bodyHeating(body, here).mean_W_per_kg,
    first: firstLimits(bands)[body.class] ?? null,
  };
}

/** Edges keep their share of the period when the frequency changes. */
function edgeAt({ edge_s }: DriveAxisModel["waveform"], own_Hz: number, wanted_Hz: number): number {
  return (edge_s * own_Hz) / wanted_Hz;
}

function widest(bands: readonly LimitBand[]): LimitBand["ratio"] {
  const ratios = bands.flatMap(({ ratio }) => (ratio === null ? [] : [ratio]));
  if (ratios.length === 0) return null;
  const strictest = ratios.reduce((most, ratio) => (ratio.high > most.high ? ratio : most));
  return strictest;
}
