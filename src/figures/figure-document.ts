/** As much of a page's document as passes through here: it is handed to the plot library and not looked into. */
export interface FigureDocument {
  createElementNS(namespace: string, name: string): unknown;
}
