"""A substance with what is known of it: a form that a course's banks are completed by, and what they lack."""

from __future__ import annotations

import json
import re
from base64 import b64encode
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache

from markupsafe import Markup
from starlette.responses import Response
from starlette.routing import Route

from problemgen.desk.answers import fragment
from problemgen.desk.calls import Call, post
from problemgen.desk.template_files.shown import called, names_spoken
from problemgen.errors import FormulaError
from problemgen.language.messages import N_, _
from problemgen.load.resources import layouts
from problemgen.model.banks import Banks, Substance
from problemgen.model.blocks import Chemical, Line
from problemgen.pipeline.adding.drafts import draft_of
from problemgen.pipeline.adding.facts import SubstanceWishes
from problemgen.pipeline.adding.gaps import Gap, Lacking
from problemgen.pipeline.adding.questions import proposal
from problemgen.pipeline.adding.substances import add_substance
from problemgen.render.printers.html import inline
from problemgen.render.sheet.structures import draw, has_skeleton

__all__ = ["ROUTES", "LackingShown", "TermShown", "WarnedOf", "inline_html", "known_of", "lacking", "term", "warned_of"]

_CAS = re.compile(r"[0-9]{2,7}-[0-9]{2}-[0-9]")

_WORDS: Mapping[Lacking, str] = {
    "density": N_("the density; until then it is weighed, not poured"),
    "state": N_("the state at 25 °C; until then it is weighed"),
    "structure": N_("the structure; until then sheets show the formula"),
    "hazards": N_("hazard statements; until then sheets say that none are on file and to read the safety data sheet"),
}


_FIELDS: Mapping[Lacking, str] = {"structure": "smiles"}
"""The fields of the form that go by another name than what is typed there."""


@dataclass(frozen=True)
class LackingShown:
    """Something that substances lack; each is told by its name and by what the form is filled in with, as JSON.

    `field` is the form's where it is typed.
    """

    what: str
    field: str
    substances: Sequence[tuple[str, str]]


@dataclass(frozen=True)
class WarnedOf:
    """A substance in the flask as sheets warn of it: its name, signal word and sentences; `on_file`: there are any."""

    name: str
    signal: str
    sentences: Sequence[tuple[str, str]]
    on_file: bool


@dataclass(frozen=True)
class TermShown:
    """A substance of an equation that was looked up; `picture` is its structure as an image, "" for none."""

    coefficient: int
    name: str
    formula: Markup
    picture: str
    new: bool


def term(coefficient: int, substance: Substance, banks: Banks, *, new: bool) -> TermShown:
    """A substance as an equation shows it."""
    formula = inline_html((Chemical(substance.formula.text),))
    return TermShown(coefficient, called(substance, banks), formula, _picture(substance), new)


def _picture(substance: Substance) -> str:
    if substance.smiles is None or not has_skeleton(substance.smiles):
        return ""
    return f"data:image/svg+xml;base64,{b64encode(draw(substance.smiles).svg.encode()).decode()}"


@cache
def _layouts() -> dict[str, str]:
    return layouts()


def inline_html(line: Line) -> Markup:
    """A line of a sheet as a page shows it."""
    return Markup(inline(line, _layouts()))  # noqa: S704 - the printer has escaped it


def lacking(banks: Banks, left: Iterable[Gap]) -> Sequence[LackingShown]:
    """What is left to fill in, each thing once, with the substances that lack it."""
    found: dict[Lacking, list[tuple[str, str]]] = {}
    for one in left:
        substance = banks.substances[one.id]
        found.setdefault(one.what, []).append((called(substance, banks), known_of(banks, substance)))
    return [LackingShown(_(_WORDS[what]), _FIELDS.get(what, what), substances) for what, substances in found.items()]


def known_of(banks: Banks, one: Substance) -> str:
    """What the banks know of a substance, by the names of the form's fields, as JSON."""
    hazard, density = banks.hazards.get(one.id), one.density
    return json.dumps(
        {
            "name": one.name,
            "formula": one.formula.text,
            "smiles": one.smiles or "",
            "state": one.state or "",
            "density": density.value.text if density else "",
            "at": (density.at if density else "") or "20 °C",
            "hazards": " ".join(filter(None, (hazard.signal, *hazard.codes))) if hazard else "",
        }
    )


def warned_of(banks: Banks, names: Iterable[str]) -> Iterator[WarnedOf]:
    """What sheets say of the hazards of substances."""
    statements = {**banks.hazard_statements, **names_spoken(banks).statements}
    for name in names:
        hazard = banks.hazards.get(name)
        sentences = [(code, statements[code]) for code in hazard.codes] if hazard else []
        signal = _SIGNALS.get(hazard.signal, "") if hazard else ""
        yield WarnedOf(called(banks.substances[name], banks), signal and _(signal), sentences, hazard is not None)


_SIGNALS = {"Danger": N_("Danger"), "Warning": N_("Warning")}


def _add(call: Call) -> Response:
    """Add a substance that nobody knows, or complete what the banks have of one; what is empty stays as it is."""
    draft = draft_of(call.desk.course(), call.desk.place())
    keys = ("formula", "smiles", "state", "density", "hazards")
    said = {name: call.said(name) for name in keys}
    name = call.said("name")
    is_told = bool(said["formula"] or said["smiles"]) and not _CAS.fullmatch(name)
    wishes = SubstanceWishes(name=name if is_told else "", at=call.said("at") or "20 °C", **said)
    try:
        added = add_substance(draft, name, wishes, proposal)
    except FormulaError as error:
        return fragment(call, "told.html", 422, error=error)
    is_new = added.id not in draft.banks.substances
    if added.draft is not draft:
        added.draft.write()
        told = _("It stands in the course's banks now.") if is_new else _("Written into the course's banks.")
    else:
        told = _("The banks have all of this already; nothing was changed.")
    banks = added.draft.banks
    one = banks.substances[added.id]
    return fragment(
        call,
        "new_substance.html",
        shown=term(1, one, banks, new=is_new),
        warned=next(iter(warned_of(banks, [one.id]))),
        told=told,
        left=lacking(banks, added.left),
    )


ROUTES: tuple[Route, ...] = (post("/new-substance", _add),)
