/** What a file is and what it holds. There is none for a file that is not sound: that is an error, with its place. */
export interface Inspection {
  readonly file: string;
  /** In a few words, e.g. "tracer document". */
  readonly format: string;
  /** Of the format, where it has one. */
  readonly version?: string | undefined;
  readonly sound: true;
  /** Plain data, fit for JSON. */
  readonly summary: Readonly<Record<string, unknown>>;
}
