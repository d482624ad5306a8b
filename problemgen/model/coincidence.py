"""Answers of one student that are right for the numbers of another."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["Coincidence", "Person"]


@dataclass(frozen=True)
class Person:
    """A student as the instructor's tables name them, and the attempt that is spoken of."""

    student: str
    name: str
    section: str
    attempt: int = 1


@dataclass(frozen=True)
class Coincidence:
    """What was found about two students.

    `parts` are the labels of the answers that are wrong for the one who gave them and right for `other`. `counted` are
    those among them that rest on different given numbers, so that each is a coincidence of its own. `fits_all` tells
    whether every number that was answered is right for `other`, in the problems that both have alike. `expected` is how
    many such coincidences, or less likely ones, chance alone brings about in a class like this one.
    """

    person: Person
    other: Person
    parts: tuple[str, ...]
    counted: tuple[str, ...]
    fits_all: bool
    expected: float
