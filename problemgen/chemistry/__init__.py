"""Chemistry: elements, formulas, equations and units, all of them read strictly and held exactly."""
