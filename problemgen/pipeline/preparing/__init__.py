"""A problem while it is prepared: what its sheet looks like, what can be asked, how much of each reagent is taken."""
