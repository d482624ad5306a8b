"""The worked solution of a feedback page: the student's own numbers, and the step that went wrong pointed at."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from problemgen.language.messages import N_, NN_, _, ngettext
from problemgen.language.numbers import listed
from problemgen.model.answers import ProblemKey, TemplateKey
from problemgen.model.blocks import Block, Flagged, Line, Prose, Scheme, SchemeItem, Strong
from problemgen.model.lines import filled
from problemgen.model.problem import FurtherEquation
from problemgen.model.problem_set import Method
from problemgen.model.quantity import Quantity
from problemgen.model.verdict import PartResult
from problemgen.plan.answering import datum_windows
from problemgen.plan.arithmetic import Exact
from problemgen.plan.evaluate import window_values
from problemgen.plan.forms import form_of
from problemgen.plan.partial import as_far_as_known
from problemgen.render.words.symbols import symbol
from problemgen.render.worked.printed import Numbers
from problemgen.render.worked.solution import SolvedPart, WorkedPart, WorkedStep, rounding_note, worked_solution

__all__ = ["SolvedProblem", "solved_problem"]

_COMPARE = N_("compare this step with yours.")
# Translators: what is said of a step in a part of the answers: "Here 1b and 1c went wrong: compare this step ..."
_WENT_WRONG = NN_("Here {parts} went wrong: ", "Here {parts} went wrong: ")
_SLIPPED = NN_("Here {parts} slipped: ", "Here {parts} slipped: ")
_ROUNDED = NN_("Here {parts} was rounded too much: ", "Here {parts} was rounded too much: ")
_POINTED_AT = {
    "mistake": (_WENT_WRONG, _COMPARE),
    "slip": (
        _SLIPPED,
        N_("the digits are right, the power of ten or the sign is not. Look at the units in this step."),
    ),
    "rounded": (_ROUNDED, N_("the way is right. Keep more figures until the end.")),
    "wrong": (_WENT_WRONG, _COMPARE),
}
"""What is said at the step that went wrong, by verdict. An answer that follows from a wrong one was paid for before."""
_TOLD_IN_WORDS = 2
"""Right answers that are told by their quantities; more of them by their labels: the sentence would get too long."""
_HERE_OR_BEFORE = N_("compare this step, and those that lead to it, line by line with yours.")


def _labels(results: Iterable[PartResult]) -> Iterator[str]:
    return (one.label for one in results)


@dataclass(frozen=True)
class SolvedProblem:
    """One student's problem, worked out."""

    template: TemplateKey
    worked: tuple[WorkedPart, ...]

    @cached_property
    def _told(self) -> tuple[str, ...]:
        """The quantities, by id, for which something is told, in order."""
        return tuple(step.quantity for part in self.worked for step in part.steps if step.quantity and step.blocks)

    def place(self, name: str) -> str:
        """The quantity, by id, at which the solution tells of another: itself, or the first one that needs it."""
        if name in self._told:
            return name
        plan = self.template.plan
        return next((one for one in self._told if any(step.quantity.id == name for step in plan.steps_to(one))), "")

    def places(self, result: PartResult) -> tuple[str, ...]:
        """Where a part went wrong, as quantities that the solution tells of; () where it did not."""
        if result.verdict not in _POINTED_AT:
            return ()
        own = self._asked(result.part)
        leading = {step.quantity.id for step in self.template.plan.steps_to(own.id)} | {own.id}
        names = [name for name in result.at if name in leading]
        if not names or result.verdict == "wrong":  # of a wrong answer it is only known that a step on the way is wrong
            names = [own.id]
        return tuple(dict.fromkeys(place for name in names if (place := self.place(name))))

    def looked_at(self, result: PartResult) -> Line:
        """Which step to look at, where it is not the asked one itself; () for none."""
        own = self.place(self._asked(result.part).id)
        places = [place for place in self.places(result) if place != own]
        if not places or not result.mistakes:
            return ()
        scene, quantity = self.template.scene, self._quantities[places[0]]
        told = _("The step to look at: the {quantity}, {symbol}.")
        return filled(told, quantity=scene.words_of(quantity), symbol=(symbol(scene, quantity),))

    @property
    def opening(self) -> Iterator[Block]:
        """What is said once, above the first part: the equations, and how the working is rounded."""
        yield from self._schemes()
        if self.template.plan.given:
            yield rounding_note()

    def working(self, results: Sequence[PartResult]) -> Mapping[str, tuple[Block, ...]]:
        """The working of each part, by the part's id, with a flag on each step that went wrong.

        `results` are those of all parts of the problem: a step is told, and flagged, in the first part that needs it.
        """
        flags = self._flags(results)
        return {
            part.id: tuple(b for step in part.steps for b in _flagged(step, flags))
            for part in self.worked
            if part.blocks
        }

    def _asked(self, part: str) -> Quantity:
        return next(one.asked.quantity for one in self.template.parts if one.id == part)

    @cached_property
    def _quantities(self) -> Mapping[str, Quantity]:
        plan = self.template.plan
        asked = (part.asked.quantity for part in self.template.parts)
        return {q.id: q for q in (*plan.given, *(step.quantity for step in plan.steps), *asked)}

    def _flags(self, results: Sequence[PartResult]) -> dict[str, tuple[Line, ...]]:
        """What is said at each step that went wrong, behind the labels of the parts that it is about."""
        said: dict[str, dict[tuple[tuple[str, str], str], list[str]]] = {}
        right = {self._asked(one.part).id: one for one in results if one.verdict == "right"}
        for result in results:
            for place in self.places(result):
                key = (_POINTED_AT[result.verdict][0], self._words(result, place, right))
                said.setdefault(place, {}).setdefault(key, []).append(result.label)
        return {
            place: tuple(
                (Strong(ngettext(*what, len(labels)).format(parts=listed(labels))), Prose(words))
                for (what, words), labels in one.items()
            )
            for place, one in said.items()
        }

    def _words(self, result: PartResult, place: str, right: Mapping[str, PartResult]) -> str:
        titles = [
            _(mistake.title)
            for mistake in self.template.plan.mistakes
            if mistake.id in result.mistakes and any(self.place(name) == place for name, _ in mistake.rewrites)
        ]
        if not titles and len(result.titles) == 1:  # what follows from the step's algebra stands in no list of the plan
            titles = [_(title) for title in result.titles]
        if titles:
            # Translators: stands behind "Here 1b went wrong: "; the names of mistakes have "or" between them.
            return _("it looks like {mistakes}.").format(mistakes=f", {_('or')} ".join(dict.fromkeys(titles)))
        if result.verdict != "wrong":
            return _(_POINTED_AT[result.verdict][1])
        several = len({self.place(name) for name in result.at}) > 1
        return self._known(result, right) + _(_HERE_OR_BEFORE if several else _COMPARE)

    def _known(self, result: PartResult, right: Mapping[str, PartResult]) -> str:
        """What a wrong answer builds on and was answered rightly: "the amount of X is right, the mass of Y is not: ".

        `right` are the results of right parts, by the id of what they ask.
        """
        steps = [step for step in self.template.plan.steps if step.quantity.id in result.at]
        needed = frozenset[str]().union(*(step.needs for step in steps)) - {*result.at}
        known = {name: one for name, one in right.items() if name in needed}
        if not known or not self._has_number(result):
            return ""
        is_told = len(known) <= _TOLD_IN_WORDS and all(map(self._has_number, known.values()))
        the = _("the {quantity}")
        told = [the.format(quantity=self._words_of(one)) for one in known] if is_told else [*_labels(known.values())]
        words = ngettext(
            "{known} is right, the {quantity} is not: ", "{known} are right, the {quantity} is not: ", len(known)
        )
        return words.format(known=listed(told), quantity=self._words_of(self._asked(result.part).id))

    def _has_number(self, result: PartResult) -> bool:
        return form_of(next(one.asked for one in self.template.parts if one.id == result.part)).has_window

    def _words_of(self, name: str) -> str:
        return self.template.scene.words_of(self._quantities[name])

    def _schemes(self) -> Iterable[Scheme]:
        """The equations with their coefficients, unless they are what is asked."""
        if any(form_of(part.asked).hides_coefficients for part in self.template.parts):
            return
        for equation in (self.template.scene.main, *self.template.scene.further):
            if equation.coefficients:
                yield from self._scheme(equation)

    def _scheme(self, equation: FurtherEquation) -> Iterable[Scheme]:
        species = self.template.scene.species
        if any(species[name].formula is None for name in equation.coefficients):
            return
        items = {
            sign: tuple(
                SchemeItem(sign * nu, formula.text, species[name].name)
                for name, nu in equation.coefficients.items()
                if sign * nu > 0 and (formula := species[name].formula) is not None
            )
            for sign in (-1, 1)
        }
        yield Scheme(items[-1], items[1], "", "", alt="", drawn=False)


