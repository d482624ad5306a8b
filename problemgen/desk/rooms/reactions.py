"""Choosing a reaction: one of the banks by name or formula, or an equation that is written down and looked up."""

from __future__ import annotations

import re
from base64 import b64encode
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from markupsafe import Markup
from starlette.responses import Response
from starlette.routing import Route

from problemgen.desk.answers import fragment, go, page
from problemgen.desk.calls import Call, get, post
from problemgen.desk.places import NotThereError
from problemgen.errors import FormulaError
from problemgen.language.messages import N_, _
from problemgen.language.numbers import in_digits
from problemgen.load.resources import layouts
from problemgen.load.sets.courses import Course
from problemgen.model.banks import Banks, Reaction, Substance
from problemgen.model.blocks import Chemical, Inline, Line, Prose
from problemgen.pipeline.adding.drafts import draft_of
from problemgen.pipeline.adding.facts import SubstanceWishes
from problemgen.pipeline.adding.questions import proposal
from problemgen.pipeline.adding.reactions import AddedReaction, ReactionWishes, add_reaction, molar_mass
from problemgen.pipeline.adding.substances import add_substance
from problemgen.render.printers.html import inline
from problemgen.render.sheet.groups import GROUPS, groups_of
from problemgen.render.sheet.structures import draw, has_skeleton

__all__ = ["ROUTES", "choose"]


_KINDS = (
    N_("acid-base"),
    N_("complex formation"),
    N_("gas evolution"),
    N_("inorganic preparation"),
    N_("organic preparation"),
    N_("precipitation"),
    N_("redox"),
)
"""The kinds of the reactions that come with the program, to be translated; a course's own are shown as they are."""


@dataclass(frozen=True)
class ReactionShown:
    """A reaction of the list: `words` are all that a search may find; `own`: of the course.

    `before` and `after` are the keys of the groups that its reactants have, and its products; `drawn` the ids of those
    of both whose structure says more than their formula.
    """

    id: str
    name: str
    kind: str
    equation: Markup
    words: str
    own: bool
    before: Sequence[str]
    after: Sequence[str]
    drawn: tuple[Sequence[str], Sequence[str]]


@dataclass(frozen=True)
class TermShown:
    """A substance of an equation that was looked up; `picture` is its structure as an image, "" for none."""

    coefficient: int
    name: str
    formula: Markup
    picture: str
    new: bool


def choose(call: Call) -> Response:
    """The page on which a reaction is chosen."""
    banks = call.desk.banks()
    shipped = _shipped_ids()
    found = [_reaction(one, banks, own=one.id not in shipped) for one in banks.reactions.values()]
    there = {group for one in found for group in (*one.before, *one.after)}
    return page(
        call,
        "new_problem.html",
        reactions=sorted(found, key=lambda one: (not one.own, one.name.casefold())),
        groups=sorted(
            ((key, _(name)) for key, (name, _smarts) in GROUPS.items() if key in there), key=lambda one: one[1]
        ),
    )


@cache
def _shipped_ids() -> frozenset[str]:
    return frozenset(Course().banks().reactions)


def _reaction(one: Reaction, banks: Banks, *, own: bool) -> ReactionShown:
    substances = [banks.substances[name] for name in one.coefficients]
    called = (text for each in substances for text in (each.name, each.formula.text, *banks.also_called(each)))
    kind = _(one.kind)
    words = " ".join((one.id, one.name, one.kind, kind, *called)).casefold()
    equation = _inline(_equation(one.coefficients, banks))
    sides = [[name for name, nu in one.coefficients.items() if nu * sign > 0] for sign in (-1, 1)]
    before, after = (_groups(side, banks) for side in sides)
    drawn = [[name for name in side if _is_drawn(banks.substances[name])] for side in sides]
    return ReactionShown(one.id, one.name, kind, equation, words, own, before, after, (drawn[0], drawn[1]))


def _groups(names: Sequence[str], banks: Banks) -> Sequence[str]:
    structures = (banks.substances[name].smiles for name in names)
    return sorted({group for smiles in structures if smiles is not None for group in groups_of(smiles)})


def _is_drawn(substance: Substance) -> bool:
    return substance.smiles is not None and has_skeleton(substance.smiles)


def _equation(coefficients: Mapping[str, int], banks: Banks) -> Line:
    """An equation in formulas."""
    sides = [
        [(abs(nu), banks.substances[name]) for name, nu in coefficients.items() if nu * sign > 0] for sign in (-1, 1)
    ]
    line: list[Inline] = []
    for place, side in enumerate(sides):
        line += [Prose(" → ")] if place else []
        for number, (nu, one) in enumerate(side):
            line += [Prose(f"{' + ' if number else ''}{f'{nu} ' if nu > 1 else ''}"), Chemical(one.formula.text)]
    return tuple(line)


