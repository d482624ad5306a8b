"""What a template asks: its part entries, those for "each reagent" spread out, turned into asked quantities."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from problemgen.chemistry.units import read_unit
from problemgen.exact.digits import read_written
from problemgen.load.fault_log import FaultLog
from problemgen.load.templates.document import AskedDocument, PartDocument
from problemgen.load.templates.givens import MIXTURE, SOLUTION, quantity_in_role
from problemgen.model.problem import Asked, Scene
from problemgen.model.quantity import KINDS, PROBLEM_KINDS, TEMPLATE_ROLES, Quantity, Role
from problemgen.model.template import Part
from problemgen.plan.forms import form_of, forms_by_word

__all__ = ["WHOLES", "read_asked", "read_parts", "read_role"]

_EACH = "each reagent"
WHOLES = {
    MIXTURE: Role.MIXED,
    SOLUTION: Role.COMMON,
    "sample": Role.SAMPLE,
    "batch": Role.PLAIN,
    "reagent in excess": Role.UNUSED,
}
"""A mixture of gases, a solution of several substances, a sample (asked for the loss on heating it) and a batch as a
whole, and whichever of two reagents does not limit (asked for what is left of it), with the usual role."""


@dataclass(frozen=True)
class _Reader:
    """The template at hand."""

    faults: FaultLog
    scene: Scene
    reagents: tuple[str, ...]

    def in_role(self, name: str, document: AskedDocument, usual: Role) -> Iterator[Quantity]:
        """The quantity of a species in the role and at the stage that an entry names; none, and a fault, for others."""
        role = read_role(self.faults, document.role, document.stage, usual)
        if role is not None:
            told = {one.kind for one in self.scene.given if (one.of, one.role) == (name, role)}
            yield quantity_in_role(document.quantity, name, role, document.stage, told)

    def names(self, key: str, text: str | None) -> tuple[str, ...]:
        """The species that a word means: an id, "product", or "each reagent"."""
        if text is None:
            return (self.scene.product,) if self.scene.product else self._single(key)
        if text == _EACH:
            return self.reagents
        name = self.scene.product if text == "product" else text
        if name in self.scene.species:
            return (name,)
        self.faults.unknown(key, text, [*self.scene.species, "product", _EACH])
        return ()

    def _single(self, key: str) -> tuple[str, ...]:
        if len(self.scene.species) == 1:
            return tuple(self.scene.species)
        self.faults.add(key, "nothing", "the species that is asked about")
        return ()


def read_role(faults: FaultLog, name: str | None, stage: int, usual: Role) -> Role | None:
    """The role that an entry names, "" for none, `usual` where it says nothing; None, with a fault kept, for others."""
    role = usual if name is None else Role.PLAIN if name == "" else TEMPLATE_ROLES.get(name)
    if role is None:
        faults.unknown("role", name or "", TEMPLATE_ROLES)
    elif not role.has_stage(stage):
        none = f"{role.value!r} has no stages" if role.value else "no role is named, and stages are a role's"
        expected = f"one of {', '.join(map(str, role.stages))}" if role.stages else f"none: {none}"
        faults.add("stage", str(stage or "nothing"), expected)
        return None
    return role


def read_asked(
    faults: FaultLog, document: AskedDocument, scene: Scene, reagents: tuple[str, ...] = ()
) -> tuple[Asked, ...]:
    """What an entry asks: one quantity, or one of each reagent; none, with a fault kept, for what cannot be asked."""
    return tuple(_asked(_Reader(faults, scene, reagents), document))


def read_parts(
    faults: FaultLog, documents: tuple[PartDocument, ...], scene: Scene, reagents: tuple[str, ...]
) -> tuple[Part, ...]:
    """The parts of a template in order."""
    parts: list[Part] = []
    for index, document in enumerate(documents, start=1):
        place = faults.at("part", index)
        for asked in read_asked(place, document, scene, reagents):
            points = document.points or read_written("1")
            if points.value < 0:
                place.add("points", points.text, "no fewer than 0 points")
            part_id = f"{len(parts) + 1:02d}"
            parts.append(Part(part_id, asked, points, document.prompt, document.session))
    seen: set[Quantity] = set()
    for part in parts:
        if part.asked.quantity in seen:
            name = form_of(part.asked).called(part.asked)
            faults.add("part", f"{name} asked twice", "each quantity asked once")
        seen.add(part.asked.quantity)
    return tuple(parts)


def _asked(reader: _Reader, document: AskedDocument) -> Iterator[Asked]:
    forms = forms_by_word()
    if document.quantity in forms:
        yield forms[document.quantity].asked(document.quantity, document.of)
    elif document.quantity in PROBLEM_KINDS:
        yield from _numbers(reader, document)
    else:
        reader.faults.unknown("quantity", document.quantity, (*PROBLEM_KINDS, *forms))


def _numbers(reader: _Reader, document: AskedDocument) -> Iterator[Asked]:
    """The quantities that are asked as a number with a unit."""
    kind = KINDS[document.quantity]
    unit = document.unit or kind.unit
    if read_unit(unit).dimension != kind.dimension:
        reader.faults.add("unit", repr(unit), f"a unit of {kind.words}, such as {kind.unit}")
    elif document.of in WHOLES:
        yield from (Asked(one, unit) for one in reader.in_role("", document, WHOLES[document.of]))
    else:
        for name in reader.names("of", document.of):
            yield from (Asked(one, unit) for one in _quantities(reader, name, document))


def _quantities(reader: _Reader, name: str, document: AskedDocument) -> Iterator[Quantity]:
    if document.source is None:
        yield from reader.in_role(name, document, _usual_role(reader.scene, name, document.quantity))
        return
    for source in reader.names("from", document.source):
        yield Quantity(document.quantity, name, Role.FROM, source=source)


def _usual_role(scene: Scene, name: str, kind: str) -> Role:
    """The role of what is asked of a species without one."""
    if scene.is_formed(name) and KINDS[kind].extensive:
        return Role.THEORETICAL
    return Role.SOLUTION if kind == "volume" and _in_solution(scene, name) else Role.PLAIN


def _in_solution(scene: Scene, name: str) -> bool:
    """Whether the volume that is asked is a solution's: its concentration, percentage or titres are given."""
    dissolved = ("concentration", "mass_fraction")
    return any(q.of == name and (q.kind in dissolved or q.role in (Role.RUN_END, Role.RUN)) for q in scene.given)
