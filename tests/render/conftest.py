"""Worked solutions under test: every printed line multiplied out again, every unit followed, every key met.

The check is independent of the writer: it reads the printed numbers and units of each line and computes.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction
from pathlib import Path
from typing import NamedTuple

import pytest

from problemgen.chemistry.units import read_unit
from problemgen.exact.digits import Written, read_written
from problemgen.load.banks.banks import load_banks
from problemgen.model.banks import Banks
from problemgen.model.blocks import Amount, Block, Calculation, Chemical, Paragraph, Prose, Ratio, Strong
from problemgen.model.plan import Plan
from problemgen.model.problem import Scene
from problemgen.model.problem_set import Method
from problemgen.model.quantity import Quantity
from problemgen.plan.arithmetic import Exact
from problemgen.plan.evaluate import window_values
from problemgen.plan.forms import form_of
from problemgen.plan.windows import given_window
from problemgen.render.worked.printed import Numbers
from problemgen.render.worked.solution import SolvedPart, WorkedPart, worked_solution
from tests.support.worked_values import exact_values

ROOT = Path(__file__).parents[2]
LABELS = "abcdefghijklmnopqrstuvwxyz"
Given = dict[Quantity, tuple[Written, str]]
Worked = tuple[WorkedPart, ...]


@pytest.fixture(scope="session")
def banks() -> Banks:
    return load_banks(ROOT / "banks")


@pytest.fixture(scope="session")
def checked() -> Callable[[Scene, Plan, Given, Method], Worked]:
    """Works a problem out and checks every line of it."""
    return check


def solved(
    scene: Scene, plan: Plan, given: Given, method: Method = "product"
) -> tuple[Numbers, tuple[WorkedPart, ...]]:
    base = Exact()
    windows = {q.id: given_window(w.value, w.place, read_unit(u), base, q.kind) for q, (w, u) in given.items()}
    windows = window_values(plan, windows, base)
    endings = {}
    for i, asked in enumerate(plan.asked):
        endings[str(i)] = form_of(asked).ending(asked, form_of(asked).answer(plan, scene, asked, windows))
    numbers = Numbers(
        values=exact_values(plan, {q.id: read_unit(u).to_engine(w.value) for q, (w, u) in given.items()}),
        data={q.id: (w.text, u) for q, (w, u) in given.items()},
        figures={name: window.figures for name, window in windows.items()},
        endings=endings,
    )
    parts = [SolvedPart(str(i), LABELS[i], asked) for i, asked in enumerate(plan.asked)]
    return numbers, worked_solution(scene, plan, parts, numbers, method)


class Span(NamedTuple):
    low: Fraction
    high: Fraction

    def times(self, other: Span) -> Span:
        corners = [a * b for a in self for b in other]
        return Span(min(corners), max(corners))

    def over(self, other: Span) -> Span:
        return self.times(Span(1 / other.high, 1 / other.low))

    def plus(self, other: Span) -> Span:
        return Span(self.low + other.low, self.high + other.high)

    def minus(self, other: Span) -> Span:
        return Span(self.low - other.high, self.high - other.low)


MOLAR = {"M": (("mol", 1), ("L", -1)), "mM": (("mmol", 1), ("L", -1))}
EXACT_NUMBERS = {"273.15", "459.67", "101.325"}


def span(text: str, exact: set[str]) -> Span:
    """A printed number as what it may stand for: exact, or within half a unit of its last digit."""
    inner = re.fullmatch(r"\((\S+)(?: × 9/5)? ([+−]) (\S+)\)( × 5/9)?", text)
    if inner:
        a, b = span(inner[1], exact), span(inner[3], exact)
        a = a.times(Span(Fraction(9, 5), Fraction(9, 5))) if "9/5" in text else a
        both = a.plus(b) if inner[2] == "+" else a.minus(b)
        return both.times(Span(Fraction(5, 9), Fraction(5, 9))) if inner[4] else both
    written = read_written(text)
    known = text in exact | EXACT_NUMBERS or re.fullmatch(r"-?[0-9]{1,3}|10+|1e[0-9]+", text)
    zeros = len(text) - len(text.rstrip("0")) if text.isdigit() else 0  # of a rounded whole number they say nothing
    half = Fraction(0) if known else Fraction(10) ** (written.place + zeros) / 2
    return Span(written.value - half, written.value + half)


def in_engine(amount: Amount, exact: set[str]) -> Span:
    size = span(amount.number, exact)
    for piece in amount.unit:
        factor = read_unit(piece.text).factor ** piece.exponent
        size = size.times(Span(factor, factor))
    return size


def ratio_span(ratio: Ratio, exact: set[str]) -> Span:
    size = Span(Fraction(1), Fraction(1))
    for amount in ratio.top:
        size = size.times(in_engine(amount, exact))
    for amount in ratio.bottom:
        size = size.over(in_engine(amount, exact))
    return size


def groups_of(line: Calculation) -> Iterator[tuple[str, list[Ratio]]]:
    sign, group = "+", [line.terms[0]]
    for operator, term in zip(line.operators, line.terms[1:], strict=True):
        if operator == "×":
            group.append(term)
        else:
            yield sign, group
            sign, group = operator, [term]
    yield sign, group


def units_of(group: Sequence[Ratio], *, cancelled: bool) -> Counter[str]:
    powers: Counter[str] = Counter()
    for ratio in group:
        for side, amounts in ((1, ratio.top), (-1, ratio.bottom)):
            for piece in (p for a in amounts for p in a.unit if p.cancelled == cancelled):
                powers[piece.text] += side * piece.exponent
    return powers


def opened(amount: Amount) -> Counter[str]:
    powers: Counter[str] = Counter()
    for piece in amount.unit:
        for text, power in {"M": (("mol", 1), ("L", -1)), "mM": (("mmol", 1), ("L", -1))}.get(
            piece.text, ((piece.text, 1),)
        ):
            powers[text] += power * piece.exponent
    return powers


def check_line(line: Calculation, exact: set[str]) -> None:
    assert line.alt
    if not line.terms:
        return
    if line.symbol.letter == "M" and not line.relation:  # a sum of atomic weights, all of them exact
        exact = exact | {amount.number for ratio in line.terms for amount in ratio.top}
    total = Span(Fraction(0), Fraction(0))
    for sign, group in groups_of(line):
        assert not any(units_of(group, cancelled=True).values()), line
        kept = {unit: power for unit, power in units_of(group, cancelled=False).items() if power}
        assert kept == dict(opened(line.result)), line
        size = Span(Fraction(1), Fraction(1))
        for ratio in group:
            size = size.times(ratio_span(ratio, exact))
        total = total.plus(size) if sign == "+" else total.minus(size)
    result = in_engine(line.result, set())
    if re.fullmatch(r"-?[0-9]+", line.result.number):  # whole: rounded to the unit
        half = Fraction(1, 2) * (read_unit(line.result.unit[0].text).factor if line.result.unit else 1)
        result = Span(result.low - half, result.high + half)
    assert total.low <= result.high, line
    assert result.low <= total.high, line


def text_of(block: Block) -> str:
    assert isinstance(block, Paragraph)
    texts = (
        p.text if isinstance(p, Prose | Strong) else p.formula if isinstance(p, Chemical) else "?" for p in block.line
    )
    return "".join(texts)


def calculations(worked: Sequence[WorkedPart]) -> list[Calculation]:
    return [block for part in worked for block in part.blocks if isinstance(block, Calculation)]


def check(scene: Scene, plan: Plan, given: Given, method: Method) -> Worked:
    numbers, worked = solved(scene, plan, given, method)
    exact = {text for text, _ in numbers.data.values()}
    lines = calculations(worked)
    for line in lines:
        check_line(line, exact)
    heads = [(line.symbol, line.relation, line.terms) for line in lines if line.terms and line.relation]
    assert len(heads) == len(set(heads)), "a step stands twice"
    for part, asked in zip(worked, plan.asked, strict=True):
        last = part.blocks[-1]
        if asked.form == "species":
            assert text_of(last).endswith("is the limiting reagent.")
            continue
        if asked.form != "number":
            assert isinstance(last, Paragraph)
            assert last == numbers.endings[part.id].blocks[-1]
            continue
        assert isinstance(last, Calculation)
        ending = numbers.endings[part.id].number
        assert ending is not None
        number, unit = ending
        assert last.result.number == number
        assert tuple((p.text, p.exponent) for p in last.result.unit) == read_unit(unit).factors
    return worked
