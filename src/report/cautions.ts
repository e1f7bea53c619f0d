/** Said wherever a number could be acted on. */
export const caution =
  "Research use; not a medical device, not for diagnosis. Local codes, ethics approval and licensed practice decide.";

/** What holds for every answer of this kind, whatever the study. */
export const standingCautions: readonly string[] = [
  "A decision is made for each named region by itself: of 100 regions that hold nothing, about 5 are called detected.",
  "The critical level decides, the detection limit plans; both hold for this background, this scan and these neighbours.",
  "Masses are of Fe, read with the calibration vials' tracer: iron of another lot, state or matrix may read differently.",
  "The intervals assume that the iron lies inside the drawn regions and nowhere else.",
];
