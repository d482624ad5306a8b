"""An unknown compound of a template: hidden formulas, and the analysis that follows from each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from math import gcd

from problemgen.chemistry.elements import ELEMENTS
from problemgen.chemistry.formula import Formula, read_formula
from problemgen.errors import FormulaError
from problemgen.exact.digits import Written, read_written
from problemgen.language.messages import N_
from problemgen.load.fault_log import FaultLog, nearest
from problemgen.load.templates.document import UnknownDocument, ValueDocument, VapourDocument
from problemgen.model.banks import Banks, Substance
from problemgen.model.expression import Expression
from problemgen.model.problem import Species
from problemgen.model.quantity import Quantity, Role
from problemgen.model.template import Analysed, Unknown
from problemgen.plan.constants import GAS_CONSTANT
from problemgen.plan.laws.formulas import COMPOUND, SAMPLE
from problemgen.plan.laws.heating import HEATED, crystal_water

__all__ = ["UnknownReader"]

_PERCENT_STEP = read_written("0.01")
_SPREAD = 5
"""Steps by which a percentage scatters: 0.05 %, well within what journals ask of an analysis (0.4 %, from memory)."""

_HEATING_SPREAD = 3
"""Steps of the balance by which the mass after heating scatters: common practice, no source."""

_VAPOUR_SPREAD = 3
"""Steps by which the density or the mass of a gas scatters: common practice, no source."""

_BURNT = {"C": ("carbon-dioxide", 1), "H": ("water", 2)}
"""What an element becomes on combustion, and how many of its atoms that substance holds."""


@dataclass(frozen=True)
class UnknownReader:
    """Reads one template's unknown compound; the log stands at its place. Faults are raised together."""

    faults: FaultLog
    document: UnknownDocument
    banks: Banks

    def formulas(self) -> tuple[Formula, ...]:
        """The hidden formulas: of the same elements, each read."""
        found, before = [], len(self.faults)
        for index, text in enumerate(self.document.formulas, start=1):
            try:
                found.append(read_formula(text))
            except FormulaError as error:
                self.faults.add(f"formulas.{index}", str(error), "a chemical formula")
        elements = {frozenset(formula.composition) for formula in found}
        if len(elements) > 1:
            self.faults.add("formulas", "formulas of different elements", "formulas of the same elements")
        if len(self.faults) > before:
            self.faults.stop()
        return tuple(found)

    def elements(self) -> tuple[str, ...]:
        """The compound's elements: the rest last."""
        first = self.formulas()[0]
        named = tuple(symbol for symbol, _ in first.counts if symbol != self.document.rest)
        return (*named, self.document.rest) if self.document.rest else named

    def species(self) -> dict[str, Species]:
        """The elements, what is weighed of them, and the compound."""
        species = {symbol: Species(symbol, ELEMENTS[symbol], read_formula(symbol)) for symbol in self.elements()}
        for name, _ in _BURNT.values() if self.document.analysis == "combustion" else ():
            substance = self.banks.substances[name]
            species[name] = Species(name, substance.name, substance.formula)
        return {**species, COMPOUND: Species(COMPOUND, N_("the compound"))}

    def salt(self) -> Substance:
        """The salt that all hydrates are of. Raises FaultsError where there is none, or more than one."""
        texts = {formula.text.rpartition(".")[0] if formula.crystal_water else "" for formula in self.formulas()}
        found = [one for one in self.banks.substances.values() if {one.formula.text} == texts and one.state == "solid"]
        if not found:
            expected = "hydrates of one salt in banks/substances.toml, each with its water: MgSO4.7H2O, MgSO4.6H2O"
            self.faults.refuse("formulas", ", ".join(self.document.formulas), expected)
        return found[0]

    def hydrate_species(self) -> dict[str, Species]:
        """The salt without water, and the water."""
        both = (self.salt(), self.banks.substances["water"])
        return {one.id: Species(one.id, one.name, one.formula) for one in both}

    def hydrate(self) -> Unknown:
        """A hydrate, weighed before and after heating."""
        formulas, salt = self.formulas(), self.salt()
        left = tuple(self.mass(salt.formula) / self.mass(formula) for formula in formulas)
        residue = Analysed(HEATED, self.unit(), self.step(), left, SAMPLE.id, spread=_HEATING_SPREAD)
        truths = {crystal_water(salt.id).id: tuple(Fraction(formula.crystal_water) for formula in formulas)}
        return Unknown(tuple(formula.text for formula in formulas), (residue,), truths)

    def unknown(self) -> Unknown:
        """The compound with its analysis. Raises FaultsError."""
        if self.document.analysis == "heating":
            return self.hydrate()
        formulas = self.formulas()
        masses = {
            Quantity("molar_mass", COMPOUND, Role.MOLECULAR).id: tuple(self.mass(formula) for formula in formulas),
            Quantity("molar_mass", COMPOUND, Role.EMPIRICAL).id: tuple(self.mass(f) / _common(f) for f in formulas),
        }
        return Unknown(tuple(formula.text for formula in formulas), tuple(self.analysed(formulas)), masses)

    def mass(self, formula: Formula) -> Fraction:
        """A formula's molar mass in g/mol."""
        weights = self.banks.weights
        return sum((weights[symbol].value * count for symbol, count in formula.counts), Fraction(0))

    def analysed(self, formulas: tuple[Formula, ...]) -> Iterator[Analysed]:
        """What the analysis gives, for each of the formulas."""
        if self.document.analysis == "combustion":
            yield from self.burnt(formulas)
        else:
            yield from self.parts(formulas)
        if self.document.vapour is not None:
            yield from self.vapour(self.document.vapour, formulas)
        if self.document.molar_mass is not None:
            told = tuple(self.mass(formula) for formula in formulas)
            yield Analysed(Quantity("molar_mass", COMPOUND), "g/mol", self.document.molar_mass, told)

    def vapour(self, document: VapourDocument, formulas: tuple[Formula, ...]) -> Iterator[Analysed]:
        """The density of the gas, or the mass of a volume of it: M p/(RT), or that times V."""
        pressure, temperature, volume = (Quantity(kind, COMPOUND).id for kind in ("pressure", "temperature", "volume"))
        per_litre = tuple(self.mass(formula) / GAS_CONSTANT for formula in formulas)
        if document.density is not None:
            amount: Expression = ("div", pressure, temperature)
            quantity, unit, step = Quantity("density", COMPOUND), "g/L", document.density
        else:
            amount = ("div", ("mul", pressure, volume), temperature)
            quantity, unit, step = Quantity("mass", COMPOUND), "g", self.step_of(document.read, "vapour.read")
        yield Analysed(quantity, unit, step, per_litre, amount, spread=_VAPOUR_SPREAD)

    def conditions(self) -> Iterator[tuple[Quantity, str, ValueDocument]]:
        """What is given of the compound as a gas, each with its key; FaultsError where that is at odds."""
        document = self.document.vapour
        if document is None:
            return
        weighed = document.volume is not None and document.read is not None
        told = [document.volume, document.read, document.density]
        if weighed == (document.density is not None) or (not weighed and any(one is not None for one in told[:2])):
            expected = "either `density`, or `volume` with `read`, the balance on which that volume is weighed"
            self.faults.refuse("vapour", "no single way to know how heavy the gas is", expected)
        for kind in ("pressure", "temperature", "volume"):
            value = getattr(document, kind)
            if value is not None:
                yield Quantity(kind, COMPOUND), f"vapour.{kind}", value

    def burnt(self, formulas: tuple[Formula, ...]) -> Iterator[Analysed]:
        """Carbon dioxide and water from the sample."""
        for symbol, (name, atoms) in _BURNT.items():
            product = self.mass(self.banks.substances[name].formula)
            shares = tuple(Fraction(f.count(symbol), atoms) * product / self.mass(f) for f in formulas)
            yield Analysed(Quantity("mass", name), self.unit(), self.step(), shares, SAMPLE.id)

    def parts(self, formulas: tuple[Formula, ...]) -> Iterator[Analysed]:
        """The mass or percentage of each element but the rest."""
        percent = self.document.analysis == "percent"
        for symbol in self.elements():
            if symbol != self.document.rest:
                weight = self.banks.weights[symbol].value
                shares = tuple(weight * f.count(symbol) / self.mass(f) for f in formulas)
                if percent:
                    told = tuple(100 * share for share in shares)
                    yield Analysed(Quantity("mass_fraction", symbol), "%", _PERCENT_STEP, told, spread=_SPREAD)
                else:
                    yield Analysed(Quantity("mass", symbol), self.unit(), self.step(), shares, SAMPLE.id)

    def unit(self) -> str:
        """The unit of what is weighed: the sample's."""
        return self.document.sample.unit if self.document.sample else "g"

    def step(self) -> Written:
        """The step of the balance. Raises FaultsError where it is not told."""
        return self.step_of(self.document.read, "read")

    def step_of(self, balance: str | None, key: str) -> Written:
        """The step of a balance, named at a key. Raises FaultsError for none."""
        glass = self.banks.glassware.get(balance or "")
        if glass is None:
            found = repr(balance) if balance else "nothing"
            self.faults.refuse(
                key, found, "a balance in banks/glassware.toml", nearest(balance or "", self.banks.glassware)
            )
        return glass.step


def _common(formula: Formula) -> int:
    """How many empirical formulas the formula holds."""
    return gcd(*(count for _, count in formula.counts))
