import { curveErrors, momentErrors, widthErrors } from "./compare.js";

/** The meter: `npx tsx checks/size-distribution/report.ts` prints every relative error. */
for (const { quantity, logSd, at, relativeError } of [...curveErrors(), ...momentErrors(), ...widthErrors()]) {
  console.log(`${quantity.padEnd(13)} log-sd ${logSd.padEnd(5)} at ${at.padEnd(12)} ${relativeError.toExponential(2)}`);
}
