// Prints the widths at 20 mT, 20 kHz over core diameter, and where each model is narrowest.
import { combined, corners, diameters_nm, neel, staticWidth_mT, width_mT } from "./widths.js";

const line = (name: string, widths: readonly number[]) => {
  const least = Math.min(...widths);
  const cells = widths.map((width) => (Number.isFinite(width) ? width.toFixed(2) : "-").padStart(6));
  console.log(`${name.padEnd(34)}${cells.join("")}   narrowest at ${diameters_nm[widths.indexOf(least)]} nm`);
};

console.log("core diameter, nm".padEnd(34) + diameters_nm.map((d) => String(d).padStart(6)).join(""));
line("static width, mT", diameters_nm.map(staticWidth_mT));
for (const [K, shell] of corners)
  line(
    `added rates, ${K / 1e3} kJ/m3, ${shell * 1e9} nm coating`,
    diameters_nm.map((d) => width_mT(d, combined(K, shell))),
  );
for (const K of [2e3, 3e3, 4e3, 5e3])
  line(
    `Neel Fokker-Planck, ${K / 1e3} kJ/m3`,
    diameters_nm.map((d) => width_mT(d, neel(K))),
  );
