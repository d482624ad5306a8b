"""A whole class: verdicts in; attempts, totals, decisions and statistics out."""
