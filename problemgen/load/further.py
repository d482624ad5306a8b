"""The equations of a template beside its main one: steps in a row, titrations of a rest, components of a mixture."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from problemgen.errors import Fault
from problemgen.load.documents import nearest
from problemgen.load.template_document import TemplateDocument
from problemgen.model.banks import Banks, Reaction
from problemgen.model.problem import FurtherEquation

__all__ = ["FurtherReactions", "read_further"]


@dataclass(frozen=True)
class FurtherReactions:
    """The bank's reactions that `then` and `beside` name, in order, and the faults found."""

    then: tuple[Reaction, ...]
    beside: tuple[Reaction, ...]
    faults: tuple[Fault, ...]

    @property
    def all(self) -> tuple[Reaction, ...]:
        """All of them, in the order of the scene's equations."""
        return (*self.then, *self.beside)

    @property
    def equations(self) -> tuple[FurtherEquation, ...]:
        """The same as equations of a scene."""
        named = [*((one, False) for one in self.then), *((one, True) for one in self.beside)]
        return tuple(FurtherEquation(r.id, r.coefficients, r.product, beside) for r, beside in named)


def read_further(file: str, document: TemplateDocument, main: Reaction | None, banks: Banks) -> FurtherReactions:
    """The further reactions of a template."""
    faults: list[Fault] = []
    then = _named(file, "then", document.then, banks, faults)
    beside = _named(file, "beside", (document.beside,) if document.beside else (), banks, faults)
    if main is None and (then or beside or document.driven_off):
        key = "then" if then else ("beside" if beside else "driven_off")
        faults.append(Fault(file, key, "no main reaction", "`reaction`, the first equation"))
    elif main is not None and not faults:
        faults += [*_loose(file, document, main, then), *_apart(file, main, beside)]
        faults += _not_driven_off(file, document, (main, *then, *beside))
    return FurtherReactions(then, beside, tuple(faults))


def _named(file: str, key: str, names: tuple[str, ...], banks: Banks, faults: list[Fault]) -> tuple[Reaction, ...]:
    found = []
    for name in names:
        reaction = banks.reactions.get(name)
        if reaction is None:
            hint = nearest(name, banks.reactions)
            faults.append(Fault(file, key, repr(name), "an id in banks/reactions.toml", hint))
        else:
            found.append(reaction)
    return tuple(found)


def _loose(file: str, document: TemplateDocument, main: Reaction, then: tuple[Reaction, ...]) -> Iterator[Fault]:
    """Faults for equations that use neither the product of the one before nor a reagent left over."""
    left = {n for n, nu in main.coefficients.items() if nu < 0 and n in document.given and document.given[n].in_excess}
    before = main
    for reaction in then:
        used = {name for name, nu in reaction.coefficients.items() if nu < 0}
        if before.product not in used and not left & used:
            expected = f"a reaction of {before.product}, or of a reagent that the first equation leaves (`in_excess`)"
            yield Fault(file, "then", repr(reaction.id), expected)
        before = reaction


def _apart(file: str, main: Reaction, beside: tuple[Reaction, ...]) -> Iterator[Fault]:
    """Faults for an equation that has nothing in common with the main one, on the same side."""
    for reaction in beside:
        if not any(nu * main.coefficients.get(name, 0) > 0 for name, nu in reaction.coefficients.items()):
            yield Fault(
                file, "beside", repr(reaction.id), "a reaction that shares a reagent or a product with the first"
            )


def _not_driven_off(file: str, document: TemplateDocument, reactions: tuple[Reaction, ...]) -> Iterator[Fault]:
    products = [name for one in reactions for name, nu in one.coefficients.items() if nu > 0]
    for name in document.driven_off:
        if name not in products:
            expected = f"a product: {', '.join(dict.fromkeys(products))}"
            yield Fault(file, "driven_off", repr(name), expected, nearest(name, products))
