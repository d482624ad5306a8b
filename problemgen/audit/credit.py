"""Whether credit falls with the distance from the key, and what numbers written at random are given."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations

from problemgen.audit.calculators import Digits, as_decimal
from problemgen.audit.marked import Marking
from problemgen.audit.records import Credit
from problemgen.make.draws import draw_numbers, shares
from problemgen.model.template import Part
from problemgen.model.truths import NumberTruth
from problemgen.model.variant import Variant
from problemgen.model.verdict import PartResult
from problemgen.plan.forms import form_of

__all__ = ["FIGURES", "GUESSES", "random_numbers", "upside_down"]

FIGURES = (2, 3, 4, 5)
"""The figures with which a key is written, rounded and cut."""

GUESSES = 8
"""Random numbers a part and student."""

_NEAR = Fraction(5, 100)
"""A random number so near to the key, relatively, is no wrong one: windows of data with two figures reach 8 %."""

_WRITTEN = 4  # the figures of a random number: enough that it is not read as a rounded one


def upside_down(marking: Marking, row: int, variant: Variant) -> Credit:
    """In how many parts a number nearer to the key earns less than one farther off, all parts before being right."""
    upside = compared = 0
    for part, truth in _numbers(variant):
        earned = [
            (abs(Fraction(text) - truth.value), _mark(marking, row, variant, part, text).points)
            for text in _spellings(truth.value)
        ]
        compared += 1
        upside += any((one[0] - other[0]) * (one[1] - other[1]) > 0 for one, other in combinations(earned, 2))
    return Credit(compared=compared, upside_down=upside)


def random_numbers(marking: Marking, row: int, variant: Variant, seed_words: str) -> Credit:
    """How many random wrong numbers, from a tenth of the key to ten times it, are named or paid."""
    made = named = paid = 0
    for part, truth in _numbers(variant):
        drawn = draw_numbers(seed_words.encode(), ("guesses", variant.template.id, part.id, str(row)), GUESSES)
        for share in shares(drawn).tolist():
            text = _rounded(truth.value * Fraction(10 ** (2 * share - 1)), _WRITTEN)
            if abs(Fraction(text) - truth.value) > _NEAR * abs(truth.value):
                result = _mark(marking, row, variant, part, text)
                made += 1
                named += result.verdict == "mistake"
                paid += result.points > 0
    return Credit(guesses=made, guesses_named=named, guesses_paid=paid)


def _numbers(variant: Variant) -> Iterator[tuple[Part, NumberTruth]]:
    for part, truth in zip(variant.template.parts, variant.answers, strict=True):
        if isinstance(truth, NumberTruth) and truth.value:
            yield part, truth


def _mark(marking: Marking, row: int, variant: Variant, part: Part, text: str) -> PartResult:
    """What one answer is given where all parts before it are right, and those behind it blank."""
    answers = dict.fromkeys((one.id for one in variant.template.parts), "")
    for one, truth in zip(variant.template.parts, variant.answers, strict=True):
        if one.id == part.id:
            answers[one.id] = text if one.asked.unit == "1" else f"{text} {one.asked.unit}"
            break
        answers[one.id] = form_of(one.asked).text(variant.template.scene, one.asked, truth)
    return marking.mark(row, answers)[part.id]


def _spellings(value: Fraction) -> list[str]:
    """A number with more and fewer figures, rounded and cut, each but once."""
    digits, number = Digits(), as_decimal(value)
    places = [digits.leading(number) - figures + 1 for figures in FIGURES]
    cut = [f"{digits.cut(number, place)}" for place in places]
    return list(dict.fromkeys([*cut, *(_rounded(value, figures) for figures in FIGURES)]))


def _rounded(value: Fraction, figures: int) -> str:
    digits, number = Digits(), as_decimal(value)
    return f"{digits.to_place(number, digits.leading(number) - figures + 1, False)}"
