"""A reaction added to a course's bank: its substances found or looked up, balanced, on a scale."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, TypeAlias

from problemgen.chemistry.formula import Formula
from problemgen.errors import Fault, FaultsError, FormulaError
from problemgen.load.fault_log import FaultLog
from problemgen.model.banks import Banks, Reaction
from problemgen.pipeline.adding.arrows import arrow_notes, arrow_values, check_arrow, listed_names, without_arrow_notes
from problemgen.pipeline.adding.drafts import Draft, entry_text
from problemgen.pipeline.adding.entries import is_own, with_values
from problemgen.pipeline.adding.equations import WordTerm, balanced, left_over, read_words, words_text
from problemgen.pipeline.adding.facts import SubstanceWishes, positive
from problemgen.pipeline.adding.gaps import Gap
from problemgen.pipeline.adding.names import Names
from problemgen.pipeline.adding.questions import Ask, answered, proposal
from problemgen.pipeline.adding.substances import add_substance
from problemgen.pipeline.adding.vessels import flasks_for, molar_mass

__all__ = ["AddedReaction", "ReactionWishes", "add_reaction"]

Sides: TypeAlias = tuple[list[tuple[int, str]], ...]
"""The two sides of an equation: numbers and ids."""

_GRAMS = 2.0
"""The mass of product in g that a scale is proposed for: enough to recrystallise and weigh, little to throw away."""

_NICE = (1, 2, 3, 5, 10, 15, 20, 30, 50, 100, 200)
"""What a scale is rounded to, mmol."""

_YIELD = (50, 85)
"""A proposal of ours, in percent: it is to be checked against the procedure."""


@dataclass(frozen=True)
class ReactionWishes:
    """What an author says of a reaction; "" where it is proposed. `scale`: mmol of the product.

    `above` and `below` stand at the arrow; `auxiliaries` are what else is in the flask, names with semicolons or ends
    of lines between them.
    """

    id: str = ""
    product_name: str = ""
    product_formula: str = ""
    product_smiles: str = ""
    scale: str = ""
    above: str = ""
    below: str = ""
    auxiliaries: str = ""

    @property
    def arrow(self) -> Mapping[str, str]:
        """The words at the arrow."""
        return {"above": self.above, "below": self.below}

    @property
    def tells_product(self) -> bool:
        """Whether anything is said of a product that is not in the banks."""
        return bool(self.product_name or self.product_formula or self.product_smiles)


@dataclass(frozen=True)
class AddedReaction:
    """The id of a reaction, the draft that has it, what to say, and what is left to fill in, as of substances.

    `worked_out` is the id of a product whose formula is nothing but the atoms left over, "" for none.
    """

    id: str
    draft: Draft
    told: tuple[str, ...]
    left: tuple[Gap, ...] = ()
    worked_out: str = ""


def add_reaction(draft: Draft, text: str, wishes: ReactionWishes, ask: Ask) -> AddedReaction:
    """Add the reaction of an equation in words, and the substances of it that the banks lack.

    One that the course has already gets what is said of its arrow, what else is in the flask, and its scale.

    Raises:
        FaultsError: for substances that nobody knows, all at once; more than one product that is not known; an equation
            that does not balance; a reaction of the program's banks, or of the course's without anything new.
    """
    left, right = read_words(text)
    found = _Finding(draft, wishes, ask)
    found.take(left, right, listed_names(wishes.auxiliaries))
    unknown = found.unknown(right)
    if unknown is not None:
        found.make(unknown, left, right)
    draft = found.draft
    others = {name: one.formula for name, one in draft.banks.substances.items()}
    known = [[(term, others[found.ids[term.name]]) for term in side] for side in (left, right)]
    numbers = balanced(known[0], known[1], others)
    terms = list(zip(numbers, (*left, *right), strict=True))
    sides = tuple(
        [(number, found.ids[term.name]) for number, term in part] for part in (terms[: len(left)], terms[len(left) :])
    )
    product = found.ids[(unknown or right[0]).name]
    arrow = arrow_values(wishes.arrow, found.auxiliaries())
    there = _there(draft.banks, sides)
    if there is not None:
        return _completed(draft, there, arrow, wishes, found)
    name = wishes.id or _free(draft.banks.reactions, product)
    entry = {
        **_entry(draft.banks, name, product, sides, ask),
        **arrow,
        **_measures(draft.banks, sides, product, wishes, ask),
    }
    draft = draft.with_entry("reactions", entry_text("[[reaction]]", entry, _REMARKS, tuple(arrow_notes(arrow))))
    draft.banks  # noqa: B018 - what the banks would refuse is refused here
    told = (*found.told, *_told(draft.banks, name, changed=numbers != tuple(one.coefficient for _, one in terms)))
    return AddedReaction(name, draft, told, tuple(found.left), found.worked_out)


class _Finding:
    """The substances of an equation while they are sought: a draft that grows, and what there is to say."""

    def __init__(self, draft: Draft, wishes: ReactionWishes, ask: Ask) -> None:
        self.draft, self._wishes, self._ask = draft, wishes, ask
        self.ids: dict[str, str] = {}
        self.told: list[str] = []
        self.left: list[Gap] = []
        self.worked_out = ""
        self._others: list[str] = []
        self._faults = FaultLog("add")

    def take(self, left: Sequence[WordTerm], right: Iterable[WordTerm], others: Sequence[str]) -> None:
        """Find all terms and what else is in the flask; a product that nobody knows is kept for later."""
        check_arrow(self._faults, self._wishes.arrow)
        for term in left:
            self._faults.tried(lambda term=term: self._add(term.name, SubstanceWishes()))  # type: ignore[misc]
        for term in right:
            known = Names(self.draft.banks).find(term.name)
            if known is not None:
                self.ids[term.name] = known[0]
            elif not self._wishes.tells_product:
                self._look_up_product(term.name)
        self._faults.stop()
        for name in others:
            self._faults.tried(lambda name=name: self._add_other(name, left))  # type: ignore[misc]
        self._faults.stop()

    def _add_other(self, name: str, left: Iterable[WordTerm]) -> None:
        """Find what is in the flask beside the reagents."""
        self._others.append(self._add(name, SubstanceWishes()))
        if self._others[-1] in {self.ids[term.name] for term in left}:
            expected = "what is in the flask beside the reagents of the equation"
            raise FaultsError([Fault("add", "auxiliaries", repr(name), expected)])

    def auxiliaries(self) -> Sequence[str]:
        """The ids of what is in the flask beside the reagents."""
        return list(dict.fromkeys(self._others))

    def _look_up_product(self, name: str) -> None:
        """Add a product that the tables have. Otherwise it may be the one that is made of what is left over.

        What has an element that no reagent has cannot be meant: the tables know many a common word as a trade name.
        """
        try:
            added = add_substance(self.draft, name, SubstanceWishes(), proposal)
        except FaultsError:
            return
        substances = added.draft.banks.substances
        there = {symbol for one in self.ids.values() for symbol in substances[one].formula.composition}
        if there.issuperset(substances[added.id].formula.composition):
            self._add(name, SubstanceWishes())

    def unknown(self, right: Iterable[WordTerm]) -> WordTerm | None:
        """The one product that is not known; None where all are. Raises FaultsError for several."""
        names = [term for term in right if term.name not in self.ids]
        if self._wishes.tells_product and len(names) > 1:
            first, *others = names
            for term in others:
                self._faults.tried(lambda term=term: self._add(term.name, SubstanceWishes()))  # type: ignore[misc]
            self._faults.stop()
            return first
        if len(names) > 1:
            told = " and ".join(repr(term.name) for term in names)
            hint = "Add all but one of them first: problemgen add substance NAME --formula FORMULA"
            expected = "one product at most that neither the banks nor the tables have"
            raise FaultsError([Fault("add", "equation", told, expected, hint)])
        return names[0] if names else None

    def make(self, product: WordTerm, left: Iterable[WordTerm], right: Iterable[WordTerm]) -> None:
        """Add the product that is not known: its formula is the author's, or that of the atoms left over."""
        wishes = self._wishes
        name = wishes.product_name or self._ask("Name of the product", product.name)
        smiles = wishes.product_smiles or self._ask(f"Structure of {name} as SMILES (empty: none)", "")
        formula = wishes.product_formula
        is_left_over = not formula and not smiles
        if is_left_over:
            formula = left_over(self._counted(left), self._counted(one for one in right if one != product), product)
        known = Names(self.draft.banks).find(name)
        if known is not None:
            self.ids[product.name] = known[0]
            return
        self._add(name, SubstanceWishes(name=name, formula=formula, smiles=smiles), product.name)
        if is_left_over:
            self.worked_out = self.ids[product.name]
            mass = molar_mass(self.draft.banks, self.worked_out)
            self.told.append(
                f"{name}: {formula} ({mass:.1f} g/mol), the atoms left over of "
                "the equation as it is written. If it is another, write the coefficients, or say `--product-formula`."
            )

    def _counted(self, terms: Iterable[WordTerm]) -> list[tuple[int, Formula]]:
        substances = self.draft.banks.substances
        return [(term.coefficient, substances[self.ids[term.name]].formula) for term in terms]

    def _add(self, name: str, wishes: SubstanceWishes, word: str = "") -> str:
        try:
            added = add_substance(self.draft, name, wishes, self._ask)
        except FormulaError as error:
            raise FaultsError([Fault("add", "product", str(error), "a structure that can be read")]) from None
        self.ids[word or name] = added.id
        if added.draft is not self.draft:
            self.told.extend(added.told)
            self.left.extend(added.left)
            self.draft = added.draft
        return added.id


