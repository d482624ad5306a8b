"""One problem on two sheets whose reagent and product weigh nearly the same: benzophenone to benzhydrol."""

from __future__ import annotations

__all__ = ["BENZHYDROL", "TWO_SHEETS"]

BENZHYDROL = """title = "Benzhydrol"
topic = "t"
difficulty = 2
reaction = "benzhydrol"
[given.benzophenone]
mass = { choose = [2.000], unit = "g" }
purity = { choose = [91.10], unit = "%" }
[given.sodium-borohydride]
in_excess = true
[given.benzhydrol.actual]
mass = { choose = [1.500], unit = "g" }
[[part]]
quantity = "mass"
of = "benzophenone"
[[part]]
quantity = "mass"
unit = "g"
points = 2
[[part]]
quantity = "percent_yield"
points = 2
session = 2
"""
"""1.822 g or 10.00 mmol of benzophenone could give 1.842 g of benzhydrol, of which 1.500 g was obtained: 81.4 %."""

TWO_SHEETS = """title = "Two sheets"
course = "C"
[[sheet]]
session = 1
title = "One"
[[sheet]]
session = 2
title = "Two"
[[problem]]
template = "benzhydrol"
"""
