"""What can be asked of a problem, from what it gives, in the words in which a sheet would ask it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from problemgen.exact.digits import read_written
from problemgen.load.fault_log import FaultLog
from problemgen.load.templates.document import PartDocument
from problemgen.load.templates.parts import read_asked
from problemgen.model.blocks import Line, Prose
from problemgen.model.preview import Question
from problemgen.model.problem import Asked, Scene
from problemgen.model.quantity import KINDS
from problemgen.model.template import Part, Template
from problemgen.plan.chain import derivable
from problemgen.plan.constants import constants
from problemgen.plan.forms import FORMS
from problemgen.render.words.given_words import told_by
from problemgen.render.words.prompts import short_prompt_of

__all__ = ["part_words", "questions"]

_OF_REAGENTS = (
    ("amount", None), ("mass", None), ("volume", None), ("concentration", None), ("equivalents", None),
    ("excess", None), ("amount", "left"), ("mass", "left"), ("volume", "left"), ("amount", "consumed"),
    ("mass", "consumed"), ("count", None), ("molar_mass", None), ("density", None), ("mass_concentration", None),
    ("mass_volume_percent", None), ("mass_fraction", None),
)  # fmt: skip
_OF_PRODUCTS = (
    ("mass", None), ("amount", None), ("percent_yield", None), ("amount", "actual"), ("volume", None),
    ("molar_mass", None), ("atom_economy", None), ("count", None),
)  # fmt: skip
_FROM_EACH = ("amount", "mass")
_OF_WHOLES = (("amount", "reagent in excess"), ("mass", "reagent in excess"))
"""Kinds and roles in the order in which they are offered; what cannot be derived is left out."""

_USUAL = frozenset({"amount", "mass", "percent_yield", "limiting_reagent", "equivalents", "concentration"})
"""Kinds that most problems ask for, where the role is the usual one."""

_MILLI = {"mol": "mmol"}
"""Units of the bench: a preparation takes millimoles."""


def questions(template: Template) -> tuple[Question, ...]:
    """All that can be asked beside what is asked already."""
    scene, reagents = template.scene, template.plan.sources
    asked = {part.asked.quantity for part in template.parts}
    read: dict[tuple[tuple[str, str], ...], tuple[Asked, ...]] = {}
    for candidate in _candidates(scene, reagents):
        faults = FaultLog("")
        found = read_asked(faults, PartDocument.model_validate(candidate), scene, reagents)
        if found and not faults.faults and not asked & {one.quantity for one in found}:
            read[tuple(candidate.items())] = found
    can = derivable(scene, (one for found in read.values() for one in found), constants())
    sessions = {quantity.id: session for quantity, session in told_by(template).items()}
    offered: dict[Line, Question] = {}
    for keys, found in read.items():
        if all(one in can and one.quantity not in scene.given for one in found):
            words = part_words(template, found)
            session = max((sessions.get(name, 1) for one in found for name in can[one]), default=1)
            offered.setdefault(words, Question(dict(keys), words, session, _is_usual(dict(keys), scene)))
    return tuple(offered.values())


def part_words(template: Template, found: Sequence[Asked]) -> Line:
    """A question in words, as the sheet has it; several that one entry asks, one behind the other."""
    lines = [short_prompt_of(template, Part("", one, _POINT, "", 1)) for one in found]
    return tuple(piece for place, line in enumerate(lines) for piece in ((Prose("; "), *line) if place else line))


_POINT = read_written("1")


def _candidates(scene: Scene, reagents: tuple[str, ...]) -> Iterator[Mapping[str, str]]:
    if len(reagents) > 1:
        yield _part("amount", "each reagent")
        if scene.product:
            yield {**_part("amount", "product"), "from": "each reagent"}
    yield from ({"quantity": word} for form in FORMS.values() for word in form.asks)
    products = [one.id for one in scene.products]
    for name in sorted(products, key=lambda one: one != scene.product):
        of = "product" if name == scene.product else name
        yield from (_part(kind, of, role) for kind, role in _OF_PRODUCTS)
    yield from (_part(kind, whole) for kind, whole in _OF_WHOLES)
    others = [one.id for one in scene.species.values() if one.id not in products]
    for kind, role in _OF_REAGENTS:
        yield from (_part(kind, name, role) for name in others)
    for kind in _FROM_EACH if scene.product else ():
        yield from ({**_part(kind, "product"), "from": name} for name in reagents)


def _part(kind: str, of: str, role: str | None = None) -> dict[str, str]:
    usual = KINDS[kind].unit
    keys = {"quantity": kind, "of": of}
    if role is not None:
        keys["role"] = role
    if usual in _MILLI:
        keys["unit"] = _MILLI[usual]
    return keys


def _is_usual(keys: Mapping[str, str], scene: Scene) -> bool:
    species = scene.species.get(keys.get("of", ""))
    is_beside = species is not None and species.is_product  # the product itself is called that
    return keys["quantity"] in _USUAL and "role" not in keys and not is_beside
