"""Worked solutions: a plan with its values in; sentences and lines of working out."""
