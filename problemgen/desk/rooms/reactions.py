"""Choosing a reaction: one of the banks by name or formula, or an equation that is written down and looked up."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from markupsafe import Markup
from starlette.responses import Response
from starlette.routing import Route

from problemgen.desk.answers import fragment, go, page
from problemgen.desk.calls import Call, get, post
from problemgen.desk.places import NotThereError
from problemgen.desk.rooms.substances import inline_html, lacking, term, warned_of
from problemgen.language.messages import N_, _
from problemgen.language.numbers import in_digits
from problemgen.load.sets.courses import Course
from problemgen.model.banks import Banks, Reaction, Substance
from problemgen.model.blocks import Chemical, Inline, Line, Prose
from problemgen.pipeline.adding.drafts import draft_of
from problemgen.pipeline.adding.equations import words_text
from problemgen.pipeline.adding.gaps import Gap, gaps_there
from problemgen.pipeline.adding.questions import proposal
from problemgen.pipeline.adding.reactions import AddedReaction, ReactionWishes, add_reaction
from problemgen.pipeline.adding.vessels import molar_mass
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

    `said` is what the form for an own one is filled in with to change it, as JSON. `before` and `after` are the keys
    of the groups that its reactants have, and its products; `drawn` the ids of those of both whose structure says more
    than their formula.
    """

    id: str
    name: str
    kind: str
    equation: Markup
    words: str
    own: bool
    said: str
    before: Sequence[str]
    after: Sequence[str]
    drawn: tuple[Sequence[str], Sequence[str]]


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
    equation = inline_html(_equation(one.coefficients, banks))
    sides = [[name for name, nu in one.coefficients.items() if nu * sign > 0] for sign in (-1, 1)]
    before, after = (_groups(side, banks) for side in sides)
    drawn = [[name for name in side if _is_drawn(banks.substances[name])] for side in sides]
    return ReactionShown(
        one.id,
        one.name,
        kind,
        equation,
        words,
        own,
        _said(one, banks) if own else "",
        before,
        after,
        (drawn[0], drawn[1]),
    )


def _said(one: Reaction, banks: Banks) -> str:
    """What is said of a reaction, by the names of the form's fields."""
    sides = [
        [(abs(nu), banks.substances[name].name) for name, nu in one.coefficients.items() if nu * sign > 0]
        for sign in (-1, 1)
    ]
    others = "\n".join(banks.substances[name].name for name in one.auxiliaries)
    scale = " to ".join(number.text for number in one.product_scale_mmol or ())
    told = {"equation": words_text(sides[0], sides[1]), "scale": scale, "above": one.above, "below": one.below}
    return json.dumps({**told, "auxiliaries": others})


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


def _structure(call: Call) -> Response:
    """A substance's structure as the sheets draw it."""
    substance = call.desk.banks().substances.get(call.named("name"))
    if substance is None or substance.smiles is None or not has_skeleton(substance.smiles):
        raise NotThereError(call.named("name"))
    return Response(draw(substance.smiles).svg, media_type="image/svg+xml")


def _look_up(call: Call) -> Response:
    """What an equation would add to the course: nothing is written."""
    added = _added(call)
    banks, known = added.draft.banks, call.desk.banks().substances
    reaction = banks.reactions[added.id]
    sides = [
        [term(abs(nu), banks.substances[name], banks, new=name not in known)
         for name, nu in reaction.coefficients.items() if nu * sign > 0]
        for sign in (-1, 1)
    ]  # fmt: skip
    handled = (*reaction.coefficients, *reaction.auxiliaries)
    return fragment(
        call,
        "looked_up.html",
        reaction=reaction,
        sides=sides,
        scale=tuple(one.text for one in reaction.product_scale_mmol or ()),
        percent=tuple(one.text for one in reaction.yield_percent),
        left=lacking(banks, _gaps(banks, handled, added.left)),
        warned=list(warned_of(banks, handled)),
        worked_out=_worked_out(banks, added.worked_out),
        fields={name: call.said(name) for name in _FIELDS},
    )


def _gaps(banks: Banks, names: Iterable[str], found: Sequence[Gap]) -> Sequence[Gap]:
    """What is left to fill in of the substances of a reaction, of those that are there already too."""
    poured = {one.id for one in found if one.what == "density"}
    there = (one for name in names for one in gaps_there(banks, name))
    gaps = dict.fromkeys((*found, *(one for one in there if one.id not in poured or one.what != "state")))
    return list(gaps)


def _worked_out(banks: Banks, name: str) -> tuple[str, Markup, str] | None:
    """The product whose formula is the atoms left over: its name, formula and molar mass; None for none."""
    if not name:
        return None
    one = banks.substances[name]
    return one.name, inline_html((Chemical(one.formula.text),)), in_digits(f"{molar_mass(banks, name):.1f}")


_FIELDS = (
    "equation", "product_name", "product_formula", "product_smiles", "scale", "above", "below", "auxiliaries",
)  # fmt: skip


def _added(call: Call) -> AddedReaction:
    draft = draft_of(call.desk.course(), call.desk.place())
    wishes = ReactionWishes(**{name: call.said(name) for name in _FIELDS[1:]})
    return add_reaction(draft, " ".join(call.said("equation").split()), wishes, proposal)


def _add(call: Call) -> Response:
    added = _added(call)
    added.draft.write()
    return go(f"/new-problem?reaction={added.id}")


ROUTES: tuple[Route, ...] = (
    get("/structure/{name}", _structure),
    post("/new-reaction/look", _look_up),
    post("/new-reaction/add", _add),
)
"""What belongs to choosing a reaction."""
