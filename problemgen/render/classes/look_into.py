"""The rows of look-into.csv: remarks for the instructor, worded with care. No student sees them."""

from __future__ import annotations

import math

from problemgen.language.messages import N_, _
from problemgen.language.numbers import listed
from problemgen.model.coincidence import Coincidence, Person

__all__ = ["LOOK_INTO_COLUMNS", "look_into_row"]

LOOK_INTO_COLUMNS = (
    *("id", "name", "section", "attempt", "parts", "other_id", "other_name", "other_section", "other_attempt"),
    *("numbers_that_fit", "by_chance", "remark"),
)

_CARE = N_(
    "This can be a sheet taken by mistake, work done together, or, however rarely, coincidence. It shows nothing by "
    "itself: look at the papers and ask before you draw a conclusion."
)


def look_into_row(found: Coincidence) -> tuple[str, ...]:
    """One remark: who, which parts, whose numbers they fit, and how often chance alone would do it."""
    person, other = found.person, found.other
    fits = "all" if found.fits_all else "some"
    return (*_told(person), " ".join(found.parts), *_told(other), fits, _by_chance(found.expected), _remark(found))


def _told(person: Person) -> tuple[str, ...]:
    return (person.student, person.name, person.section, str(person.attempt))


def _by_chance(expected: float) -> str:
    """The chance in words, its first figure alone: it is an estimate."""
    classes = 1 / max(expected, 1e-12)
    power = 10 ** math.floor(math.log10(classes))
    rounded = math.floor(classes / power) * power
    if rounded >= 10**12:
        return _("hardly ever")
    return _("in less than 1 of {n} classes of this size").format(n=f"{rounded:,}")


def _remark(found: Coincidence) -> str:
    fit = _("The answers to {parts} are not right for this student's numbers and are right for those of {student}.")
    told = [fit.format(parts=listed(found.parts), student=_name(found))]
    if len(found.counted) < len(found.parts):
        counted = _("Of these, {parts} rest on different given numbers and were counted.")
        told.append(counted.format(parts=", ".join(found.counted)))
    if found.fits_all:
        told.append(_("Every number that was answered fits the other sheet: perhaps the sheets were mixed up."))
    return " ".join((*told, _(_CARE)))


def _name(found: Coincidence) -> str:
    other = found.other
    return other.student if other.name == other.student else f"{other.name} ({other.student})"
