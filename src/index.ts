/**
 * The library. Each layer is a namespace; a bundler drops what is not used.
 *
 *   import { physics, units } from "ferrule";
 *   physics.langevin(2);                        // 0.5373...
 *   units.parseQuantity("20 mT", "appliedField") // 0.02
 */
export * as documents from "./documents/index.js";
export { type ErrorCode, FerruleError, isKnownError } from "./errors.js";
export * as figures from "./figures/index.js";
export * as formats from "./formats/index.js";
export * as handbook from "./handbook/index.js";
export * as imaging from "./imaging/index.js";
export * as measure from "./measure/index.js";
export * as numerics from "./numerics/index.js";
export * as physics from "./physics/index.js";
export * as runtime from "./runtime/index.js";
export * as units from "./units/index.js";
export * as workbench from "./workbench/index.js";