_REMARKS = {
    "kind": "and whatever else you call it",
    "purpose": 'or "paper", for what is only calculated',
    "yield_percent": "own choice: check against your procedure",
    "flasks": "own choice: capacities in mL, of which the largest is filled to two thirds at most",
    "product_scale_mmol": "own choice: check against your procedure",
}


def _entry(banks: Banks, name: str, product: str, sides: Sides, ask: Ask) -> Mapping[str, Any]:
    substances = banks.substances
    reagents = [substances[one].name for _, one in sides[0]]
    called = f"{substances[product].name} from {_row(reagents)}"
    return {
        "id": name,
        "name": ask("What the reaction is called", called),
        "equation": words_text(*sides),
        "product": product,
        "kind": _kind(substances[product].formula),
        "purpose": "laboratory",
    }


def _measures(banks: Banks, sides: Sides, product: str, wishes: ReactionWishes, ask: Ask) -> Mapping[str, Any]:
    low, high = _scale(banks, product, wishes, ask)
    number = next(nu for nu, name in sides[1] if name == product)
    reagents = [(nu / number, name) for nu, name in sides[0]]
    return {
        "yield_percent": _pair("Usual yield in percent", [Decimal(one) for one in _YIELD], "yield", "%", ask),
        "flasks": flasks_for(banks, reagents, float(low), float(high)),
        "product_scale_mmol": [low, high],
    }