@cache
def _layouts() -> dict[str, str]:
    return layouts()


def _inline(line: Line) -> Markup:
    return Markup(inline(line, _layouts()))  # noqa: S704 - the printer has escaped it


def _structure(call: Call) -> Response:
    """A substance's structure as the sheets draw it."""
    substance = call.desk.banks().substances.get(call.named("name"))
    if substance is None or substance.smiles is None or not has_skeleton(substance.smiles):
        raise NotThereError(call.named("name"))
    return Response(draw(substance.smiles).svg, media_type="image/svg+xml")


def _picture(substance: Substance) -> str:
    if substance.smiles is None or not has_skeleton(substance.smiles):
        return ""
    return f"data:image/svg+xml;base64,{b64encode(draw(substance.smiles).svg.encode()).decode()}"


def _look_up(call: Call) -> Response:
    """What an equation would add to the course: nothing is written."""
    added = _added(call)
    banks, known = added.draft.banks, call.desk.banks().substances
    reaction = banks.reactions[added.id]
    sides = [
        [_term(abs(nu), banks.substances[name], new=name not in known) for name, nu in reaction.coefficients.items()
         if nu * sign > 0]
        for sign in (-1, 1)
    ]  # fmt: skip
    low, high = (one.text for one in reaction.product_scale_mmol or ())
    return fragment(
        call,
        "looked_up.html",
        reaction=reaction,
        sides=sides,
        scale=(low, high),
        percent=tuple(one.text for one in reaction.yield_percent),
        left=_left(added.left),
        worked_out=_worked_out(banks, added.worked_out),
        fields={name: call.said(name) for name in _FIELDS},
    )


def _worked_out(banks: Banks, name: str) -> tuple[str, Markup, str] | None:
    """The product whose formula is the atoms left over: its name, formula and molar mass; None for none."""
    if not name:
        return None
    one = banks.substances[name]
    return one.name, _inline((Chemical(one.formula.text),)), in_digits(f"{molar_mass(banks, name):.1f}")


def _term(coefficient: int, substance: Substance, *, new: bool) -> TermShown:
    formula = _inline((Chemical(substance.formula.text),))
    return TermShown(coefficient, substance.name, formula, _picture(substance), new)


def _left(left: Sequence[tuple[str, str]]) -> Mapping[str, Sequence[str]]:
    """What is left to fill in, each thing once, with the substances that lack it."""
    lacking: dict[str, list[str]] = {}
    for name, what in left:
        lacking.setdefault(_OPTION.sub("", what), []).append(name)
    return lacking


_OPTION = re.compile(r" \(or --[a-z]+\)")
"""What the command line says to itself."""

_FIELDS = ("equation", "product_name", "product_formula", "product_smiles", "scale")


def _added(call: Call) -> AddedReaction:
    draft = draft_of(call.desk.course(), call.desk.place())
    wishes = ReactionWishes(**{name: call.said(name) for name in _FIELDS[1:]})
    return add_reaction(draft, " ".join(call.said("equation").split()), wishes, proposal)


def _add(call: Call) -> Response:
    added = _added(call)
    added.draft.write()
    return go(f"/new-problem?reaction={added.id}")


def _add_substance(call: Call) -> Response:
    """Add a substance that neither the banks nor the tables know."""
    draft = draft_of(call.desk.course(), call.desk.place())
    said = {name: call.said(name) for name in ("formula", "smiles", "state", "density", "hazards")}
    try:
        added = add_substance(draft, call.said("name"), SubstanceWishes(name=call.said("name"), **said), proposal)
    except FormulaError as error:
        return fragment(call, "told.html", 422, error=error)
    if added.draft is not draft:
        added.draft.write()
    banks = added.draft.banks
    one = banks.substances[added.id]
    is_new = added.draft is not draft
    told = _("It stands in the course's banks now.") if is_new else _("The banks have it already.")
    return fragment(call, "new_substance.html", term_shown=_term(1, one, new=is_new), told=told, left=_left(added.left))


ROUTES: tuple[Route, ...] = (
    get("/structure/{name}", _structure),
    post("/new-reaction/look", _look_up),
    post("/new-reaction/add", _add),
    post("/new-substance", _add_substance),
)
"""What belongs to choosing a reaction."""
