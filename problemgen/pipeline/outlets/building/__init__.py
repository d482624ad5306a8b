"""What a build writes, in the order in which it is listed."""

from __future__ import annotations

from problemgen.pipeline.outlets.building.answers import AnswersFile
from problemgen.pipeline.outlets.building.key import Key, WorkedKey
from problemgen.pipeline.outlets.building.outlet import BuildingOutlet, BuildingRun
from problemgen.pipeline.outlets.building.response_table import ResponseTable
from problemgen.pipeline.outlets.building.sheets import ClassFile, Sheets
from problemgen.pipeline.outlets.building.slips import Slips
from problemgen.pipeline.outlets.building.summary import Summary

__all__ = ["building_outlets"]


def building_outlets(run: BuildingRun) -> tuple[BuildingOutlet, ...]:
    """All that a build writes: an export of a built set is one more class in this list."""
    class_file = ClassFile(run)
    same_for_all, worked = run.problem_set.same_for_all, run.problem_set.printing.worked_key
    return (
        Sheets(run, class_file),
        class_file,
        *((Slips(run),) if run.slip else ()),
        *(() if same_for_all else (Key(run),)),
        *((WorkedKey(run),) if same_for_all or worked else ()),
        AnswersFile(run),
        ResponseTable(run),
        Summary(run),
    )
