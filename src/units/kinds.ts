/**
 * The closed list of quantity kinds that a document field or formula input can have.
 * A kind fixes the coherent SI unit inside the program and an example for messages.
 *
 * `appliedField` and `fieldGradient` are carried as mu0*H in tesla (decision 0001); they also accept A/m, kA/m, Oe and
 * A/m2, converted by mu0. All other kinds accept only units of their own dimension.
 */
export const quantityKinds = {
  dimensionless: { siUnit: "1", example: "2" },
  fraction: { siUnit: "1", example: "5 %" },
  length: { siUnit: "m", example: "25 nm" },
  area: { siUnit: "m2", example: "4 mm2" },
  volume: { siUnit: "m3", example: "0.2 mL" },
  time: { siUnit: "s", example: "10 us" },
  frequency: { siUnit: "Hz", example: "25 kHz" },
  samplingRate: { siUnit: "S/s", example: "2.5 MS/s" },
  velocity: { siUnit: "m/s", example: "359 m/s" },
  mass: { siUnit: "kg", example: "5 ug" },
  massConcentration: { siUnit: "kg/m3", example: "5 mg/mL" },
  molarConcentration: { siUnit: "mol/m3", example: "87 mmol/L" },
  molarMass: { siUnit: "kg/mol", example: "55.845 g/mol" },
  massPerArea: { siUnit: "kg/m2", example: "3 ug/mm2" },
  density: { siUnit: "kg/m3", example: "5180 kg/m3" },
  massRatio: { siUnit: "kg/kg", example: "2 mg/kg" },
  temperature: { siUnit: "K", example: "300 K" },
  appliedField: { siUnit: "T", example: "20 mT" },
  fieldGradient: { siUnit: "T/m", example: "5.7 T/m" },
  fieldRate: { siUnit: "T/s", example: "20 T/s" },
  magnetisation: { siUnit: "A/m", example: "446 kA/m" },
  massMagnetisation: { siUnit: "A.m2/kg", example: "92 A.m2/kg" },
  magneticMoment: { siUnit: "A.m2", example: "3.6e-18 A.m2" },
  momentRate: { siUnit: "A.m2/s", example: "1.1e-4 A.m2/s" },
  receiveSensitivity: { siUnit: "T/A", example: "31.4 uT/A" },
  current: { siUnit: "A", example: "100 A" },
  voltage: { siUnit: "V", example: "3.4 nV" },
  voltageNoise: { siUnit: "V/Hz^0.5", example: "0.9 nV/Hz^0.5" },
  currentNoise: { siUnit: "A/Hz^0.5", example: "1 pA/Hz^0.5" },
  resistance: { siUnit: "Ohm", example: "50 Ohm" },
  resistivity: { siUnit: "Ohm.m", example: "1.72e-8 Ohm.m" },
  inductance: { siUnit: "H", example: "20 uH" },
  capacitance: { siUnit: "F", example: "2 nF" },
  power: { siUnit: "W", example: "10 kW" },
  energy: { siUnit: "J", example: "1.5 kJ" },
  energyDensity: { siUnit: "J/m3", example: "13 kJ/m3" },
  viscosity: { siUnit: "Pa.s", example: "0.89 mPa.s" },
  conductivity: { siUnit: "S/m", example: "0.36 S/m" },
  electricField: { siUnit: "V/m", example: "6.75 V/m" },
  specificAbsorptionRate: { siUnit: "W/kg", example: "2 W/kg" },
  flow: { siUnit: "m3/s", example: "2 uL/min" },
  rate: { siUnit: "1/s", example: "0.02 1/h" },
  activity: { siUnit: "Bq", example: "185 MBq" },
  doseEquivalent: { siUnit: "Sv", example: "6.6 mSv" },
  dosePerActivity: { siUnit: "Sv/Bq", example: "0.0073 mSv/MBq" },
  angle: { siUnit: "rad", example: "30 deg" },
} as const satisfies Record<string, { siUnit: string; example: string }>;

export type QuantityKind = keyof typeof quantityKinds;
