"""Equations to balance: everybody has the same one, and each way to write it down is tried once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

from problemgen.audit.marked import PROBLEM, Marking, marking_of
from problemgen.audit.records import Marked, Sort, TemplateAudit
from problemgen.chemistry.equation import Equation, Term, read_equation, same_equation
from problemgen.make.candidates import Stream, draw_candidates
from problemgen.make.variants import variant_from
from problemgen.model.template import Template
from problemgen.plan.forms import form_of

__all__ = ["audited_equation"]


def audited_equation(template: Template) -> TemplateAudit:
    """The audit of a template that asks for a balanced equation.

    Honest: as it stands, the substances in another order, all coefficients doubled. Mistaken: one coefficient one too
    high, alone and in pairs. A pair that doubles all coefficients is balanced, and left out.
    """
    candidates = draw_candidates(template, Stream(b"audit", "audit", template.id), [""], 0, 1)
    variant = variant_from(template, candidates, 0, "", PROBLEM)
    (part,) = template.parts
    right = read_equation(form_of(part.asked).text(template.scene, part.asked, variant.answers[0]))
    with marking_of(template, [variant]) as marking:
        honest = [_verdict(marking, part.id, one) for one in _honest(right)]
        terms = range(len(right.left) + len(right.right))
        mistaken = [_mistaken(right, places) for n in (1, 2) for places in combinations(terms, n)]
        verdicts = Counter(_verdict(marking, part.id, one) for one in mistaken if not same_equation(one, right))
    rewarded, named = verdicts.pop("right", 0), verdicts.pop("mistake", 0)
    made = rewarded + named + verdicts.total()
    sort = Sort("coefficient", made=made, rewarded=rewarded, rightly=named, unnamed=made - named)
    refused = len(honest) - honest.count("right")
    marked = Marked(len(honest), refused=refused, sorts=(sort,), unnamed=dict(verdicts))
    return TemplateAudit(template.id, students=len(honest), marked=marked)


def _verdict(marking: Marking, part: str, equation: Equation) -> str:
    return marking.mark(0, {part: equation.text})[part].verdict


def _honest(right: Equation) -> Iterator[Equation]:
    yield right
    yield Equation(right.left[::-1], right.right[::-1])
    yield Equation(_doubled(right.left), _doubled(right.right))


def _doubled(side: tuple[Term, ...]) -> tuple[Term, ...]:
    return tuple(replace(term, coefficient=2 * term.coefficient) for term in side)


def _mistaken(right: Equation, places: tuple[int, ...]) -> Equation:
    """The equation with the coefficients at some places one too high."""
    terms = [
        replace(term, coefficient=term.coefficient + (place in places))
        for place, term in enumerate((*right.left, *right.right))
    ]
    return Equation(tuple(terms[: len(right.left)]), tuple(terms[len(right.left) :]))
