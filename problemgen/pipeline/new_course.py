"""A course to begin with, and what comes with the program copied into a course."""

from __future__ import annotations

from pathlib import Path

import tomlkit

from problemgen.errors import Fault, FaultsError, OutputError
from problemgen.load.resources import COURSE_FILE, SET_FILE
from problemgen.load.sets.courses import Course, course_of
from problemgen.pipeline.starter import starter
from problemgen.write.files import Staging

__all__ = ["FIRST_SET", "copy_into", "is_first_class", "is_first_set", "new_course"]

FIRST_SET = "sets/week-1"
"""The set that a new course has."""

_COURSE = """# A course: its sets, and what all of them have in common. Every line but the title may be left out.
title = "My laboratory course"

# The term goes into every draw: next term the same sets have other numbers.
# term = "autumn 2026"

# Built folders of earlier terms: none of their numbers comes again.
# earlier = ["../last-year/output/week-1"]

# paper = "us-letter"        # or "a4"
# decimal_mark = ","         # decides how an ambiguous answer such as 1,234 is read
# method = "extent"          # how stoichiometry is taught: "product", "extent" or "ratios"

# How all sets are marked; a set may say otherwise. All keys stand in the reference of policies.
# [policy]
# figures = "remark"
# follow_through = 1.0
"""

_SET = """title = "Amounts and the limiting reagent"

[[sheet]]
session = 1
title = "Before the session"

# A problem of a template that `problemgen list` shows, or of one in templates/ of this course.
[[problem]]
template = "amounts/four-ways"

[[problem]]
template = "limiting-reagent/silver-chromate"
"""

_ROSTER = """id,name
a01,Nirel Ostavane
a02,Tomsin Brakholt
a03,Ilvane Dorrimar
"""

_BANKS = """# Own substances: an entry with the id of one that comes with the program stands in its place.
# `problemgen add substance NAME` writes entries here. `problemgen list --substances` shows what there is.
#
# [[substance]]
# id = "2-methylfuran"
# name = "2-methylfuran"
# formula = "C5H6O"
# state = "liquid"
# density = { value = 0.910, unit = "g/mL", at = "25 °C" }
"""


def new_course(folder: Path) -> tuple[str, ...]:
    """Make the folder of a course with one small set, which can be built at once; gives the names of its files.

    Raises:
        OutputError: for a folder that holds anything already, or cannot be written.
    """
    if folder.is_dir() and any(folder.iterdir()):
        raise OutputError(f"{folder} holds files already; a new course needs a folder of its own. Nothing was written.")
    files = {
        COURSE_FILE: _COURSE,
        "banks/substances.toml": _BANKS,
        "rosters/A.csv": _ROSTER,
        f"{FIRST_SET}/{SET_FILE}": _SET,
    }
    opening, text_of_it = starter()
    with Staging(folder) as staging:
        for name, text in files.items():
            staging.write(name, text.encode())
        staging.write(opening, text_of_it.encode(), program=True)
    return (*files, opening)


def is_first_class(path: Path) -> bool:
    """Whether a class list is the invented one that a new course begins with."""
    return _is(path, _ROSTER)


def is_first_set(folder: Path) -> bool:
    """Whether a set is the one that a new course begins with, as it was."""
    return _is(folder / SET_FILE, _SET)


def _is(path: Path, text: str) -> bool:
    whole = text.encode()
    return path.is_file() and path.stat().st_size == len(whole) and path.read_bytes() == whole


def copy_into(name: str, into: Path) -> Path:
    """Copy a template or a set, by the name that `list` shows, into a course; gives the file or folder that was made.

    A copy of a template has the same id, and counts in the course in the place of ours. A copy of a set has neither
    roster nor published secret.

    Raises:
        FaultsError: for a place that is in no course, and a name that is neither a template nor a set.
        OutputError: where the course has it already.
    """
    course = course_of(into)
    if course.folder is None:
        hint = f"`problemgen new {into}` makes one."
        raise FaultsError([Fault(str(into), "", "no course", f"a folder with {COURSE_FILE}, or one inside it", hint)])
    wanted = name.rstrip("/").removeprefix("templates/").removesuffix(".toml")
    shipped = Course()
    if wanted in shipped.templates:
        target, text = Path("templates") / f"{wanted}.toml", shipped.templates[wanted].read_text(encoding="utf-8")
    else:
        folder = _set_or_refuse(shipped, wanted)
        target, text = Path("sets") / folder.name / SET_FILE, _without_secret(folder / SET_FILE)
    if (course.folder / target).exists():
        raise OutputError(f"{course.folder / target} is there already; nothing was written")
    with Staging(course.folder) as staging:
        staging.write(target.as_posix(), text.encode())
    return course.folder / (target if target.name != SET_FILE else target.parent)


def _set_or_refuse(shipped: Course, wanted: str) -> Path:
    sets = shipped.sets
    found = sets.get(wanted) or sets.get(f"sets/{wanted}")
    if found is None:
        try:
            shipped.template_file(wanted)
        except FaultsError as error:
            expected = "the name of a template or a set that `list` shows"
            hint = error.faults[0].hint
            raise FaultsError([Fault(wanted, "", "no such template or set", expected, hint)]) from None
        raise FaultsError([Fault(wanted, "", "a file", "the name of a template or a set that `list` shows")])
    return found


def _without_secret(path: Path) -> str:
    """The text of a set without a secret that everybody can read."""
    document = tomlkit.parse(path.read_text(encoding="utf-8"))
    document.pop("demonstration_secret", None)
    return tomlkit.dumps(document)
