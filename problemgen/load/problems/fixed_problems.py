"""Problems with fixed numbers, as a JSON file or as Python data, in the terms of templates.

A file holds a list of problems, or one. A problem:

    id          its name; left out, its number in the list
    equation    "2 Al + 3 Cl2 -> 2 AlCl3", balanced; only where `balanced_equation` is asked, coefficients may lack
    substances  what has a name: {"aspirin": "C9H8O4", "brine": null}, null for what has no formula
    product     the species that "product" means, where the equation has several
    in_excess   the reagents that never limit: ["H2SO4"]
    solvent     what a solution is in, where amounts or masses of it matter (molality, mole fractions)
    unknown     a compound whose formula is asked: {"elements": ["C", "H", "O"], "rest": "O"}; the rest, if there is
                one, is found by difference; lines call it "compound"
    given       lines: {"quantity", "of", "role", "stage", "value", "unit"}
    asked       lines: {"quantity", "of", "role", "stage", "from", "unit", "answer"}, or
                {"which", "quantity", "of", "answer"}
    source      where it is from; and `note`, anything else: text that is not read

A line's quantity is a kind of problemgen.model.quantity, or `purity` (given), `limiting_reagent`,
`empirical_formula`, `molecular_formula`, `balanced_equation` (asked). `of` is a formula, a name from `substances`,
"mixture" (the gases together), "sample" (as a whole), "product" (asked: the equation's, and a line may leave it out;
given: what was made, where the problem has no equation and does not say what it is). `role`
is a role of that module, with its `stage` where it counts them; without it a quantity is what a template takes it for
(a volume beside a concentration is the solution's, a product's mass is the theoretical one), with the role "" it is
the substance's own. `from` names the reagent that a product is reckoned from. With `which` ("greatest" or "least")
the answer is the substance, of those that something is given of, that has most or least of the quantity, or of what
`of` names (an element, or "atoms").

Values and given answers are text, so that their figures survive; the numbers of a JSON file keep their digits too. A
unit may be left out of a plain number, and of what is asked in the unit that templates take. A hydrate that is weighed
in the place of a salt is told by its own formula.

A file's own faults are raised: it cannot be read, is no list of objects, has the same id twice. Faults within a
problem, all of them, become its `error`, and the others are solved.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from problemgen.errors import ProblemgenError, UnderivableError
from problemgen.load.documents import as_document, shown
from problemgen.load.fault_log import FaultLog
from problemgen.load.plain_data import read_json
from problemgen.load.problems.documents import GivenLine, ProblemDocument, QuestionLine
from problemgen.load.problems.named_species import PRODUCT, NamedSpecies
from problemgen.load.templates.document import ValueDocument
from problemgen.load.templates.givens import DISSOLVED, Purpose, quantity_in_role, stated_quantities
from problemgen.load.templates.parts import WHOLES, read_asked, read_role
from problemgen.load.templates.values import read_value
from problemgen.model.fixed import ATOMS, Datum, FixedProblem, Question, Ranking
from problemgen.model.problem import Constant, Scene
from problemgen.model.quantity import KINDS, PROBLEM_KINDS, Quantity, Role
from problemgen.model.template import Fixed
from problemgen.plan.forms import form_of
from problemgen.plan.forms.equation import EQUATION
from problemgen.plan.forms.formula import FORMULA

__all__ = ["load_problems", "read_problems"]

_GIVABLE = {kind: kind for kind in PROBLEM_KINDS} | {"purity": "mass_fraction"}
_RANKED = ("mass", "amount", "count")
_LINE = ("quantity", "of", "role", "stage", "from", "unit", "which")


def load_problems(path: Path, weights: Mapping[str, Constant]) -> tuple[FixedProblem, ...]:
    """The problems of a file; `weights` are the elements' atomic weights.

    Raises:
        FaultsError: for a file that cannot be read, and for the faults of the file that the module's docstring names.
    """
    faults = FaultLog(str(path))
    data = read_json(path, faults)
    return read_problems(data, weights, str(path))


def read_problems(data: Any, weights: Mapping[str, Constant], file: str = "problems") -> tuple[FixedProblem, ...]:
    """The problems of a list, or of one object; `file` is what faults of the whole call it.

    Raises:
        FaultsError: for what is no list of objects, or an id that stands twice.
    """
    faults = FaultLog(file)
    entries = [data] if isinstance(data, Mapping) else data
    if not isinstance(entries, Sequence) or isinstance(entries, str | bytes):
        faults.refuse("", shown(data), "a list of problems, or one")
    named: dict[str, Mapping[str, Any]] = {}
    for number, entry in enumerate(entries, start=1):
        if not isinstance(entry, Mapping):
            faults.add(str(number), shown(entry), "a problem: an object")
            continue
        name = _text(entry.get("id")) or str(number)
        if name in named:
            faults.add(f"{number}.id", f"{name!r} again", "each problem by a name of its own")
        named[name] = entry
    faults.stop()
    return tuple(_problem(name, entry, weights) for name, entry in named.items())


def _problem(name: str, entry: Mapping[str, Any], weights: Mapping[str, Constant]) -> FixedProblem:
    """A problem; one with faults keeps them as its error."""
    lines = entry.get("asked")
    questions = tuple(map(_question, lines)) if isinstance(lines, Sequence) and not isinstance(lines, str) else ()
    faults = FaultLog("")
    try:
        return _Reader(name, as_document(entry, ProblemDocument, faults), weights, questions, faults).problem()
    except ProblemgenError as error:
        return FixedProblem(name, None, {}, {}, questions, str(error))


def _question(data: Any) -> Question:
    """An asked line as it was written, whatever it asks."""
    line = data if isinstance(data, Mapping) else {}
    return Question({key: _text(line.get(key)) for key in _LINE}, None, _text(line.get("answer")))


def _text(value: Any) -> str | None:
    return None if value is None else str(value)


@dataclass
class _Reader:
    """One problem."""

    name: str
    document: ProblemDocument
    weights: Mapping[str, Constant]
    questions: tuple[Question, ...]
    faults: FaultLog
    given: dict[Quantity, Datum] = field(default_factory=dict)
    words: dict[Quantity, str] = field(default_factory=dict)

    def problem(self) -> FixedProblem:
        """The record. Raises FaultsError with all faults, UnderivableError for an element without an atomic weight."""
        document = self.document
        to_balance = any(line.quantity in EQUATION.asks for line in document.asked)
        if to_balance and document.equation is None:
            self.faults.add("equation", "nothing", "the equation that is to be balanced")
        names = NamedSpecies(document, self.faults, balanced=not to_balance)
        product = self.product(names)
        asked = [self.resolved(names, product, index, line) for index, line in enumerate(document.asked, start=1)]
        solvent = names.id_of("solvent", document.solvent) if document.solvent is not None else ""
        self.read_given(names, self.purpose(names, asked))
        self.check_unknown()
        scene = Scene(
            species=names.weighed(),
            given=frozenset(self.given),
            weights=self.weights,
            product=product,
            in_excess=self.in_excess(names),
            solvent=solvent,
            unknown=document.unknown.elements if document.unknown else (),
            unknown_rest=(document.unknown.rest or "") if document.unknown else "",
        )
        questions = tuple(
            self.question(scene, index, line) for index, line in enumerate(asked, start=1) if line is not None
        )
        self.faults.stop()
        self.check_weights(scene)
        return FixedProblem(self.name, scene, self.given, self.words, questions)

    def product(self, names: NamedSpecies) -> str:
        """The species that "product" means: the one named, the only one on the right, or without an equation what was
        made; "" for none.
        """
        if self.document.product is not None:
            return names.id_of("product", self.document.product)
        products = [one.id for one in names.found.values() if one.is_product or one.id == PRODUCT]
        return products[0] if len(products) == 1 else ""

    def in_excess(self, names: NamedSpecies) -> frozenset[str]:
        """The reagents that never limit."""
        found = [names.id_of(f"in_excess.{n}", text) for n, text in enumerate(self.document.in_excess, start=1)]
        for number, name in enumerate(found, start=1):
            if name and names.found[name].coefficient >= 0:
                self.faults.add(f"in_excess.{number}", repr(name), "a reagent of the equation")
        return frozenset(found)

    def resolved(self, names: NamedSpecies, product: str, index: int, line: QuestionLine) -> QuestionLine | None:
        """An asked line with ids for names; None, with a fault kept, for a line with another name."""
        ids: dict[str, str] = {}
        for key, text in (("of", line.of), ("source", line.source)):
            if text == PRODUCT and product:
                ids[key] = product
            elif text is not None and text not in WHOLES and not (line.which and text == ATOMS):
                ids[key] = names.id_of(f"asked.{index}.{'from' if key == 'source' else key}", text)
        return None if "" in ids.values() else line.model_copy(update=ids)

    def purpose(self, names: NamedSpecies, asked: Iterable[QuestionLine | None]) -> Purpose:
        """What the equation and the asked lines tell about given values, as in a template."""
        dissolved = {line.of for line in asked if line and line.role is None and line.quantity in DISSOLVED}
        products = {species.id for species in names.found.values() if species.is_product}
        return Purpose(frozenset(products), frozenset(name for name in dissolved if name is not None))

    def read_given(self, names: NamedSpecies, purpose: Purpose) -> None:
        """Take the given values."""
        lines = [(line, self.given_of(names, index, line)) for index, line in enumerate(self.document.given, start=1)]
        told: dict[tuple[str, str, int], set[str]] = {}
        for line, name in lines:
            told.setdefault((name, line.role or "", line.stage), set()).add(line.quantity)
        for index, (line, name) in enumerate(lines, start=1):
            place = self.faults.at("given", index)
            role = read_role(place, line.role, line.stage, WHOLES.get(name, Role.PLAIN))
            if line.quantity not in _GIVABLE:
                place.unknown("quantity", line.quantity, _GIVABLE)
            elif name and role is not None:
                beside = told[name, line.role or "", line.stage]
                self.take(place, line, _quantity(line, name, role, beside, purpose))

    def given_of(self, names: NamedSpecies, index: int, line: GivenLine) -> str:
        """The id of what a given line is about."""
        return line.of if line.of in WHOLES else names.id_of(f"given.{index}.of", line.of)

    def take(self, place: FaultLog, line: GivenLine, quantity: Quantity) -> None:
        """Take one given value."""
        kind = KINDS[quantity.kind]
        if quantity in self.given:
            place.add("quantity", f"the {self.words[quantity]} again", "each quantity once, or a `role`")
        elif line.unit is None and kind.unit != "1":
            place.add("unit", "nothing", f"a unit of {kind.words}, such as {kind.unit}")
        else:
            written = ValueDocument(unit=line.unit or "1", value=line.value)
            value = read_value(place, quantity, written, {})
            if isinstance(value, Fixed):
                self.given[quantity] = Datum(value.written, value.unit)
                self.words[quantity] = _words(line)

    def check_unknown(self) -> None:
        """Keep faults for an unknown compound that lacks, or is at odds with itself."""
        unknown = self.document.unknown
        for index, line in enumerate(self.document.asked, start=1):
            if unknown is None and line.quantity in FORMULA.asks:
                self.faults.add(f"asked.{index}.quantity", repr(line.quantity), "`unknown`, with the elements")
        if unknown is not None and unknown.rest not in (None, *unknown.elements):
            self.faults.unknown("unknown.rest", unknown.rest or "", unknown.elements)

    def question(self, scene: Scene, index: int, line: QuestionLine) -> Question:
        """An asked line, with what it asks for."""
        place, written = self.faults.at("asked", index), self.questions[index - 1]
        if line.which is not None:
            return replace(written, target=self.ranking(place, line))
        asked = read_asked(place, line, scene)
        target = asked[0] if asked else None
        unit = target.unit if target is not None and form_of(target).has_window and target.unit != "1" else None
        return replace(written, target=target, line={**written.line, "unit": unit})

    def ranking(self, place: FaultLog, line: QuestionLine) -> Ranking:
        """What a line with `which` compares."""
        if line.quantity not in _RANKED:
            place.unknown("quantity", line.quantity, _RANKED)
        return Ranking(line.quantity, line.which == "greatest", line.of or "")

    def check_weights(self, scene: Scene) -> None:
        """Raise UnderivableError for elements without an atomic weight."""
        used = {symbol for one in scene.species.values() if one.formula for symbol in one.formula.composition}
        missing = sorted(used - self.weights.keys())
        if missing:
            raise UnderivableError(f"banks/elements.toml has no atomic weight of {', '.join(missing)}")


def _quantity(line: GivenLine, name: str, role: Role, told: Collection[str], purpose: Purpose) -> Quantity:
    """The quantity that a given line is about; `told` are those of the same species in the same role."""
    if line.role is None and name not in WHOLES:
        return stated_quantities(name, told, purpose)[line.quantity]
    return quantity_in_role(_GIVABLE[line.quantity], "" if name in WHOLES else name, role, line.stage, told)


def _words(line: GivenLine) -> str:
    """A given line in words: "volume of HCl (diluted 2)"."""
    role = " ".join(str(part) for part in (line.role, line.stage) if part)
    return f"{line.quantity.replace('_', ' ')} of {line.of}" + (f" ({role})" if role else "")
