import { formatQuantity, type QuantityKind } from "../../units/index.js";
import type { ScannerAnalysis } from "../../workbench/index.js";
import { alignedTable, wrapText } from "../table.js";
import { ratioText } from "./engineering-text.js";

type Limits = ScannerAnalysis["limits"];
type Line = Limits["lines"][number];
type Compared = Pick<Line, "class" | "quantity" | "axis" | "bodyPart">;

/** Bands and lines made in different calls are the same where they compare the same, whatever object holds it. */
const isSame = (one: Compared, other: Compared): boolean =>
  one.class === other.class &&
  one.quantity === other.quantity &&
  one.axis === other.axis &&
  one.bodyPart === other.bodyPart;

/** Rows of the limits, one for each quantity: class, quantity, value, value over limit, verdict, and which comes first. */
export function limitRows({ lines, bands, first }: Limits): string[][] {
  const head = ["class", "quantity", "value", "over limit"];
  const body = bands.map((band) => {
    const leader = first[band.class];
    return [
      band.class,
      band.quantity,
      valueText(lines.filter((line) => isSame(line, band))),
      band.ratio === null ? "-" : bandText(band.ratio),
      band.verdict.split(";")[0],
      leader !== undefined && isSame(leader, band) ? "reached first in its class" : "",
    ];
  });
  return [head, ...body];
}

const figure = (value: number, kind: QuantityKind): string => formatQuantity(value, kind, { digits: 3 });

/** One figure where all sources speak of the same. */
function valueText(lines: readonly Line[]): string {
  const values = new Set(lines.map(({ value, kind }) => figure(value, kind)));
  return values.size === 1 ? [...values][0] : "by source";
}

function bandText({ low, high }: { readonly low: number; readonly high: number }): string {
  return high - low < 0.005 * high ? ratioText(high) : `${ratioText(low)} to ${ratioText(high)}`;
}

const width = 100;

/**
 * Every source's line under its quantity: value, limit, value over limit, source, edition, how we know it, and the
 * number of its caution. The cautions follow, each told once. No line of text is longer than 100 columns.
 */
export function everyLimit({ lines, bands }: Limits): string[] {
  const cautions = [...new Set(lines.map(({ caution }) => caution))].filter((caution) => caution !== "");
  const [head, ...figures] = alignedTable([["value", "limit", "over limit"], ...lines.map(figuresOf)], {
    right: [0, 1, 2],
    indent: "    ",
  });
  return [
    `${head}  source | edition | how we know it [caution]`,
    ...bands.flatMap((band) => [
      ...wrapText(`${band.class}, ${band.bodyPart}: ${band.quantity}`, { width }),
      ...lines.flatMap((line, i) =>
        isSame(line, band) ? hanging(figures[i], sourceText(line, cautions.indexOf(line.caution) + 1)) : [],
      ),
    ]),
    ...(cautions.length === 0 ? [] : ["  Cautions of these lines, by their numbers"]),
    ...cautions.flatMap((caution, i) => hanging(`    [${i + 1}]`.padEnd(8), caution)),
  ];
}

const figuresOf = ({ value, limit, ratio, kind }: Line): string[] => [
  figure(value, kind),
  limit === null ? "-" : figure(limit, kind),
  ratio === null ? "-" : ratioText(ratio),
];

function sourceText({ note, source, edition, status }: Line, caution: number): string {
  const parts = [note, source, edition === "none" ? "no edition" : edition, status];
  return `${parts.filter((part) => part !== undefined).join(" | ")}${caution === 0 ? "" : ` [${caution}]`}`;
}

/** Words beside a head, and below themselves where they go on. */
function hanging(head: string, words: string): string[] {
  const indent = " ".repeat([...head].length + 2);
  return wrapText(words, { width, indent }).map((line, i) => (i === 0 ? head + line.slice(head.length) : line));
}
