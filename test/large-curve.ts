import { writeFileSync } from "node:fs";

const stated = (value: string) => ({ value, status: "stated", note: "invented" });

/** An invented curve of many rows with its descriptor beside it: up and down again, cores of two sizes and a ripple. */
export function writeLargeCurve(path: string, rows: number): void {
  const lines = Array.from({ length: rows }, (_, i) => {
    const field_mT = 3000 * (1 - Math.abs((2 * (i + 0.5)) / rows - 1)) + 0.01;
    const langevin = (xi: number) => 1 / Math.tanh(xi) - 1 / xi;
    const magnetisation = 40 * (langevin(field_mT / 5) + langevin(field_mT / 15)) + 0.3 * Math.sin(12.9898 * i);
    return `${field_mT.toFixed(5)}\t${magnetisation.toFixed(6)}\t0.2`;
  });
  writeFileSync(path, `${lines.join("\n")}\n`);
  const descriptor = {
    schema: "urn:ferrule:curve-descriptor:1",
    name: "invented long table",
    columns: ["field", "magnetisation", "sigma"],
    facts: {
      fieldUnit: stated("mT"),
      fieldMeaning: stated("applied"),
      magnetisationUnit: stated("A.m2/kg"),
      basis: stated("per-iron-mass"),
      temperature: stated("300 K"),
      coreMaterial: stated("magnetite"),
      coreSaturation: stated("446 kA/m"),
    },
  };
  writeFileSync(`${path}.descriptor.json`, JSON.stringify(descriptor));
}
