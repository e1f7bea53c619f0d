/** Look of a report: a lab report on A4, black on white; nothing is fetched. */
export const pageStyle = `
@page { size: A4; margin: 16mm 15mm 18mm; }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 24px; max-width: 780px; color: #1a1a1a; background: #fff; font: 15px/1.45 Helvetica, Arial, "DejaVu Sans", sans-serif; overflow-wrap: break-word; }
h1 { font-size: 26px; line-height: 1.2; margin: 0 0 6px; }
h2 { font-size: 19px; margin: 34px 0 8px; padding-top: 10px; border-top: 1px solid #bdbdbd; break-after: avoid; }
h3 { font-size: 16px; margin: 2px 0 4px; break-after: avoid; }
p, ul { margin: 8px 0; }
ul { padding-left: 22px; }
.banner { border: 2px solid #d55e00; padding: 10px 14px; margin: 0 0 18px; }
.quiet { color: #555; }
.answer { border-left: 4px solid #0072b2; padding: 2px 0 2px 12px; margin: 12px 0; break-inside: avoid; }
.answer p { margin: 4px 0; }
table { border-collapse: collapse; width: 100%; margin: 12px 0 16px; font-size: 13px; }
caption { text-align: left; color: #555; padding-bottom: 4px; }
th, td { text-align: left; vertical-align: top; padding: 4px 8px 4px 0; border-bottom: 1px solid #ddd; font-weight: normal; }
thead th, thead th.n { white-space: normal; }
thead th { border-bottom: 1px solid #1a1a1a; font-weight: bold; vertical-align: bottom; }
th[scope="row"] { overflow-wrap: anywhere; min-width: 7em; }
.hash td { overflow-wrap: anywhere; }
.n { text-align: right; white-space: nowrap; font-variant-numeric: tabular-nums; }
tr { break-inside: avoid; }
.hash td:last-child, .hash td:nth-last-child(2) { font: 11px/1.4 "DejaVu Sans Mono", Menlo, Consolas, monospace; }
figure { margin: 14px 0 18px; break-inside: avoid; }
figure > svg { display: block; width: 100%; height: auto; max-height: 235mm; }
figcaption { font-size: 13px; color: #555; margin-top: 4px; }
.cautions { border: 1px solid #1a1a1a; padding: 4px 14px 8px; }
@media print { body { padding: 0; max-width: none; font-size: 10.5pt; } table { font-size: 9pt; } }
`.trim();
