"""Templates: one TOML file in; a `Template` with its plan chained out."""
