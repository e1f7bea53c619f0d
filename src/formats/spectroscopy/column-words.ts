import type { RoleWords } from "../table/header.js";

export const harmonicsRoles = [
  "harmonic",
  "frequency",
  "amplitude",
  "phase",
  "real",
  "imaginary",
  "sigma",
  "ignore",
] as const;
export type HarmonicsRole = (typeof harmonicsRoles)[number];

/** Names of columns in English and what they mean; those of other languages are asked for. */
export const harmonicsColumnWords: RoleWords<HarmonicsRole> = {
  harmonic: "harmonic",
  "harmonic number": "harmonic",
  n: "harmonic",
  k: "harmonic",
  frequency: "frequency",
  freq: "frequency",
  f: "frequency",
  amplitude: "amplitude",
  magnitude: "amplitude",
  phase: "phase",
  real: "real",
  re: "real",
  "real part": "real",
  imaginary: "imaginary",
  imag: "imaginary",
  im: "imaginary",
  "imaginary part": "imaginary",
  sigma: "sigma",
  sd: "sigma",
  "standard deviation": "sigma",
  "standard uncertainty": "sigma",
};
