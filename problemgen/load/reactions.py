"""The equations of a template: its main one, steps in a row, titrations of a rest, components of a mixture."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from problemgen.load.fault_log import FaultLog
from problemgen.load.template_document import TemplateDocument
from problemgen.model.banks import Banks, Reaction
from problemgen.model.problem import FurtherEquation

__all__ = ["Reactions", "read_reactions"]


@dataclass(frozen=True)
class Reactions:
    """The bank's reactions that `reaction`, `then` and `beside` name; without a main one there are no others."""

    main: Reaction | None
    then: tuple[Reaction, ...] = ()
    beside: tuple[Reaction, ...] = ()

    @property
    def further(self) -> tuple[Reaction, ...]:
        """All but the main one, in the order of the scene's equations."""
        return (*self.then, *self.beside)

    @property
    def all(self) -> tuple[Reaction, ...]:
        """All of them, the main one first."""
        return (self.main, *self.further) if self.main else ()

    @property
    def equations(self) -> tuple[FurtherEquation, ...]:
        """The further ones as equations of a scene."""
        named = [*((one, False) for one in self.then), *((one, True) for one in self.beside)]
        return tuple(FurtherEquation(r.id, r.coefficients, r.product, beside) for r, beside in named)

    @property
    def species(self) -> tuple[str, ...]:
        """The substances of all equations, each once, in their order."""
        return tuple(dict.fromkeys(name for one in self.all for name in one.coefficients))

    @property
    def products(self) -> tuple[str, ...]:
        """What any of the equations forms, each once, in their order."""
        return tuple(dict.fromkeys(name for one in self.all for name, nu in one.coefficients.items() if nu > 0))


def read_reactions(faults: FaultLog, document: TemplateDocument, banks: Banks) -> Reactions:
    """The reactions of a template; raises FaultsError for a main one that is not in the bank."""
    main = next(_named(faults, "reaction", _few(document.reaction), banks), None)
    faults.stop()
    then = tuple(_named(faults, "then", document.then, banks))
    beside = tuple(_named(faults, "beside", _few(document.beside), banks))
    found = Reactions(main, then, beside)
    if main is None and (document.then or document.beside or document.driven_off):
        key = "then" if document.then else ("beside" if document.beside else "driven_off")
        faults.add(key, "no main reaction", "`reaction`, the first equation")
    elif main is not None and not faults:
        _check_steps(faults, document, main, then)
        _check_beside(faults, main, beside)
        _check_driven_off(faults, document, found)
    return found


def _few(name: str | None) -> tuple[str, ...]:
    return () if name is None else (name,)


def _named(faults: FaultLog, key: str, names: Iterable[str], banks: Banks) -> Iterator[Reaction]:
    for name in names:
        if name in banks.reactions:
            yield banks.reactions[name]
        else:
            faults.unknown(key, name, banks.reactions, "an id in banks/reactions.toml")


def _check_steps(faults: FaultLog, document: TemplateDocument, main: Reaction, then: tuple[Reaction, ...]) -> None:
    """Each step uses the product of the one before, or a reagent that the first leaves over."""
    left = {n for n, nu in main.coefficients.items() if nu < 0 and n in document.given and document.given[n].in_excess}
    before = main
    for reaction in then:
        used = {name for name, nu in reaction.coefficients.items() if nu < 0}
        if before.product not in used and not left & used:
            expected = f"a reaction of {before.product}, or of a reagent that the first equation leaves (`in_excess`)"
            faults.add("then", repr(reaction.id), expected)
        before = reaction


def _check_beside(faults: FaultLog, main: Reaction, beside: tuple[Reaction, ...]) -> None:
    """An equation beside the main one has something in common with it, on the same side."""
    for reaction in beside:
        if not any(nu * main.coefficients.get(name, 0) > 0 for name, nu in reaction.coefficients.items()):
            faults.add("beside", repr(reaction.id), "a reaction that shares a reagent or a product with the first")


def _check_driven_off(faults: FaultLog, document: TemplateDocument, reactions: Reactions) -> None:
    """What is driven off is formed by one of the equations."""
    for name in document.driven_off:
        if name not in reactions.products:
            expected = f"a product: {', '.join(reactions.products)}"
            faults.unknown("driven_off", name, reactions.products, expected)
