from __future__ import annotations

from dataclasses import asdict

import pytest

import problemgen.audit.run as run_module
from problemgen.audit.records import Marked
from problemgen.audit.run import Task, audit, audited, audited_groups
from problemgen.audit.ways import ways_of
from problemgen.errors import FaultsError, NoRoomError
from problemgen.load.resources import banks_folder, templates_folder
from tests.support.shipped import shipped

NAMES = ("titrations/oxalic-acid", "equations/butane-burns")


def tasks(students: int = 60) -> list[Task]:
    return [
        (name, templates_folder() / f"{name}.toml", (banks_folder(), None), students, "three glass beads")
        for name in NAMES
    ]


def test_templates_are_audited_side_by_side_in_their_order() -> None:
    """Two templates go to processes of their own; the words of the draws are all that counts."""
    told: list[tuple[str, int, int]] = []
    found = audit(tasks(), lambda *progress: told.append(progress))
    assert [one.template for one in found.templates] == list(NAMES)
    assert found.holds
    assert told == [("auditing", 1, 2), ("auditing", 2, 2)]
    again = [audited(shipped(name), 60, "three glass beads") for name in NAMES]
    assert [asdict(one) for one in found.templates] == [asdict(one) for one in again]


def test_an_audit_of_one_template_adds_up() -> None:
    one = audited(shipped("titrations/oxalic-acid"), 5_000, "three glass beads")
    assert one.students == 5_000
    assert 0 < one.mistakes <= 5_000 * len(ways_of(shipped("titrations/oxalic-acid")))
    assert one.limits == {}
    assert 0 < one.widths.median < one.widths.worst < 0.03
    assert [fixed.students for fixed in one.fixed] == [5_000] * 3


def test_how_often_each_reagent_limits(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(run_module, "marked_sample", lambda *_: Marked())
    one = audited(shipped("limiting-reagent/silver-chromate"), 50, "three glass beads")
    assert [*one.limits] == ["silver-nitrate", "potassium-chromate"]
    assert sum(one.limits.values()) == one.students


def test_a_template_that_admits_nothing_is_an_error() -> None:
    with pytest.raises(NoRoomError, match=r"no candidate is admissible: `problemgen check` tells which range to widen"):
        audited_groups([], [], [], "beads")


def test_a_file_that_is_no_template_is_a_fault() -> None:
    (first, *_) = tasks()
    with pytest.raises(FaultsError):
        audit([("none", first[1].with_name("none.toml"), *first[2:])], lambda *_: None)
