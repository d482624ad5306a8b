"""Every template that comes with the program, on two thousand variants: no usual mistake is rewarded, nobody who
works honestly is refused, and the windows are narrow. Floats decide what is clear; all the rest is worked exactly.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from statistics import median
from typing import Any

import numpy as np

from problemgen.chemistry.units import read_unit
from problemgen.make.candidates import Stream, draw_candidates
from problemgen.make.variants import variant_from
from problemgen.model.expression import Expression, names_in
from problemgen.model.plan import Mistake, Step
from problemgen.model.quantity import Quantity
from problemgen.model.truths import ChoiceTruth, NumberTruth
from problemgen.model.variant import Variant
from problemgen.plan.arithmetic import Exact
from problemgen.plan.batch import Batch
from problemgen.plan.evaluate import evaluate
from problemgen.plan.laws import LAWS_BY_ID
from tests.support.contract import Made, owed_by
from tests.support.every_row import for_every
from tests.support.honest_worker import HonestWorker
from tests.support.shipped import NAMES, shipped

EXACT, BATCH = Exact(), Batch()

WIDEST = Fraction(3, 100)
"""The widest half-width of a window of three figures or more, relative to the answer."""

USUAL = 0.02
"""What the half-width of such a window is below, as a rule."""

NEARLY = Fraction(4, 100)
"""How near a mistaken step may come to the right one to make no odds; formulas lie farther apart."""

CLEAR = 1e-6
"""How far outside a window a float shows a mistake, relative to the bound: its own error is a billion times less, and
of a window that is narrower than a small difference of large numbers, a thousand times."""

CONTINUOUS = frozenset({"num", "mul", "div", "add", "neg", "pow", "min", "max"})
"""Operations of which a float's error stays small; rounding to a whole number may go the other way."""

Bounds = dict[str, tuple[Fraction, Fraction]]
Columns = dict[str, Any]


def taken_for_limiting(variant: Variant, values: Mapping[str, Fraction]) -> str:
    """The reagent whose extent a worker took for the reaction's."""
    extent = values[Quantity("extent", "").id]
    sources = variant.template.plan.sources
    return min(sources, key=lambda source: abs(values[Quantity("extent", source).id] - extent))


def bounds_of(variant: Variant) -> Bounds:
    """The windows of all parts that have one, in engine units, by quantity."""
    found = {}
    for part, answer in zip(variant.template.parts, variant.answers, strict=True):
        name = part.asked.quantity.id
        if isinstance(answer, NumberTruth):
            unit = read_unit(part.asked.unit)
            found[name] = (unit.to_engine(answer.low), unit.to_engine(answer.high))
        elif part.asked.form == "formula":
            found[name] = (variant.values[name], variant.values[name])
    return found


def is_rewarded(variant: Variant, bounds: Bounds, mistake: Mistake, steps: tuple[Step, ...]) -> bool:
    """Whether no part shows a mistake: `steps` are those that it changes, worked up to the first that shows it."""
    rewrites, wrong = dict(mistake.rewrites), dict(variant.values)
    for step in steps:
        name = step.quantity.id
        try:
            wrong[name] = evaluate(rewrites.get(name, step.expression), wrong, EXACT)
        except ZeroDivisionError:
            return False  # no answer at all
        if name in bounds and not bounds[name][0] <= wrong[name] <= bounds[name][1]:
            return False
    if makes_no_odds(variant, mistake, wrong):
        return False
    choices = [answer.choice for answer in variant.answers if isinstance(answer, ChoiceTruth)]
    return all(taken_for_limiting(variant, wrong) == choice for choice in choices)


def makes_no_odds(variant: Variant, mistake: Mistake, wrong: Mapping[str, Fraction]) -> bool:
    """Whether the step comes out nearly as it should: a density of 1.00 g/mL may be forgotten."""
    steps = [(wrong[name], variant.values[name]) for name, _ in mistake.rewrites]
    return mistake.harmless and all(abs(one - right) <= NEARLY * abs(right) for one, right in steps)


def refused(variant: Variant, worker: HonestWorker) -> list[str]:
    """The parts in which an honest worker's answer is refused."""
    answers = worker.answers(variant.template.plan, variant.given)
    told = []
    for part, answer in zip(variant.template.parts, variant.answers, strict=True):
        name = part.asked.quantity.id
        if isinstance(answer, NumberTruth) and not answer.low <= Fraction(answers[name]) <= answer.high:
            told.append(f"{name}: {answers[name]} outside {float(answer.low)!r} to {float(answer.high)!r}")
        if part.asked.form == "formula" and abs(Fraction(answers[name]) / variant.values[name] - 1) > NEARLY:
            told.append(f"{name}: another formula, of {answers[name]} g/mol")
    return told


