"""Reagents that a template declares in excess: whether they are."""

from __future__ import annotations

from dataclasses import replace
from functools import reduce

import numpy as np

from problemgen.errors import UnderivableError
from problemgen.make.candidates import Candidates
from problemgen.make.mistakes import BATCH, MARGIN, Mask
from problemgen.model.plan import Plan
from problemgen.model.problem import Asked, Scene
from problemgen.model.quantity import KINDS, Quantity
from problemgen.plan.chain import chain
from problemgen.plan.constants import constants
from problemgen.plan.evaluate import window_values

__all__ = ["compared", "runs_short"]


def compared(scene: Scene) -> Plan | None:
    """The plan that leads to how far each reagent reaches, those declared in excess among them; None for nothing to do.

    What is in excess without an amount ("water is there in plenty") cannot be compared, nor can a reagent whose
    partner's amount is what an analysis finds.
    """
    reagents = {species.id for species in scene.reagents}
    measured = {quantity.of for quantity in scene.given if KINDS[quantity.kind].extensive} & reagents
    if not measured & scene.in_excess:
        return None
    asked = [Asked(Quantity("extent", name), "mol") for name in sorted(measured)]
    try:
        plan = chain(replace(scene, in_excess=frozenset()), asked, constants())
    except UnderivableError:
        return None
    return plan if measured - scene.in_excess else None


def runs_short(plan: Plan, scene: Scene, candidates: Candidates) -> Mask:
    """In which candidates a reagent declared in excess limits, or may for all that the data tell."""
    windows = window_values(plan, dict(candidates.windows), BATCH)
    extents = {one.quantity.of: windows[one.quantity.id] for one in plan.asked}
    highs = [extent.high for name, extent in extents.items() if name not in scene.in_excess]
    limiting = reduce(np.minimum, highs) * (1.0 + MARGIN)
    short = [extent.low <= limiting for name, extent in extents.items() if name in scene.in_excess]
    return np.broadcast_to(np.logical_or.reduce(np.broadcast_arrays(*short)), candidates.rows)
