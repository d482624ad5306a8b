"""What can go wrong, drawn as one tree.

ProblemgenError
├── FaultsError          faults in files or arguments that somebody wrote, all at once
├── NumberError          text that is not a number
├── FormulaError         text that is not a formula, with the position
├── EquationError        text that is not an equation, or cannot be balanced
│   ├── UnbalancedError      the coefficients do not balance
│   ├── ImpossibleError      no positive coefficients balance it
│   └── UnderdeterminedError more than one set of coefficients balances it
├── CitationError        text that is not a citation of sources
├── UnitError            a unit that is not in the list
├── DimensionError       a unit of another dimension than the quantity's
├── UnderivableError     what is asked cannot be derived from what is given
├── NoRoomError          a template's ranges leave too few admissible variants
└── OutputError          a file that cannot be written, or would be overwritten

A student's bad answer is never an exception: it is a verdict with a reason.
Programming errors are not caught: they raise what Python raises.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

__all__ = [
    "CitationError",
    "DimensionError",
    "EquationError",
    "Fault",
    "FaultsError",
    "FormulaError",
    "ImpossibleError",
    "NoRoomError",
    "NumberError",
    "OutputError",
    "ProblemgenError",
    "UnbalancedError",
    "UnderdeterminedError",
    "UnderivableError",
    "UnitError",
]


@dataclass(frozen=True, order=True)
class Fault:
    """One fault of a file: where it is, what was found, what was expected, what to do."""

    file: str
    key: str
    found: str
    expected: str
    hint: str = ""

    def __str__(self) -> str:
        """The fault on one line, as the command line prints it."""
        where = ": ".join(part for part in (self.file, self.key) if part)
        text = f"{where}: found {self.found}; expected {self.expected}"
        return f"{text}. {self.hint}" if self.hint else text


def _in_order(fault: Fault) -> tuple[list[tuple[int, str]], Fault]:
    """What faults are sorted by: runs of figures count as numbers, by their length first: they may be of any."""
    pieces = re.split(r"0*([0-9]+)", f"{fault.file}\n{fault.key}")
    return [(len(piece), piece) if place % 2 else (-1, piece) for place, piece in enumerate(pieces)], fault


_MOST_TOLD = 100
"""Faults that are told one by one: nobody reads more of them, and where there are more, one reason is behind most."""


class ProblemgenError(Exception):
    """The root of every error that a user's input can cause."""


class FaultsError(ProblemgenError):
    """Faults in files, collected and shown together."""

    def __init__(self, faults: tuple[Fault, ...] | list[Fault]) -> None:
        """Keep the faults, in the order of file and key (line 2 before line 10), each once; of very many the first."""
        told = sorted(set(faults), key=_in_order)
        if len(told) > _MOST_TOLD:
            left = {fault.file for fault in told[_MOST_TOLD:]}
            more = f"{len(told) - _MOST_TOLD:,} more faults"
            last = Fault(left.pop() if len(left) == 1 else "", "", more, "none", "Mend the first ones, and try again.")
            told[_MOST_TOLD:] = [last]
        self.faults = tuple(told)
        super().__init__("\n".join(str(fault) for fault in self.faults))

    def of_file(self, file: str, called: str) -> FaultsError:
        """The same faults, those of a file under the name that who reads them knows it by."""
        return FaultsError([replace(one, file=called) if one.file == file else one for one in self.faults])

    def __reduce__(self) -> tuple[type[FaultsError], tuple[tuple[Fault, ...]]]:
        """How it goes from one process to another: with its faults, not with their text."""
        return type(self), (self.faults,)


class NumberError(ProblemgenError):
    """Text that is not a number in the notation asked for."""


class FormulaError(ProblemgenError):
    """Text that is not a chemical formula; `position` counts characters from 0."""

    def __init__(self, text: str, position: int, reason: str) -> None:
        """Keep the text, the position and the reason."""
        self.text, self.position, self.reason = text, position, reason
        super().__init__(f"formula {text!r}, character {position + 1}: {reason}")


class EquationError(ProblemgenError):
    """Text that is not a chemical equation, or one that has no balance."""


class UnbalancedError(EquationError):
    """An equation whose coefficients do not balance."""


class ImpossibleError(EquationError):
    """An equation that no positive coefficients balance."""


class UnderdeterminedError(EquationError):
    """An equation that several independent sets of coefficients balance."""


class CitationError(ProblemgenError):
    """Text that is not a citation of sources."""


class UnitError(ProblemgenError):
    """A unit that is not in the closed list."""


class DimensionError(ProblemgenError):
    """A unit of the wrong dimension for its quantity."""


class UnderivableError(ProblemgenError):
    """What is asked cannot be derived from what is given."""


class NoRoomError(ProblemgenError):
    """A template whose ranges leave too few admissible variants."""


class OutputError(ProblemgenError):
    """An output that cannot be written, or that would overwrite another."""
