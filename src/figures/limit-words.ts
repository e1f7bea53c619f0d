/** What our sources say of a value, in the order of their numbers: 0 to 3. Nothing here is a clearance to proceed. */
export const verdictWords = [
  "below every limit in our sources",
  "between the limits of our sources",
  "above every limit in our sources",
  "no published threshold in our sources",
] as const;

/** Printed below every figure that compares with limits. */
export const limitCaution =
  "Research use; not a medical device. Local codes, ethics approval and licensed practice decide.";

/** Who or what is exposed. Limits of one class are never put in one order with those of another. */
export type ExposedClass = "scan subject" | "staff" | "animal";
