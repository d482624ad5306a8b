"""What sheets say of hazards: one box a student, a line on the other sheets."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from problemgen.language.messages import N_, _
from problemgen.language.numbers import in_digits, listed
from problemgen.model.blocks import Block, Caution, Line, Note, Prose, Strong
from problemgen.model.hazards import Hazard
from problemgen.model.problem_set import Sheet
from problemgen.model.quantity import KINDS, Quantity, Role
from problemgen.model.template import Template
from problemgen.model.variant import Variant

__all__ = ["EXERCISE", "caution_of"]

EXERCISE = N_(
    "These pages are a calculation exercise, not a procedure. In the laboratory follow your instructor, the local "
    "rules and the current safety data sheet of every substance."
)
_TITLE = N_("A calculation exercise, not a procedure")
_OF_A_SOLUTION = N_(
    "what such a solution is labelled with depends on its concentration (UN GHS): read its label and its safety data "
    "sheet."
)
_IN_SHORT = N_(
    "In the laboratory follow your instructor, the local rules and the current safety data sheets; there and on the "
    "labels stands what the codes say."
)
_SIGNALS = {"Danger": N_("Danger"), "Warning": N_("Warning"), "": N_("Without a signal word")}
_UNDER_PRESSURE = "H280"
"""Holds for a gas cylinder only: not for a gas that a reaction sets free or a solution gives off."""


def caution_of(sheet: Sheet, sheets: Sequence[Sheet], variants: Sequence[Variant], *, short: bool = False) -> Block:
    """The caution at the foot of one of a student's `sheets`.

    The first sheet on which something hazardous is used has the box, with what all sheets use; the others have a line.
    A `short` box names the substances with their codes, and leaves it to labels and safety data sheets what these say.
    """
    boxed = next((one for one in sheets if _bench(variants, one.session)), None)
    if boxed is None:
        return Note((Prose(_(EXERCISE)),))
    if sheet.session == boxed.session:
        bench = _bench(variants, max(one.session for one in sheets))
        if short:
            return Caution("", tuple(_short_box(tuple(bench.values()))))
        sentences = {code: text for one in variants for code, text in one.template.hazard_statements.items()}
        return Caution(_(_TITLE), ((Prose(_(EXERCISE)),), *_box(tuple(bench.values()), sentences)))
    told = _("A calculation exercise, not a procedure. For the hazards see the box on the sheet “{title}”.")
    return Note((Prose(told.format(title=boxed.title)),))


@dataclass(frozen=True)
class _Handled:
    """A substance on the bench: as itself, in solution in water, set free as a gas, or in several ways.

    Of one that a course has added nothing may be on file: its `hazard` is empty then, which says nothing about it.
    """

    name: str
    hazard: Hazard
    itself: bool = False
    dissolved: bool = False
    set_free: bool = False
    cylinder: bool = False
    on_file: bool = True

    @property
    def is_told(self) -> bool:
        """Whether the box has anything to say of it."""
        return bool(self.codes or (self.dissolved and self.hazard.in_water)) or not self.on_file

    @property
    def codes(self) -> tuple[str, ...]:
        """Those of the substance itself, as it is handled; none where only its solutions are, and theirs are known."""
        if self.dissolved and self.hazard.in_water and not self.itself and not self.set_free:
            return ()
        return tuple(code for code in self.hazard.codes if self.cylinder or code != _UNDER_PRESSURE)

    def beside(self, other: _Handled) -> _Handled:
        """Handled as both tell."""
        return _Handled(
            self.name,
            self.hazard,
            itself=self.itself or other.itself,
            dissolved=self.dissolved or other.dissolved,
            set_free=self.set_free or other.set_free,
            cylinder=self.cylinder or other.cylinder,
            on_file=self.on_file,
        )


def _bench(variants: Sequence[Variant], session: int) -> dict[str, _Handled]:
    """What is handled up to a session and is hazardous, or not on file, by id, in the order of the problems."""
    found: dict[str, _Handled] = {}
    for template in (variant.template for variant in variants):
        if _first(template) <= session:
            for name, one in (*_species(template, session), *_auxiliaries(template)):
                if one.is_told:
                    found[name] = one.beside(found[name]) if name in found else one
    return found


def _first(template: Template) -> int:
    """The session whose sheet has a problem first."""
    return min(part.session for part in template.parts)


def _species(template: Template, session: int) -> Iterator[tuple[str, _Handled]]:
    """The reagents, what is known of a product, and the gases that are set free."""
    for name in template.scene.species:
        substance = template.substances.get(name)
        if substance is None or template.session_of.get(name, 1) > session:
            continue
        hazard, on_file = _on_file(template, name)
        told = {quantity.kind for quantity in template.scene.given if quantity.of == name}
        gas = substance.state == "gas"
        in_water = gas and bool(hazard.in_water) and not _is_among_gases(template, name)
        dissolved = in_water or _is_dissolved(template, name)
        if _is_reagent(template, name) or (told and not _is_formed(template, name)):
            cylinder = gas and name not in template.scene.in_excess
            yield name, _Handled(substance.name, hazard, not dissolved, dissolved, cylinder=cylinder, on_file=on_file)
        elif gas and not dissolved:
            yield name, _Handled(substance.name, hazard, set_free=True, on_file=on_file)
        elif told:
            yield name, _Handled(substance.name, hazard, not dissolved, dissolved, on_file=on_file)


def _auxiliaries(template: Template) -> Iterator[tuple[str, _Handled]]:
    """What stands at the arrows: as itself, and in solution where it is known what that is labelled with."""
    for name, substance in template.auxiliaries.items():
        hazard, on_file = _on_file(template, name)
        itself = substance.state != "gas"
        yield name, _Handled(substance.name, hazard, itself, bool(hazard.in_water), on_file=on_file)


def _on_file(template: Template, name: str) -> tuple[Hazard, bool]:
    """The hazards of a substance, and whether there is an entry of them: an empty one says "not classified"."""
    hazard = template.hazards.get(name)
    return (Hazard(of=name), False) if hazard is None else (hazard, True)


def _is_reagent(template: Template, name: str) -> bool:
    further = (equation.coefficients for equation in template.scene.further)
    return template.scene.species[name].coefficient < 0 or any(one.get(name, 0) < 0 for one in further)


def _is_formed(template: Template, name: str) -> bool:
    further = (equation.coefficients for equation in template.scene.further)
    return template.scene.species[name].coefficient > 0 or any(one.get(name, 0) > 0 for one in further)


def _is_dissolved(template: Template, name: str) -> bool:
    asked = (part.asked.quantity for part in template.parts)
    return any(_of_solution(quantity) for quantity in (*template.scene.given, *asked) if quantity.of == name)


def _is_among_gases(template: Template, name: str) -> bool:
    """Whether a gas is told to be one: by its own pressure, or by what a mixture of gases has."""
    told = {(quantity.kind, quantity.of) for quantity in template.scene.given}
    return bool(told & {("pressure", name), ("pressure", ""), ("temperature", "")})


def _of_solution(quantity: Quantity) -> bool:
    return quantity.role is Role.SOLUTION or KINDS[quantity.kind].of_solution


def _by_signal(bench: Sequence[_Handled]) -> Iterator[Line]:
    """Each substance once with its codes, a line for each signal word."""
    for signal, words in _SIGNALS.items():
        told = [f"{_called(one)} {_listed(one.codes)}" for one in bench if one.codes and one.hazard.signal == signal]
        if told:
            yield (Strong(f"{_(words)}: "), Prose(f"{'; '.join(told)}."))
    unknown = [one.name for one in bench if not one.on_file]
    if unknown:
        words = _("read the safety data sheet of {names}.").format(names=listed(unknown))
        yield (Strong(f"{_('No hazard statements on file')}: "), Prose(words))


def _short_box(bench: Sequence[_Handled]) -> Iterator[Line]:
    """Each substance once with its codes, and what is used in solution."""
    yield (Strong(f"{_(_TITLE)}. "), Prose(_(_IN_SHORT)))
    yield from _by_signal(bench)
    dissolved = ", ".join(one.name for one in bench if one.dissolved)
    if dissolved:
        words = _("{names}; the labels differ with the concentration.").format(names=dissolved)
        yield (Strong(f"{_('In solution')}: "), Prose(words))


def _box(bench: Sequence[_Handled], sentences: Mapping[str, str]) -> Iterator[Line]:
    """Each substance once with its codes, what changes in solution, and each code's sentence once."""
    yield from _by_signal(bench)
    dissolved = [one for one in bench if one.dissolved and one.on_file]
    known = [f"{one.name} {_limits(one.hazard)}" for one in dissolved if one.hazard.in_water]
    if known:
        yield (Strong(f"{_('In water, by mass')}: "), Prose(f"{'; '.join(known)}."))
    other = [one.name for one in dissolved if not one.hazard.in_water]
    if other:
        told = _("In solution here: {names}").format(names=", ".join(other))
        yield (Strong(f"{told}: "), Prose(_(_OF_A_SOLUTION)))
    used = {code for one in bench for code in (*one.codes, *_codes_in_water(one))}
    if used:
        yield (Prose(" ".join(f"{code} {sentences[code]}." for code in sorted(used, key=_place))),)


def _called(one: _Handled) -> str:
    # Translators: a gas that a reaction sets free, in the list of hazards.
    return _("{name} (set free)").format(name=one.name) if one.set_free and not one.itself else one.name


def _listed(codes: Iterable[str]) -> str:
    return " ".join(codes)


def _limits(hazard: Hazard) -> str:
    """The codes of its solutions by their least strength: "from 25 % H314 H335, from 10 % H315 H319 H335"."""
    # Translators: the hazard codes of a solution by its least strength: "from 25 % H314".
    words = _("from {percent} % {codes}")
    told = ((in_digits(one.least.text), _listed(one.codes)) for one in hazard.in_water)
    return ", ".join(words.format(percent=percent, codes=codes) for percent, codes in told)


def _codes_in_water(one: _Handled) -> tuple[str, ...]:
    return tuple(code for solution in one.hazard.in_water for code in solution.codes) if one.dissolved else ()


def _place(code: str) -> tuple[bool, str]:
    """The place of a code in a list: those of the UN GHS first."""
    return code.startswith("EUH"), code
