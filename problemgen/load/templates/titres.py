"""Titres of several runs, as a template gives them: burette readings that lead to titres which agree, and a rough one.

The titre itself is drawn and told nowhere. Each run starts where the burette happens to stand, ends a titre further,
and scatters by as much as concordant titres may; a rough run goes too far.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from problemgen.exact.digits import Written, written_steps
from problemgen.load.fault_log import FaultLog
from problemgen.load.templates.document import TitreDocument
from problemgen.load.templates.values import read_value
from problemgen.model.banks import Glassware
from problemgen.model.quantity import Quantity, Role
from problemgen.model.template import Draw, Reading, Series

__all__ = ["read_titres"]


def read_titres(
    faults: FaultLog, titrant: str, document: TitreDocument, glassware: Mapping[str, Glassware]
) -> Series | None:
    """The runs of one titrant; None, with a fault kept, for what no burette would show."""
    hidden = read_value(faults, Quantity("volume", titrant, Role.SOLUTION), document, glassware)
    if hidden is None:
        return None
    if not isinstance(hidden, Draw) or document.read is None or glassware[document.read].kind != "burette":
        burettes = ", ".join(one.id for one in glassware.values() if one.kind == "burette")
        faults.add("", "no titre that a burette shows", f"`from` and `to`, and `read` with one of {burettes}")
        return None
    scale = _Scale(faults, hidden.step.value)
    begin = scale.steps("begin", *document.begin)
    rough = scale.steps("rough", *document.rough) if document.rough is not None else None
    half = int(document.within.value / 2 / hidden.step.value)
    if half < 1:
        least = written_steps(2, hidden.step).text
        faults.add("within", document.within.text, f"at least {least} {hidden.unit}, two steps of the scale")
    if begin is None or (rough is None and document.rough is not None) or half < 1:
        return None
    furthest = hidden.first + hidden.count - 1 + begin[1] + (rough[1] if rough else half)
    most = written_steps(furthest, hidden.step)
    if most.value > glassware[document.read].capacity.value:
        faults.add("to", f"readings up to {most.text} {hidden.unit}", f"no more than the {hidden.instrument} holds")
        return None
    runs = [(Role.RUN_START, Role.RUN_END, run, (-half, half)) for run in range(1, document.runs + 1)]
    if rough is not None:
        runs.insert(0, (Role.ROUGH_START, Role.ROUGH_END, 0, rough))
    starts, ends = [], []
    for first, last, run, spread in runs:
        start = Quantity("volume", titrant, first, stage=run)
        end = Quantity("volume", titrant, last, stage=run)
        starts.append(Draw(start, hidden.unit, hidden.step, begin[0], begin[1] - begin[0] + 1, (), hidden.instrument))
        sum_of_both = ("add", start.id, hidden.quantity.id)
        ends.append(Reading(end, hidden.unit, hidden.step, sum_of_both, *spread, hidden.instrument))
    return Series(tuple(starts), (hidden,), tuple(ends))


@dataclass(frozen=True)
class _Scale:
    """The scale of a burette."""

    faults: FaultLog
    step: Fraction

    def steps(self, key: str, low: Written, high: Written) -> tuple[int, int] | None:
        """A range in steps of the scale; None, with a fault kept, for one that falls or lies off the scale."""
        first, last = low.value / self.step, high.value / self.step
        if first.denominator != 1 or last.denominator != 1 or not 0 <= first < last:
            self.faults.add(key, f"{low.text} to {high.text}", f"a range that rises on a scale of {float(self.step):g}")
            return None
        return int(first), int(last)
