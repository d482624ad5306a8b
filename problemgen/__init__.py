"""Auto-graded stoichiometry problem sets for the chemistry laboratory."""

__all__: list[str] = []
