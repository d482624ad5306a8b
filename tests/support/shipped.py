"""Every shipped template, loaded once a process, as a set of one problem with one student's variant."""

from __future__ import annotations

from functools import cache

from problemgen.load.sets.courses import template_ids
from problemgen.load.templates.template import load_template
from problemgen.model.policy import Policy
from problemgen.model.problem_set import ProblemSet, SetProblem, Sheet
from problemgen.model.template import Template
from problemgen.model.variant import Variant
from tests.support.small_set import ROOT, banks, made

__all__ = ["NAMES", "PATHS", "set_of", "shipped", "variant_of"]

PATHS = {**template_ids(ROOT / "templates"), **template_ids(ROOT / "tests" / "support" / "templates")}
"""Those that come with the program, and those of the tests, by id."""

NAMES = sorted(PATHS)


@cache
def shipped(name: str) -> Template:
    return load_template(PATHS[name], name, banks())


@cache
def set_of(name: str) -> ProblemSet:
    """The set with this template alone, a sheet for each of its sessions."""
    template = shipped(name)
    sheets = tuple(Sheet(n, f"Sheet {n}") for n in range(1, template.sessions + 1))
    rules: Policy = Policy()
    problems = (SetProblem("p1", template.id, (template,)),)
    return ProblemSet("shipped", "S", "C", "", "en", "a4", ".", sheets, problems, rules, None)


@cache
def variant_of(name: str) -> Variant:
    """The first candidate of student s1, admissible or not."""
    (variant,) = made(set_of(name), "s1")
    return variant
