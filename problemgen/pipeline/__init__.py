"""The stages of a run, composed: build, mark, solve, check."""
