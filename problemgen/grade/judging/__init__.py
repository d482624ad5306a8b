"""Judging: what was read and a student's key in; a verdict with its points and reasons out."""
