"""Feedback and explanations: a student's marking in; what the points were lost on, and why, out."""
