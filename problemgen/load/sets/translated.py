"""A set in another language: the one that was loaded in; the same with its texts and its templates' in the language."""

from __future__ import annotations

from dataclasses import replace

from problemgen.language.messages import _, speaking
from problemgen.load.templates.translated import instruments_in, translated
from problemgen.model.banks import Banks
from problemgen.model.problem_set import ProblemSet, SetProblem
from problemgen.model.template import Template

__all__ = ["set_in"]


def set_in(problem_set: ProblemSet, language: str, banks: Banks) -> ProblemSet:
    """A set as it was loaded, with the texts of its files, in a language; problems share their templates as before.

    Raises LookupError for a language without a catalogue.
    """
    done: dict[int, Template] = {}
    instruments = instruments_in(language, banks)

    def problem(one: SetProblem) -> SetProblem:
        for template in one.templates:
            if id(template) not in done:
                done[id(template)] = translated(template, language, banks)
        own = (replace(value, instrument=instruments.get(value.instrument, value.instrument)) for value in one.own)
        return replace(one, templates=tuple(done[id(template)] for template in one.templates), own=tuple(own))

    with speaking(language):
        return replace(
            problem_set,
            language=language,
            title=_(problem_set.title),
            course=_(problem_set.course),
            sheets=tuple(replace(sheet, title=_(sheet.title)) for sheet in problem_set.sheets),
            problems=tuple(map(problem, problem_set.problems)),
        )
