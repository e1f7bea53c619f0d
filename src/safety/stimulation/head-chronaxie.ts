/**
 * Chronaxie that suits head gradient coils. No rheobase goes with it in our sources, so it gives no threshold: only how
 * thresholds of the head vary with the duration.
 * Source      meta-analysis, PMC8651073, abstract; read
 */
export const headChronaxie_s = 669e-6;
