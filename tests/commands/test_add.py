"""`add` at a terminal and without one: what it says, and its exit code."""

from __future__ import annotations

import io
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from problemgen.cli import main
from problemgen.load.sets.courses import course_of
from problemgen.pipeline.new_course import new_course

Say = Callable[[], str]


class Terminal(io.StringIO):
    """Somebody who types these lines."""

    def isatty(self) -> bool:
        return True


@pytest.fixture
def course(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    new_course(tmp_path / "mine")
    monkeypatch.chdir(tmp_path / "mine" / "sets")
    monkeypatch.setattr(sys, "stdin", io.StringIO())
    return tmp_path / "mine"


def test_outside_a_course_there_is_one_fault(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, said: Say) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["add", "substance", "2-methylfuran"]) == 1
    hint = "`problemgen new FOLDER` makes one; go into it, and say the same again."
    fault = f"  .: found no course; expected a folder with course.toml, or one inside it. {hint}\n"
    assert said() == f"1 fault; nothing was written:\n{fault}"


def test_from_a_substance_to_a_set(course: Path, said: Say) -> None:
    assert main(["add", "substance", "2-methylfuran", "--density", "0.910", "--at", "25 °C"]) == 0
    assert said().splitlines()[-4:] == [
        "  source      chemicals: name, CAS number, structure, melting and boiling point",
        "  Written to banks/substances.toml.",
        "Left to fill in:",
        (
            "  2-methylfuran: hazard statements, in banks/hazards.toml (or --hazards); until then sheets say that "
            "none are on file and to read the safety data sheet."
        ),
    ]
    assert main(["add", "substance", "534-22-5"]) == 0
    assert said().splitlines()[:2] == [
        "2-methylfuran (C5H6O) is there already: id 2-methylfuran, found by its CAS number.",
        "Left to fill in:",
    ]
    assert main(["add", "substance", "534-22-5", "--hazards", "Danger H225 H302", "--density", "0.915"]) == 0
    assert said().splitlines() == [
        "2-methylfuran (C5H6O) is there already: id 2-methylfuran, found by its CAS number.",
        "  density: written in its entry in banks/substances.toml.",
        "  hazards: written in an entry of the course in banks/hazards.toml.",
    ]
    assert main(["add", "reaction", "2-methylfuran + maleic anhydride -> adduct"]) == 0
    assert said().splitlines()[-1] == "Next: problemgen add template adduct"
    assert main(["add", "template", "adduct", "--set", "week-1"]) == 0
    assert said().splitlines() == [
        "Written to templates/preparations/adduct.toml.",
        "Added to sets/week-1/set.toml as its last problem, with a sheet for the second session.",
        "`problemgen check` finds nothing to say of it.",
        "Look at it: problemgen sample preparations/adduct",
    ]
    assert "preparations/adduct" in course_of(course).course_templates


def test_at_a_terminal_it_asks(course: Path, monkeypatch: pytest.MonkeyPatch, said: Say) -> None:
    monkeypatch.setattr(sys, "stdin", Terminal("0.910\nDanger H225\n"))
    assert main(["add", "substance", "2-methylfuran"]) == 0
    out = said()
    density = "2-methylfuran, C5H6O, 534-22-5: density at 20 °C in g/mL, from its label (empty: left open): "
    assert out.startswith(f"{density}2-methylfuran: hazards from its safety data sheet")
    assert "Left to fill in" not in out
    assert course_of(course).banks().hazards["2-methylfuran"].codes == ("H225",)


def test_an_empty_answer_is_the_proposal(course: Path, monkeypatch: pytest.MonkeyPatch, said: Say) -> None:
    monkeypatch.setattr(sys, "stdin", Terminal("\n" * 20))
    assert main(["add", "reaction", "acetone + benzaldehyde -> ketol"]) == 0
    assert "Usual yield in percent [50 to 85]: " in said()
    one = course_of(course).banks().reactions["ketol"]
    assert [number.text for number in one.yield_percent] == ["50", "85"]


def test_a_fault_leaves_the_course_as_it_was(course: Path, said: Say) -> None:
    before = {path: path.read_bytes() for path in course.rglob("*") if path.is_file()}
    assert main(["add", "reaction", "2-methylfuran + quux -> adduct"]) == 1
    assert said().startswith("1 fault; nothing was written:\n  add: found 'quux', which neither")
    assert {path: path.read_bytes() for path in course.rglob("*") if path.is_file()} == before
