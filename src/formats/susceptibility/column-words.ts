import type { RoleWords } from "../table/header.js";

export const susceptibilityRoles = [
  "frequency",
  "real",
  "imaginary",
  "amplitude",
  "phase",
  "sigma",
  "sigma-real",
  "sigma-imaginary",
  "ignore",
] as const;
export type SusceptibilityRole = (typeof susceptibilityRoles)[number];

/** Names of columns and what they mean; those of other languages are asked for. */
export const susceptibilityColumnWords: RoleWords<SusceptibilityRole> = {
  frequency: "frequency",
  freq: "frequency",
  f: "frequency",
  "chi'": "real",
  "chi\u2032": "real",
  "\u03c7'": "real",
  "\u03c7\u2032": "real",
  real: "real",
  re: "real",
  "real part": "real",
  "chi''": "imaginary",
  "chi\u2033": "imaginary",
  "\u03c7''": "imaginary",
  "\u03c7\u2033": "imaginary",
  imaginary: "imaginary",
  imag: "imaginary",
  im: "imaginary",
  "imaginary part": "imaginary",
  amplitude: "amplitude",
  magnitude: "amplitude",
  phase: "phase",
  sigma: "sigma",
  sd: "sigma",
  "standard deviation": "sigma",
  "sd real": "sigma-real",
  "sd chi'": "sigma-real",
  "sd imaginary": "sigma-imaginary",
  "sd chi''": "sigma-imaginary",
};
