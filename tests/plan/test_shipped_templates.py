"""Every template that comes with the program, on a thousand variants: no usual mistake is rewarded, nobody who
works honestly is refused, and the windows are narrow.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from statistics import median
from typing import Any

import pytest

from problemgen.chemistry.units import read_unit
from problemgen.load.banks import load_banks
from problemgen.load.templates import load_template
from problemgen.make.candidates import Stream
from problemgen.make.variants import Maker
from problemgen.model.expression import names_in
from problemgen.model.plan import Mistake
from problemgen.model.quantity import Quantity
from problemgen.model.variant import Answer, Variant
from problemgen.plan.arithmetic import Exact
from problemgen.plan.evaluate import mistaken_values
from problemgen.plan.laws import LAWS_BY_ID

ROOT = Path(__file__).parents[2]
TEMPLATES = sorted(
    path for path in (ROOT / "templates").rglob("*.toml") if not {"sets", "layouts"} & set(path.relative_to(ROOT).parts)
)
STUDENTS = [f"student {number}" for number in range(2000)]
EXACT = Exact()

WIDEST = Fraction(3, 100)
"""The widest half-width of a window of three figures or more, relative to the answer."""

USUAL = Fraction(2, 100)
"""What the half-width of such a window is below, as a rule."""

NEARLY = Fraction(4, 100)
"""How near a mistaken step may come to the right one to make no odds; formulas lie farther apart."""


def taken_for_limiting(variant: Variant, values: dict[str, Fraction]) -> str:
    """The reagent whose extent a worker took for the reaction's."""
    extent = values[Quantity("extent", "").id]
    sources = variant.template.plan.sources
    return min(sources, key=lambda source: abs(values[Quantity("extent", source).id] - extent))


Bounds = dict[str, tuple[Fraction, Fraction]]


def bounds_of(variant: Variant) -> Bounds:
    """The windows of all parts that have one, in engine units, by quantity."""
    found = {}
    for part, answer in zip(variant.template.parts, variant.answers, strict=True):
        if part.asked.form in ("number", "formula"):
            unit = read_unit(answer.unit)
            found[part.asked.quantity.id] = (unit.to_engine(answer.low), unit.to_engine(answer.high))
    return found


def shows(variant: Variant, bounds: Bounds, wrong: dict[str, Fraction]) -> bool:
    """Whether the answer of a worker who made a mistake is refused in at least one part."""
    for name, (low, high) in bounds.items():
        value = wrong[name]
        if value is not variant.values[name] and not low <= value <= high:
            return True
    choices = [answer.choice for answer in variant.answers if answer.choice]
    return any(taken_for_limiting(variant, wrong) != choice for choice in choices)


def after(variant: Variant, mistake: Mistake) -> dict[str, Fraction] | None:
    """All values after a mistake; None where it divides by zero and leads to no answer."""
    try:
        return mistaken_values(variant.template.plan, [mistake], dict(variant.values), EXACT)
    except ZeroDivisionError:
        return None


def makes_no_odds(variant: Variant, mistake: Mistake, wrong: dict[str, Fraction]) -> bool:
    """Whether the step comes out nearly as it should: a density of 1.00 g/mL may be forgotten."""
    steps = [(wrong[name], variant.values[name]) for name, _ in mistake.rewrites]
    return mistake.harmless and all(abs(one - right) <= NEARLY * abs(right) for one, right in steps)


def rewarded(variant: Variant) -> list[Mistake]:
    """The mistakes that no part of a variant shows."""
    hidden = []
    bounds = bounds_of(variant)
    for mistake in variant.template.plan.mistakes:
        wrong = after(variant, mistake)
        if wrong is None or makes_no_odds(variant, mistake, wrong):
            continue
        if not shows(variant, bounds, wrong):
            hidden.append(mistake)
    return hidden


def refused(variant: Variant, worker: Any) -> list[str]:
    """The parts in which an honest worker's answer is refused."""
    answers = worker.answers(variant.template.plan, variant.given)
    told = []
    for part, answer in zip(variant.template.parts, variant.answers, strict=True):
        name = part.asked.quantity.id
        if part.asked.form == "number" and not answer.low <= Fraction(answers[name]) <= answer.high:
            told.append(f"{name}: {answers[name]} outside {float(answer.low)!r} to {float(answer.high)!r}")
        if part.asked.form == "formula" and abs(Fraction(answers[name]) / answer.value - 1) > NEARLY:
            told.append(f"{name}: another formula, of {answers[name]} g/mol")
    return told


def half_width(answer: Answer) -> Fraction:
    return (answer.high - answer.low) / 2 / abs(answer.value)


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: path.stem)
def test_variants_reward_no_mistake_and_refuse_no_honest_worker(path: Path, honest_worker: Any) -> None:
    template = load_template(path, path.stem, load_banks(ROOT / "banks"))
    variants = list(Maker(template, Stream(b"shipped", "shipped templates", "1")).variants(STUDENTS))
    numbers = {tuple(sorted((name, datum.written.text) for name, datum in v.given.items())) for v in variants}
    assert len(numbers) == (len(STUDENTS) if template.is_drawn else 1)
    widths = []
    for seed, variant in enumerate(variants if template.is_drawn else variants[:1]):
        assert rewarded(variant) == [], variant.given
        assert refused(variant, honest_worker(seed)) == [], variant.given
        widths += [half_width(answer) for answer in variant.answers if answer.figures >= 3 and not answer.choice]
    assert max(widths, default=0) <= WIDEST
    assert not widths or median(widths) <= USUAL


@pytest.mark.parametrize("path", TEMPLATES, ids=lambda path: path.stem)
def test_a_plan_has_words_for_every_step_and_no_step_too_many(path: Path) -> None:
    plan = load_template(path, path.stem, load_banks(ROOT / "banks")).plan
    assert [step for step in plan.steps if step.solved_for not in LAWS_BY_ID[step.law].words] == []
    assert {step for asked in plan.asked for step in plan.steps_to(asked.quantity.id)} == set(plan.steps)
    known = {quantity.id for quantity in plan.given} | {constant.quantity.id for constant in plan.constants}
    for step in plan.steps:
        assert known.issuperset(names_in(step.expression))
        known.add(step.quantity.id)
