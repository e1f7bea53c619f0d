// Prints every figure of the shipped scanners beside its published design point: npx tsx checks/design-points/report.ts
import { bands, isInside } from "./bands.js";
import { published } from "./published.js";
import { detectionIn, shippedScanners } from "./shipped-scanners.js";

const text = (value: number) => String(Number(value.toPrecision(3)));

async function report(): Promise<void> {
  const scanners = await shippedScanners();
  const rows = bands(scanners);
  for (const band of rows) {
    const span = `${text(band.low)} to ${text(band.high)}`;
    console.log(
      `${band.name.padEnd(64)}${text(band.found).padStart(8)}   published ${band.published.padEnd(14)} band ${span.padEnd(16)}${isInside(band) ? "" : "OUTSIDE"}`,
    );
  }
  const outside = rows.filter((band) => !isInside(band));
  console.log(`sanity bands: n ${rows.length}, outside ${outside.length}`);
  const { time_s, iron_kg } = published.mouseLimit;
  const { mouse } = scanners;
  const ideal = detectionIn(time_s, mouse, mouse.ideal).noise.limits_kg.detection;
  console.log(
    `ideal 25 nm cores in the mouse scanner: ${text(ideal * 1e12)} ng by noise in ${time_s} s, ${text(iron_kg / ideal)} times better than measured: a lower bound`,
  );
}

void report();
