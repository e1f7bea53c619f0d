/**
 * Constants of nature and standard atomic weights, in coherent SI.
 *
 * Source      CODATA 2022 recommended values (the year stated here holds for the whole file); kB, N_A and e are exact
 *             by the definition of the SI since 2019. Molar masses: IUPAC abridged standard atomic weights
 *             (from memory; facts M9).
 * Checked by  checks/units (CODATA 2022 table of a general-purpose library)
 */

/** mu0 = 1.256 637 061 27(20)e-6 T m/A. No longer exactly 4 pi 1e-7: smaller by 1.3e-10 of itself. */
export const vacuumPermeability_T_m_per_A = 1.25663706127e-6;

/** kB, exact. */
export const boltzmannConstant_J_per_K = 1.380649e-23;

/** N_A, exact. */
export const avogadroConstant_per_mol = 6.02214076e23;

/** e, exact. */
export const elementaryCharge_C = 1.602176634e-19;

/**
 * gamma of the electron, magnitude, rad/(s T).
 * Source   CODATA 2022, 1.760 859 627 84(55)e11; from memory. Magnetite's differs by about a percent (g = 2.1); only
 *          times scale with it, equilibria do not.
 */
export const gyromagneticRatio_rad_per_s_T = 1.76085962784e11;

export const ironMolarMass_kg_per_mol = 55.845e-3;
export const oxygenMolarMass_kg_per_mol = 15.999e-3;

/** Fe3O4, derived from the two atomic weights. */
export const magnetiteMolarMass_kg_per_mol = 3 * ironMolarMass_kg_per_mol + 4 * oxygenMolarMass_kg_per_mol;

/** Fe2O3, derived from the two atomic weights. */
export const maghemiteMolarMass_kg_per_mol = 2 * ironMolarMass_kg_per_mol + 3 * oxygenMolarMass_kg_per_mol;

/** kg of Fe per kg of oxide: 0.72360 for Fe3O4, 0.69943 for Fe2O3. */
export const ironMassFraction = {
  magnetite: (3 * ironMolarMass_kg_per_mol) / magnetiteMolarMass_kg_per_mol,
  maghemite: (2 * ironMolarMass_kg_per_mol) / maghemiteMolarMass_kg_per_mol,
} as const;

/** 0 degrees Celsius in kelvin, exact by definition. */
export const celsiusZero_K = 273.15;
