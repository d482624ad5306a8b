"""Reading answers, against `float` on the bare numbers; and the cost of a character as texts grow."""

from __future__ import annotations

from collections.abc import Callable

from bench_table import best_of, note, print_table, times

from problemgen.chemistry.units import read_unit
from problemgen.grade.reading.cell import read_answer
from problemgen.grade.reading.choices import ChoiceOption, read_choice
from problemgen.grade.reading.spelling import LONGEST

__all__ = ["cells"]

CELLS = 2_000
LENGTHS = (10, 100, LONGEST, 1_000)
_GRAMS = read_unit("g")
_OPTIONS = (
    ChoiceOption("magnesium", ("magnesium",), "Mg"),
    ChoiceOption("bromobenzene", ("bromobenzene", "phenyl bromide"), "C6H5Br"),
)
_USUAL: dict[str, Callable[[int], str]] = {
    "3.95 g": lambda turn: f"{turn}.95 g",
    "3,95": lambda turn: f"{turn},95",
    "m = 3.95 × 10⁻² kg": lambda turn: f"m = {turn}.95 × 10⁻² kg",
    "12 g CuSO4·5H2O": lambda turn: f"{turn}.2 g CuSO4·5H2O",
    "no idea": lambda turn: f"no idea {turn}",
}
_GROWING = {"1 (": "1 (", "1,": "1,", "=": "=", "1 g ": "1 g ", "a-": "a-", "C": "1 g C", "1=": "1=", "(((": "("}


def cells() -> None:
    """Print the figures of reading single cells."""
    numbers = [f"{turn}.95" for turn in range(CELLS)]
    bare, _ = best_of(lambda: [float(number) for number in numbers])
    rows = [("bare: float of the number", f"{CELLS / bare:,.0f}", "")]
    for shown, cell in _USUAL.items():
        texts = [cell(turn) for turn in range(CELLS)]
        spent = _seconds(texts)
        rows.append((f"read_answer {shown!r}", f"{CELLS / spent:,.0f}", times(spent / bare)))
    choices = [f"magnesum {'is limiting' * (turn % 2)}" for turn in range(CELLS)]
    spent, _ = best_of(lambda: [read_choice(choice, _OPTIONS) for choice in choices], 3)
    rows.append(("read_choice 'magnesum is limiting'", f"{CELLS / spent:,.0f}", times(spent / bare)))
    print_table("Cells", ("", "cells/s", "ratio"), rows)
    _print_growth()


def _print_growth() -> None:
    """Nanoseconds a character of hostile texts, by length."""
    rows = []
    for shown, piece in _GROWING.items():
        costs = [_nanoseconds(piece, length) for length in LENGTHS]
        rows.append((f"{shown!r} again and again", *(f"{cost:,.0f}" for cost in costs)))
    print_table("Nanoseconds a character", ("characters", *map(str, LENGTHS)), rows)
    note(f"Linear where a row does not grow. Beyond {LONGEST} characters a text is refused for its length.")


def _nanoseconds(piece: str, length: int) -> float:
    texts = [(piece * length)[: length - 3] + f"{turn:03}" for turn in range(200)]
    return _seconds(texts) * 1e9 / (len(texts) * length)


def _seconds(texts: list[str]) -> float:
    """How long all of the texts take."""
    return best_of(lambda: [read_answer(text, _GRAMS) for text in texts], 3)[0]
