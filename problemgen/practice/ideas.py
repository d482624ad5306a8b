"""The ideas that a student practises: what the laws of a part's steps are about, in the order in which they are taught.

An idea is a file of laws or a few of them; the order is that of a first year's course. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from problemgen.language.messages import N_
from problemgen.model.plan import Plan, Step
from problemgen.model.problem import Asked
from problemgen.model.quantity import Role
from problemgen.plan.forms import form_of
from problemgen.plan.law import Law
from problemgen.plan.laws import (
    absorbance,
    aliquots,
    amounts,
    back_titrations,
    blanks,
    burettes,
    by_volume,
    contents,
    formulas,
    gas_mixtures,
    gas_states,
    gas_volumes,
    gases,
    green,
    heating,
    held,
    isomers,
    measures,
    mixtures,
    optics,
    pair_yields,
    purification,
    reactions,
    recrystallising,
    scaling,
    separation,
    sequences,
    signals,
    solutions,
    titrant_strengths,
    two_components,
    two_products,
    yields,
)

__all__ = ["IDEAS", "PageIdea", "ideas_of_part", "ideas_of_steps"]


@dataclass(frozen=True)
class PageIdea:
    """An idea: its key in records, what it is called on the page (a message), and the ids of its laws."""

    key: str
    title: str
    laws: frozenset[str]


def _of(*files: Sequence[Law]) -> frozenset[str]:
    return frozenset(law.id for laws in files for law in laws)


_LIMIT = frozenset({"limiting", "extent"})
_LEFT = frozenset({"left-over", "excess-left-over", "used-up", "mixture", "surplus"})
_DENSITY = frozenset({"density"})
_PERCENT = frozenset({"purity", "mass-percent", "solvent", "bottle", "between-concentrations"})
_DILUTION = frozenset({"dilution", "addition", "mixed-concentration"})
_BALANCING, _THEORY = "balancing", "theory"

IDEAS: tuple[PageIdea, ...] = (
    PageIdea("amount", N_("mass, molar mass and amount"), _of(amounts.LAWS) - _DENSITY - _PERCENT),
    PageIdea("density", N_("density: from a volume to a mass"), _DENSITY),
    PageIdea("concentration", N_("concentration of a solution"), _of(solutions.LAWS) - _PERCENT - _DILUTION),
    PageIdea("percent", N_("percent solutions and purity"), _PERCENT | _of(by_volume.LAWS, mixtures.LAWS, held.LAWS)),
    PageIdea("dilution", N_("diluting"), _DILUTION | _of(aliquots.LAWS)),
    PageIdea(_BALANCING, N_("balancing an equation"), frozenset()),
    PageIdea("ratio", N_("coefficients as a mole ratio"), _of(reactions.LAWS) - _LIMIT - _LEFT - _DILUTION),
    PageIdea("limit", N_("which reagent limits"), _LIMIT),
    PageIdea(_THEORY, N_("theoretical yield"), frozenset()),
    PageIdea("yield", N_("percent yield"), _of(yields.LAWS)),
    PageIdea("left", N_("what is left over"), _LEFT),
    PageIdea("formula", N_("formula and composition"), _of(formulas.LAWS, contents.LAWS, heating.LAWS)),
    PageIdea(
        "titration", N_("titration"),
        _of(burettes.LAWS, blanks.LAWS, back_titrations.LAWS, titrant_strengths.LAWS),
    ),
    PageIdea("gas", N_("gases"), _of(gases.LAWS, gas_states.LAWS, gas_volumes.LAWS, gas_mixtures.LAWS)),
    PageIdea(
        "planning", N_("planning: equivalents, scale, several steps"),
        (_of(measures.LAWS) - _LEFT) | _of(scaling.LAWS, green.LAWS, sequences.LAWS),
    ),
    PageIdea(
        "purifying", N_("separating and purifying"), _of(purification.LAWS, recrystallising.LAWS, separation.LAWS)
    ),
    PageIdea("two", N_("mixtures of two"), _of(two_components.LAWS)),
    PageIdea(
        "products", N_("several products of one reaction"),
        _of(isomers.LAWS, two_products.LAWS, pair_yields.LAWS, signals.LAWS),
    ),
    PageIdea("light", N_("absorbance and optical rotation"), _of(absorbance.LAWS, optics.LAWS)),
)  # fmt: skip

_BY_LAW: Mapping[str, str] = {law: idea.key for idea in IDEAS for law in idea.laws}


def ideas_of_steps(plan: Plan) -> list[str]:
    """The idea of each step of a plan, by its key."""
    return [_idea_of(step) for step in plan.steps]


def ideas_of_part(plan: Plan, asked: Asked, before: Iterable[str]) -> list[str]:
    """The ideas that a part exercises, its own first: of the steps since what was asked `before` (quantity ids)."""
    return list(dict.fromkeys(_ideas(plan, asked, frozenset(before))))


def _ideas(plan: Plan, asked: Asked, before: frozenset[str]) -> Iterator[str]:
    if not form_of(asked).is_worked_out(plan, asked):
        yield _BALANCING
    steps = plan.steps_since(asked.quantity.id, before - {asked.quantity.id})
    yield from (_idea_of(step) for step in reversed(steps))


def _idea_of(step: Step) -> str:
    """The amount or the mass that theory allows is an idea of its own, whatever law leads to it."""
    in_theory = step.quantity.role == Role.THEORETICAL and step.quantity.kind in ("amount", "mass")
    return _THEORY if in_theory else _BY_LAW[step.law]
