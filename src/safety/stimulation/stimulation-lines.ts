import type { Body } from "../body.js";
import { type Drive, driveName, driveSwing, type ShiftField, shiftSwing } from "../drive.js";
import { type LimitLine, limitLine } from "../limit-line.js";
import { type Stimulus, stimulationReferences } from "./stimulation-references.js";

/** A drive's peak-to-peak change beside every threshold, T. */
export function driveStimulationLines(body: Body, drive: Drive): LimitLine[] {
  const swing = driveSwing(drive);
  const isSine = (drive.waveform?.kind ?? "sine") === "sine";
  const stimulus = { body, axis: drive.axis, swing, sine_Hz: isSine ? drive.frequency_Hz : null };
  const compared = {
    class: body.class,
    quantity: `nerve stimulation (peak to peak), ${driveName(drive)}`,
    axis: drive.axis,
    bodyPart: body.part,
    kind: "appliedField",
    value: swing.change_T,
  } as const;
  const lines = stimulationReferences(stimulus).map((reference) => limitLine(compared, reference));
  return [...lines, ...cardiacLines(stimulus, `cardiac stimulation, ${driveName(drive)}`)];
}

/** A shift field's rate beside every threshold, T/s. */
export function shiftStimulationLines(body: Body, shift: ShiftField): LimitLine[] {
  const swing = shiftSwing(shift);
  const stimulus = { body, axis: shift.axis, swing, sine_Hz: null };
  const compared = {
    class: body.class,
    quantity: `nerve stimulation, shift ${shift.axis}`,
    axis: shift.axis,
    bodyPart: body.part,
    kind: "fieldRate",
    value: swing.meanRate_T_per_s,
  } as const;
  const lines = stimulationReferences(stimulus).map(({ limit, ...reference }) =>
    limitLine(compared, { ...reference, limit: limit === null ? null : limit / swing.duration_s }),
  );
  return [...lines, ...cardiacLines(stimulus, `cardiac stimulation, shift ${shift.axis}`)];
}

/** Where the heart may lie in the field the hazard is named, though we have no figure for it. */
function cardiacLines({ body, axis, swing }: Stimulus, quantity: string): LimitLine[] {
  if (body.part === "human-head" || body.part === "human-arm") return [];
  return [
    limitLine(
      {
        class: body.class,
        quantity,
        axis,
        bodyPart: body.part,
        kind: "fieldRate",
        value: swing.peakRate_T_per_s,
      },
      {
        limit: null,
        source: "IEC 60601-2-33 limits cardiac stimulation of people; its figures are not in our sources",
        edition: "not read",
        status: "from memory",
        caution:
          "look the limit up in the standard: stimulation of the heart is dangerous, and slow ramps are the concern",
      },
    ),
  ];
}
