import type { RoleWords } from "../table/header.js";

export const columnRoles = ["field", "magnetisation", "sigma", "ignore"] as const;
export type ColumnRole = (typeof columnRoles)[number];

/** Names of columns in English and what they mean; those of other languages are asked for. */
export const curveColumnWords: RoleWords<ColumnRole> = {
  field: "field",
  "magnetic field": "field",
  "applied field": "field",
  h: "field",
  "mu0 h": "field",
  "mu0*h": "field",
  "\u00b50h": "field",
  "\u03bc0h": "field",
  mu0h: "field",
  m: "magnetisation",
  moment: "magnetisation",
  "magnetic moment": "magnetisation",
  magnetisation: "magnetisation",
  magnetization: "magnetisation",
  sigma: "sigma",
  sd: "sigma",
  "standard deviation": "sigma",
  "moment sd": "sigma",
  "m. std. err.": "sigma",
  "std. err.": "sigma",
  "std err": "sigma",
  "std. dev.": "sigma",
  "std dev": "sigma",
  stderr: "sigma",
  stddev: "sigma",
  stdev: "sigma",
  "standard error": "sigma",
  "moment std. err.": "sigma",
  "moment std err": "sigma",
  "moment err": "sigma",
  "moment error": "sigma",
  "standard uncertainty": "sigma",
};
