"""Whether a published answer is right: the same reading and judging as for a student's answer."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from fractions import Fraction

from problemgen.grade.judging.judge import judge_of
from problemgen.grade.judging.paper import Paper
from problemgen.grade.reading.choices import ChoiceOption, read_choice
from problemgen.model.answers import PartKey, ProblemKey, TemplateKey
from problemgen.model.fixed import Datum
from problemgen.model.plan import Plan
from problemgen.model.policy import Policy
from problemgen.model.problem import Asked, Scene, Species
from problemgen.model.truths import ChoiceTruth, Truth

__all__ = ["accepts", "accepts_choice"]


def accepts(plan: Plan, scene: Scene, given: Mapping[str, Datum], asked: Asked, truth: Truth, wrote: str) -> bool:
    """Whether an answer is right by itself: in a set that leaves all policies as they are, with no other part.

    Whatever led to a wrong answer, it is not right: no usual mistake is looked for.
    """
    part = PartKey(id="01", label="a", asked=asked, points=Fraction(1), prompt=(), session=1)
    worked = replace(plan, mistakes=())
    template = TemplateKey(id="", title="", plan=worked, parts=(part,), scene=scene, told=())
    problem = ProblemKey(problem="p1", template=template.id, given=given, truths={part.id: truth})
    paper = Paper(template, problem, Policy(), ".")
    return judge_of(asked)(paper, part, truth, wrote).verdict == "right"


def accepts_choice(options: Iterable[Species], truth: ChoiceTruth, wrote: str) -> bool:
    """Whether an answer to a ranking names the right one of the species compared, by its name or its formula."""
    read = read_choice(
        wrote,
        [
            ChoiceOption(one.id, tuple(dict.fromkeys((one.name, one.id))), one.formula.text if one.formula else "")
            for one in options
        ],
    )
    return read.id is not None and read.id in (truth.choice, *truth.also)