def test_no_two_variants_are_alike(made: Made) -> None:
    variants = made.all_variants
    alike = {tuple(sorted((name, datum.written.text) for name, datum in v.given.items())) for v in variants}
    assert len(alike) == len(variants)


def is_continuous(expression: Expression) -> bool:
    if isinstance(expression, str) or expression[0] == "num":
        return True
    operands = expression[1:2] if expression[0] == "pow" else expression[1:]
    return expression[0] in CONTINUOUS and all(map(is_continuous, operands))


def surely_shown(values: Columns, bounds: Columns, mistake: Mistake, steps: Sequence[Step]) -> Any:
    """The variants in whose columns a mistake's answer lies far enough outside some window, worked in floats."""
    rewrites, wrong = dict(mistake.rewrites), dict(values)
    shown = np.zeros(len(next(iter(values.values()))), dtype=np.bool_)
    for step in steps:
        name = step.quantity.id
        expression = rewrites.get(name, step.expression)
        if shown.all() or not is_continuous(expression):
            break
        wrong[name] = evaluate(expression, wrong, BATCH)
        if name in bounds:
            low, high = bounds[name]
            shown |= (wrong[name] < low - CLEAR * abs(low)) | (wrong[name] > high + CLEAR * abs(high))
    return shown


def rewarded_among(variants: Sequence[Variant]) -> list[tuple[str, Variant]]:
    """The mistakes that variants of one template reward, with the variant."""
    plan, bounds = variants[0].template.plan, [bounds_of(variant) for variant in variants]
    columns = {name: np.array([float(one.values[name]) for one in variants]) for name in variants[0].values}
    windows = {name: [np.array([float(one[name][i]) for one in bounds]) for i in (0, 1)] for name in bounds[0]}
    found = []
    for mistake in plan.mistakes:
        steps = plan.stale(name for name, _ in mistake.rewrites)
        with np.errstate(all="ignore"):
            doubtful = np.flatnonzero(~surely_shown(columns, windows, mistake, steps))
        found += [(mistake.id, variants[i]) for i in doubtful if is_rewarded(variants[i], bounds[i], mistake, steps)]
    return found


def test_no_variant_rewards_a_mistake(made: Made) -> None:
    found = [(mistake, one) for mistake, one in rewarded_among(made.all_variants) if mistake in owed_by(one)]
    assert [(mistake, variant.given) for mistake, variant in found] == []


def test_with_numbers_drawn_blindly_mistakes_are_rewarded() -> None:
    """What the test above looks for is there to be found where nothing is turned away, in floats as in fractions."""
    template = shipped("yield/zinc-iodide")
    candidates = draw_candidates(template, Stream(b"blind", "blind", "p1"), ["s1"], 0, 300)
    variants = [variant_from(template, candidates, row, "s1", "p1") for row in range(300)]
    found = {(mistake, id(variant)) for mistake, variant in rewarded_among(variants)}
    exactly = {
        (one.id, id(variant))
        for variant in variants
        for one in template.plan.mistakes
        if is_rewarded(variant, bounds_of(variant), one, template.plan.stale(name for name, _ in one.rewrites))
    }
    assert found == exactly
    assert len(found) > 20


def test_no_honest_worker_is_refused(made: Made) -> None:
    for seed, variant in enumerate(made.all_variants):
        assert refused(variant, HonestWorker(seed)) == [], variant.given


def half_width(answer: NumberTruth) -> Fraction:
    return (answer.high - answer.low) / 2 / abs(answer.value)


def measured(made: Made) -> Iterator[tuple[float, NumberTruth]]:
    """The answers of three figures or more with the half-widths of their windows, relative to the answer."""
    for variant in made.all_variants:
        for answer in variant.answers:
            if isinstance(answer, NumberTruth) and answer.figures >= 3:
                value = float(answer.value)
                yield (float(answer.high) - float(answer.low)) / 2 / abs(value), answer


def test_windows_are_narrow(made: Made) -> None:
    widths = list(measured(made))
    if widths:
        _, widest = max(widths, key=lambda one: one[0])
        assert half_width(widest) <= WIDEST
        assert median(width for width, _ in widths) <= USUAL


@for_every(NAMES)
def test_a_plan_has_words_for_every_step_and_no_step_too_many(name: str) -> None:
    plan = shipped(name).plan
    assert [step for step in plan.steps if step.solved_for not in LAWS_BY_ID[step.law].words] == []
    assert {step for asked in plan.asked for step in plan.steps_to(asked.quantity.id)} == set(plan.steps)
    known = {quantity.id for quantity in plan.given} | {constant.quantity.id for constant in plan.constants}
    for step in plan.steps:
        assert known.issuperset(names_in(step.expression))
        known.add(step.quantity.id)
