"""Draws, admissibility, variants."""
