"""Judging a choice: the limiting reagent, by the right numbers or by the student's own; any other by itself."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

from problemgen.grade.judging.findings import RIGHT, Finding
from problemgen.grade.judging.mistakes import mistakes_behind_choice
from problemgen.grade.judging.naming import named
from problemgen.grade.judging.paper import Paper
from problemgen.grade.reading.choices import ChoiceOption, ChoiceReading, read_choice
from problemgen.language.messages import N_, _
from problemgen.model.answers import PartKey
from problemgen.model.problem import Species
from problemgen.model.quantity import Quantity
from problemgen.model.truths import ChoiceTruth, TextTruth
from problemgen.model.verdict import PartResult
from problemgen.plan.forms import form_of
from problemgen.plan.paths import EXTENT

__all__ = ["judge_choice", "judge_option"]

_UNDECIDED = N_("By your own data the reagents are so close that either may be called the limiting one.")


def judge_choice(paper: Paper, part: PartKey, truth: ChoiceTruth, wrote: str) -> PartResult:
    """The result of a part that asks for a reagent."""
    species = paper.template.scene.species
    options = [_option(species[name]) for name in paper.template.plan.sources]
    reading = read_choice(wrote, options)
    if reading.id is None:
        return paper.result(part, wrote, "", _unread(reading))
    finding = _finding(paper, part, reading.id, truth)
    undecided = (_(_UNDECIDED),) if truth.also and finding.verdict == "right" else ()
    if finding.verdict != "right":
        _carry(paper, reading.id)
        paper.answer_known(part.asked.quantity)
    else:
        paper.right_parts[part.asked.quantity.id] = paper.label(part)
    paper.chosen = reading.id
    remarks = ((reading.reason,) if reading.reason else ()) + undecided
    return paper.result(part, wrote, species[reading.id].names[0], finding, remarks, doubt=reading.reason)


def judge_option(paper: Paper, part: PartKey, truth: TextTruth, wrote: str) -> PartResult:
    """The result of a part that asks for one of its options, from which nothing follows."""
    options = form_of(part.asked).options(paper.template.scene, paper.template.plan, part.asked)
    reading = read_choice(wrote, [ChoiceOption(option.id, (option.id,), "") for option in options])
    if reading.id is None:
        return paper.result(part, wrote, "", _unread(reading))
    remarks = (reading.reason,) if reading.reason else ()
    finding = RIGHT if reading.id == truth.text else Finding.not_right()
    return paper.result(part, wrote, reading.id, finding, remarks, doubt=reading.reason)


def _unread(reading: ChoiceReading) -> Finding:
    """The finding on a cell that names none of the options."""
    verdict = "blank" if reading.status == "blank" else "unread"
    return Finding(verdict, reading.status, reading.reason or _("No answer."), Fraction(0))


def _option(species: Species) -> ChoiceOption:
    return ChoiceOption(species.id, species.names, species.formula.text if species.formula else "")


def _finding(paper: Paper, part: PartKey, chosen: str, truth: ChoiceTruth) -> Finding:
    if chosen in (truth.choice, *truth.also):
        return RIGHT
    carried = _least_carried(paper) if paper.carried else ""
    if paper.carried:
        name = paper.template.scene.species[carried].names[0] if carried else ""
        why = _("{name} would limit").format(name=name) if carried else _("they cannot be worked with")
        paper.tried("follow-through", _("the student's own earlier answers"), why, fits=carried == chosen)
    if carried == chosen and paper.carried.keys() <= paper.accepted:
        return replace(RIGHT, reason="follows-accepted")
    if carried == chosen:
        sentence = _("This follows from your earlier answers, which were not all right.")
        return Finding("follows", "follow-through", sentence, paper.policy_of(part.asked).follow_through)
    mistakes = mistakes_behind_choice(paper, chosen)
    if mistakes:
        return named(paper, part.asked, mistakes)
    return Finding.not_right(_("Compare how much product each reagent could give."), paper.unconfirmed([EXTENT]))


def _least_carried(paper: Paper) -> str:
    """The reagent that limits by the student's own values; "" where they cannot be worked with."""
    carried = paper.carried_into(Quantity("extent", source).id for source in paper.template.plan.sources)
    if carried is None:
        return ""
    extents = paper.extents(carried)
    return min(extents, key=lambda source: extents[source])


def _carry(paper: Paper, chosen: str) -> None:
    """Go on with the reagent that was chosen."""
    extent = Quantity("extent", chosen).id
    carried = paper.carried_into([extent])
    if carried is not None:
        paper.carried[EXTENT] = carried[extent]
