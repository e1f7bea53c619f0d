/** A caution that has to stay with every number taken from the fit. `code` is stable, `message` is for people. */
export interface FitAdvisory {
  readonly code:
    | "assumed-fact"
    | "file-finding"
    | "sigma-not-independent-noise"
    | "sigma-too-small"
    | "correlated-residuals"
    | "not-identifiable"
    | "strongly-correlated-parameters"
    | "at-bound"
    | "not-converged"
    | "hysteresis-ignored"
    | "no-sigma"
    | "inconsistent-saturation"
    | "branches-differ"
    | "outlier"
    | "saturation-not-reached"
    | "effective-parameter"
    | "second-population"
    | "population-vanishes"
    | "biased-by-design"
    | "regularisation"
    | "amplitude-only"
    | "zero-field-relaxation"
    | "instruments-disagree"
    | "precision-only";
  readonly message: string;
}