def solved_problem(template: TemplateKey, problem: ProblemKey, method: Method) -> SolvedProblem | None:
    """A student's problem worked out in the way that the class is taught; None where given values are missing.

    What rests on a student's own data is left out where these are missing.
    """
    template = as_far_as_known(template, problem)
    known = [part for part in template.parts if part.id in problem.truths]
    if not known or any(quantity.id not in problem.given for quantity in template.plan.given):
        return None
    number = problem.problem.removeprefix("p")
    parts = [SolvedPart(part.id, f"{number}{part.label}", part.asked) for part in known]
    numbers = _numbers(template, problem)
    return SolvedProblem(template, worked_solution(template.scene, template.plan, parts, numbers, method))


def _numbers(template: TemplateKey, problem: ProblemKey) -> Numbers:
    windows = window_values(template.plan, datum_windows(problem.given), Exact())
    return Numbers(
        values={name: window.value for name, window in windows.items()},
        data={name: (datum.written.text, datum.unit) for name, datum in problem.given.items()},
        figures={name: window.figures for name, window in windows.items()},
        endings={
            part.id: form_of(part.asked).ending(part.asked, problem.truths[part.id])
            for part in template.parts
            if part.id in problem.truths
        },
    )


def _flagged(step: WorkedStep, flags: dict[str, tuple[Line, ...]]) -> Iterable[Block]:
    """A step's blocks, in one flagged block where there is something to say, which is said once."""
    lines = flags.pop(step.quantity, ()) if step.blocks else ()
    return (Flagged(lines, step.blocks),) if lines else step.blocks
