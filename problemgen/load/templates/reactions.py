"""The equations of a template: its main one, steps in a row, components of a mixture, two products of one reagent."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from problemgen.load.fault_log import FaultLog
from problemgen.load.templates.document import TemplateDocument
from problemgen.model.banks import Banks, Reaction
from problemgen.model.problem import FurtherEquation

__all__ = ["Reactions", "read_reactions"]


@dataclass(frozen=True)
class Reactions:
    """The bank's reactions that `reaction` and the keys beside it name; without a main one there are no others."""

    main: Reaction | None
    then: tuple[Reaction, ...] = ()
    beside: tuple[Reaction, ...] = ()
    parallel: tuple[Reaction, ...] = ()

    @property
    def further(self) -> tuple[Reaction, ...]:
        """All but the main one, in the order of the scene's equations."""
        return (*self.then, *self.beside, *self.parallel)

    @property
    def all(self) -> tuple[Reaction, ...]:
        """All of them, the main one first."""
        return (self.main, *self.further) if self.main else ()

    @property
    def equations(self) -> tuple[FurtherEquation, ...]:
        """The further ones as equations of a scene."""
        return tuple(
            FurtherEquation(r.id, r.coefficients, r.product, beside=r in self.beside, parallel=r in self.parallel)
            for r in self.further
        )

    @property
    def species(self) -> tuple[str, ...]:
        """The substances of all equations, each once, in their order."""
        return tuple(dict.fromkeys(name for one in self.all for name in one.coefficients))

    @property
    def rivals(self) -> Mapping[str, str]:
        """The two products that are made of one reagent, each by the other's id; none where no equations compete."""
        if self.main is None or not self.parallel:
            return {}
        one, other = self.main.product, self.parallel[0].product
        return {one: other, other: one}

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
    parallel = tuple(_named(faults, "parallel", _few(document.parallel), banks))
    found = Reactions(main, then, beside, parallel)
    needing = [key for key in ("then", "beside", "parallel", "driven_off") if getattr(document, key)]
    if main is None and needing:
        faults.add(needing[0], "no main reaction", "`reaction`, the first equation")
    elif main is not None and not faults:
        _check_steps(faults, document, main, then)
        _check_beside(faults, main, beside)
        _check_parallel(faults, document, main, parallel)
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


def _check_parallel(
    faults: FaultLog, document: TemplateDocument, main: Reaction, parallel: tuple[Reaction, ...]
) -> None:
    """Equations that compete take the measured reagents in one ratio, so that the same one limits either of them."""
    for reaction in parallel:
        measured = [
            name
            for name, nu in (*main.coefficients.items(), *reaction.coefficients.items())
            if nu < 0 and name in document.given and not document.given[name].in_excess
        ]
        ratios = {Fraction(main.coefficients.get(one, 0), reaction.coefficients.get(one, 1)) for one in measured}
        if reaction.product == main.product:
            faults.add("parallel", repr(reaction.id), "a reaction with another product than the first")
        elif len(ratios) != 1 or min(ratios) <= 0:
            expected = "a reaction that takes the measured reagents of the first, in the same ratio"
            hint = "Say `in_excess = true` of a reagent that only one of them takes, or takes in another ratio."
            faults.add("parallel", repr(reaction.id), expected, hint)


def _check_driven_off(faults: FaultLog, document: TemplateDocument, reactions: Reactions) -> None:
    """What is driven off is formed by one of the equations."""
    for name in document.driven_off:
        if name not in reactions.products:
            expected = f"a product: {', '.join(reactions.products)}"
            faults.unknown("driven_off", name, reactions.products, expected)
