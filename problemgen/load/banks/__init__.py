"""The banks: TOML files of substances, reactions, bottles, glassware and sources in; `Banks` out."""
