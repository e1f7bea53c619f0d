import { avogadroConstant_per_mol, type Formula, ironMolarMass_kg_per_mol } from "../../units/index.js";
import { coreMoment_A_m2, coreVolume_m3, ironPerCore_kg, momentPerIron_A_m2_per_kg } from "./core.js";
import {
  adviseOnCore,
  coreDiameterInput,
  densityInput,
  ironMassFractionInput,
  saturationInput,
} from "./formula-inputs.js";

type Inputs = Readonly<Record<string, number>>;

const materialOf = (inputs: Inputs) => ({
  density_kg_per_m3: inputs.density,
  ironMassFraction: inputs["iron-mass-fraction"],
});

const materialSource =
  "definition; densities: review table, BMC Materials, doi 10.1186/s42833-019-0002-6 (read); iron fractions: atomic weights (from memory)";

export const coreMomentFormula: Formula = {
  name: "core-moment",
  subject: "particle",
  summary: "magnetic moment of one single-domain core",
  equation: "m = Ms pi d^3 / 6",
  inputs: [coreDiameterInput, saturationInput],
  outputs: [
    { name: "moment", kind: "magneticMoment", unit: "A.m2", summary: "moment of one core" },
    { name: "volume", kind: "volume", unit: "m3", summary: "magnetic volume of one core" },
  ],
  validity: "single-domain cores (below about 80 nm for magnetite)",
  source: { text: "volume of a sphere times Ms", status: "from memory" },
  compute: (inputs) => ({
    moment: coreMoment_A_m2(inputs["core-diameter"], inputs.saturation),
    volume: coreVolume_m3(inputs["core-diameter"]),
  }),
  advise: adviseOnCore,
};

export const ironPerCoreFormula: Formula = {
  name: "iron-per-core",
  subject: "particle",
  summary: "mass of iron (Fe, not oxide) in one core",
  equation: "m_Fe = density w_Fe pi d^3 / 6",
  inputs: [coreDiameterInput, densityInput, ironMassFractionInput],
  outputs: [
    { name: "iron-mass", kind: "mass", unit: "kg", summary: "mass of Fe in one core" },
    { name: "iron-atoms", kind: "dimensionless", unit: "1", summary: "Fe atoms in one core (Fe 55.845 g/mol)" },
    { name: "cores-per-nanogram", kind: "dimensionless", unit: "1", summary: "cores that hold 1 ng Fe" },
  ],
  validity: "solid oxide cores of bulk density",
  source: { text: materialSource, status: "derived" },
  compute: (inputs) => {
    const iron_kg = ironPerCore_kg(inputs["core-diameter"], materialOf(inputs));
    return {
      "iron-mass": iron_kg,
      "iron-atoms": (iron_kg / ironMolarMass_kg_per_mol) * avogadroConstant_per_mol,
      "cores-per-nanogram": 1e-12 / iron_kg,
    };
  },
};

export const momentPerIronFormula: Formula = {
  name: "moment-per-iron",
  subject: "particle",
  summary: "saturated moment per mass of iron (Fe, not oxide)",
  equation: "M_Fe = Ms / (density w_Fe)",
  inputs: [saturationInput, densityInput, ironMassFractionInput],
  outputs: [
    {
      name: "moment-per-iron",
      kind: "massMagnetisation",
      unit: "A.m2/kg",
      summary: "A.m2 per kg of Fe; per kg of oxide it is smaller by w_Fe",
    },
  ],
  validity: "any size distribution of one material",
  source: { text: materialSource, status: "derived" },
  compute: (inputs) => ({ "moment-per-iron": momentPerIron_A_m2_per_kg(inputs.saturation, materialOf(inputs)) }),
  advise: adviseOnCore,
};