def _row(names: list[str]) -> str:
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))


def _kind(formula: Formula) -> str:
    return (
        "organic preparation"
        if {"C", "H"} <= formula.composition.keys() and "[" not in formula.text
        else "inorganic preparation"
    )


def _scale(banks: Banks, product: str, wishes: ReactionWishes, ask: Ask) -> list[Decimal]:
    """The usual amount of product, mmol: half to twice of what weighs a little."""
    middle = 1000 * _GRAMS / molar_mass(banks, product)
    low = max((one for one in _NICE if one <= middle / math.sqrt(2)), default=_NICE[0])
    high = min((one for one in _NICE if one >= middle * math.sqrt(2)), default=_NICE[-1])
    proposed = [Decimal(low), Decimal(max(high, 2 * low))]
    if wishes.scale:
        return _read_pair(wishes.scale, "scale", "mmol")
    return _pair("Amount of product in mmol", proposed, "scale", "mmol", ask)


def _pair(question: str, proposed: list[Decimal], key: str, unit: str, ask: Ask) -> list[Decimal]:
    text = " to ".join(map(str, proposed))
    return answered(ask, question, text, lambda answer: _read_pair(answer, key, unit))


def _read_pair(text: str, key: str, unit: str) -> list[Decimal]:
    """A range as it is typed: "5 to 20", "5-20". Raises FaultsError."""
    found = [positive(key, one, unit) for one in re.split(r"\s+to\s+|\s*[-–]\s*", text.strip())]
    if len(found) != 2 or found[0] >= found[1]:
        raise FaultsError([Fault("add", key, repr(text), f"a range that rises, in {unit}, such as 5 to 20")])
    return found


def _there(banks: Banks, sides: Sides) -> Reaction | None:
    """A reaction of the banks with the same substances on the same sides."""
    mine = {name: sign for sign, side in zip((-1, 1), sides, strict=True) for _, name in side}
    alike = (
        one
        for one in banks.reactions.values()
        if {name: math.copysign(1, nu) for name, nu in one.coefficients.items()} == mine
    )
    return next(alike, None)


def _completed(
    draft: Draft, one: Reaction, arrow: Mapping[str, Any], wishes: ReactionWishes, found: _Finding
) -> AddedReaction:
    """A reaction of the course with what is said of it. Raises FaultsError for one of ours, or where nothing is."""
    scale = {"product_scale_mmol": _read_pair(wishes.scale, "scale", "mmol")} if wishes.scale else {}
    said = {**arrow, **scale}
    if not said or not is_own(draft, "reaction", one.id):
        hint = f"problemgen add template {one.id}"
        expected = "a reaction that the banks do not have"
        raise FaultsError([Fault("add", "equation", f"the reaction {one.id!r} of the banks", expected, hint)])
    draft = with_values(draft, "reaction", one.id, said, without_arrow_notes)
    draft.banks  # noqa: B018 - what the banks would refuse is refused here
    told = f"{one.name} is there already: id {one.id}; {', '.join(said)}: written in its entry in banks/reactions.toml."
    return AddedReaction(one.id, draft, (*found.told, told), tuple(found.left))


def _free(taken: Mapping[str, object], name: str) -> str:
    """A name, with a number behind it where it is taken."""
    number, found = 1, name
    while found in taken:
        number += 1
        found = f"{name}-{number}"
    return found


def _told(banks: Banks, name: str, *, changed: bool) -> Iterable[str]:
    one = banks.reactions[name]
    assert one.product_scale_mmol is not None  # it was written just now
    low, high = one.product_scale_mmol
    grams = [molar_mass(banks, one.product) / 1000 * float(end.value) for end in (low, high)]
    percent = " to ".join(number.text for number in one.yield_percent)
    yield f"{one.name}: id {name}"
    yield f"  {'balanced' if changed else 'equation'}    {one.equation}"
    yield f"  scale       {low.text} to {high.text} mmol ({grams[0]:.2g} to {grams[1]:.2g} g)"
    yield f"  yield       {percent} %: own choice, as the scale is: check both against your procedure"
    yield "  Written to banks/reactions.toml."
