"""What a build writes, in the order in which it is listed."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from problemgen.model.problem_set import HandIn
from problemgen.pipeline.outlets.building.answers import AnswersFile
from problemgen.pipeline.outlets.building.fill_in import FillIn
from problemgen.pipeline.outlets.building.key import Key, WorkedKey
from problemgen.pipeline.outlets.building.outlet import BuildingOutlet, BuildingRun
from problemgen.pipeline.outlets.building.response_table import ResponseTable
from problemgen.pipeline.outlets.building.sheets import ClassFile, Sheets
from problemgen.pipeline.outlets.building.slips import Slips
from problemgen.pipeline.outlets.building.summary import Summary
from problemgen.pipeline.outlets.building.workbooks import Workbooks

__all__ = ["building_outlets", "unwanted_outlets"]


_HANDED_IN: Mapping[HandIn, Callable[[BuildingRun], BuildingOutlet]] = {
    "fill-in": FillIn,
    "workbook": Workbooks,
    "slip": Slips,
}
"""What is written beside the printed sheets where it is asked for."""


def building_outlets(run: BuildingRun) -> tuple[BuildingOutlet, ...]:
    """All that a build writes: an export of a built set is one more class in this list."""
    class_file = ClassFile(run)
    same_for_all, worked = run.problem_set.same_for_all, run.problem_set.printing.worked_key
    return (
        Sheets(run, class_file),
        class_file,
        *(make(run) for name, make in _HANDED_IN.items() if name in run.more),
        *(() if same_for_all else (Key(run),)),
        *((WorkedKey(run),) if same_for_all or worked else ()),
        AnswersFile(run),
        ResponseTable(run),
        Summary(run),
    )


def unwanted_outlets(run: BuildingRun) -> tuple[BuildingOutlet, ...]:
    """What an earlier build may have written and this one does not: beside other sheets it would be out of date."""
    return tuple(make(run) for name, make in _HANDED_IN.items() if name not in run.more)
