import { vacuumPermeability_T_m_per_A } from "./constants.js";
import { dimensionText, isSameDimension, noDimension } from "./dimension.js";
import type { SourceStatus } from "./formula.js";
import { quantityKinds } from "./kinds.js";
import type { UnitSymbol } from "./symbols.js";
import { unitSymbols } from "./symbols.js";

/** One row of the unit table as documents, faces and the guide show it. */
export interface UnitRow {
  readonly symbol: string;
  readonly name: string;
  readonly aliases: readonly string[];
  readonly prefixes: readonly string[];
  /** `1e-4 kg.s-2.A-1` */
  readonly inSI: string;
  readonly status: SourceStatus;
  readonly note: string;
}

/** The closed table, row by row. */
export function unitTable(): UnitRow[] {
  return unitSymbols.map((unit) => ({
    symbol: unit.symbol,
    name: unit.name,
    aliases: unit.aliases ?? [],
    prefixes: unit.prefixes === "" ? [] : unit.prefixes.split(" "),
    inSI: inSI(unit),
    status: unit.status,
    note: unit.note ?? "",
  }));
}

function inSI({ scale, exponent10, mu0Power, dimension, isCelsius }: UnitSymbol): string {
  if (isCelsius) return "K, 0 at 273.15 K";
  if (mu0Power === 1) return `${vacuumPermeability_T_m_per_A} ${dimensionText(dimension)}`;
  const power = exponent10 === 0 ? "" : `e${exponent10}`;
  const base = isSameDimension(dimension, noDimension) ? "" : ` ${dimensionText(dimension)}`;
  return `${Number(scale.toPrecision(9))}${power}${base}`;
}

const intro = `# Units

Generated from the tables in \`src/units\`; a test keeps this page equal to them.

Write a quantity as a number and a unit: \`5.7 T/m\`, \`25 nm\`, \`2 mg/kg\`, \`37 °C\`. The blank is optional, the decimal
sign is a point, digits have no separators. A bare number is right only for a plain number or a fraction; everywhere
else it is refused. Case matters: \`mT\` is a field, \`MT\` and \`mt\` are nothing.

## How a unit is written

- Product: \`.\`, \`*\`, \`·\` or a blank (\`A.m2\`, \`mPa·s\`, \`A m2\`).
- Quotient: \`/\` divides by the next factor only, from left to right: \`A/m/s\` is A per metre and per second, and
  \`J/kg.K\` is (J/kg) times K. Write \`J/kg/K\` for joule per kilogram and kelvin.
- Exponents: \`m2\`, \`m^2\`, \`m²\`, \`s-1\`, \`s^-1\`, \`s⁻¹\`. Halves follow \`^\`: \`Hz^0.5\`, or \`sqrt(Hz)\`, \`√Hz\`.
- Parentheses serve \`sqrt(...)\` only.
- Micro is \`u\`, \`µ\` or \`μ\`. \`mu0\`, \`µ0\` and \`[mu_0]\` are the vacuum permeability.
- \`S/s\`, \`kS/s\`, \`MS/s\`, \`GS/s\` are samples per second; \`S\` anywhere else is siemens.
- An angle has no dimension, but a frequency in \`rad/s\` is refused: a factor of 2 pi must not slip in.

## Fields

A field is mu0*H. \`20 mT\` and \`20 mT/mu0\` mean the same applied field, and so do A/m, kA/m and Oe, converted by mu0
(CODATA 2022: 1 Oe is 0.1 mT to 1.3e-10). A gradient in A/m2 or T/m/mu0 likewise. A magnetisation is in A/m: plain tesla
is refused there, write \`0.6 T/mu0\`.

## What is refused, and what to write

| not | because | write |
|---|---|---|
| \`mM\`, \`uM\`, \`M\` | molar or mega | \`mmol/L\`, \`umol/L\` |
| \`U\`, \`u\` alone, \`mcg\` | not micro everywhere | \`ug\`, \`um\` |
| \`cc\` | not a symbol | \`cm3\`, \`mL\` |
| \`gauss\`, \`tesla\` | words | \`G\`, \`T\` |
| \`mg Fe/mL\` | that the mass is of iron is said by the field's name | \`mg/mL\` |
| \`2,5 mT\`, \`1,000 A\`, \`1 000 A\` | the comma is read both ways | \`2.5 mT\`, \`1000 A\` |
| \`rpm\` | turns or radians | \`Hz\` |
| \`Vpp\`, \`mT rms\` | amplitudes are peak values | the peak value |
| \`W/kg/Cel\` | a point on a scale in a quotient | \`W/kg/K\` |
`;

/** The page docs/guide/units.md. */
export function unitGuide(): string {
  const symbolRows = unitTable().map(({ symbol, aliases, prefixes, name, inSI: si, status, note }) =>
    tableRow([[symbol, ...aliases].map(code).join(", "), name, prefixes.join(" "), si, status, note]),
  );
  const kindRows = Object.entries(quantityKinds).map(([kind, { siUnit, example }]) =>
    tableRow([kind, code(siUnit), code(example)]),
  );
  return [
    intro,
    "## Symbols\n",
    'Status "read": seen in the published UCUM table; "from memory": UCUM or SI brochure, not seen; "common practice": not UCUM.\n',
    "| symbol | name | prefixes | in SI | status | note |\n|---|---|---|---|---|---|",
    ...symbolRows,
    "\n## Kinds of quantity\n",
    "| kind | inside the program | example |\n|---|---|---|",
    ...kindRows,
    "",
  ].join("\n");
}

function code(text: string): string {
  return `\`${text}\``;
}

function tableRow(cells: readonly string[]): string {
  return `| ${cells.join(" | ")} |`;
}
