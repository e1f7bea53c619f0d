/** Said beside every figure of this layer. */
export const researchUse =
  "Research use; not a medical device. These figures compare a setting with published limits and clear nobody and no animal for a scan: local codes, ethics approval and licensed practice decide.";

/** Exactly these words stand where we know of no published figure; a number never does. */
export const noPublishedThreshold = "no published threshold in our sources";

/** Who decides, after every verdict. */
export const whoDecides = "local codes, ethics approval and licensed practice decide";

/**
 * Hazards that no line of this layer computes.
 * Source      common practice around strong and time-varying magnetic fields; from memory.
 */
export const usualCautions: readonly string[] = [
  "Implants, pacemakers, pumps and metal fragments can move, heat, fail or shift a field: screen every person and animal before they come near, and everyone who works there.",
  "Cables, electrodes, rings, catheters and temperature probes inside the coils can heat and burn: keep loops out, and skin from touching skin.",
  "Whole-body figures say nothing of a metal part, a tattoo or poorly perfused tissue, which can heat more.",
  "Pregnancy is outside every line here.",
  "An anaesthetised animal or a sedated person cannot report stimulation or heat, and regulates temperature poorly: watch temperature and breathing.",
  "Stop when the subject reports or shows twitching, pain or heat, whatever the figures say.",
  "Acoustic noise, high voltage, stored energy, quenched or collapsing coils and pulled-in objects are hazards of their own.",
];
