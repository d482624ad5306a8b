"""The species that a problem with fixed numbers names, by formula or by a name from its `substances`."""

from __future__ import annotations

from dataclasses import replace

from problemgen.chemistry.elements import ELEMENTS
from problemgen.chemistry.equation import Equation, balance, check_balanced, read_equation
from problemgen.chemistry.formula import Formula, read_formula
from problemgen.errors import EquationError, FormulaError
from problemgen.load.fault_log import FaultLog
from problemgen.load.problems.documents import ProblemDocument
from problemgen.load.templates.givens import MIXTURE, SOLUTION
from problemgen.model.problem import Species
from problemgen.plan.laws.formulas import COMPOUND

__all__ = ["PRODUCT", "NamedSpecies"]

PRODUCT = "product"
"""The product of the equation; without an equation, whatever was made."""

_TAKEN = (MIXTURE, SOLUTION, "sample", "batch", PRODUCT, COMPOUND, "atoms")
"""Words that mean something else where a substance is named."""


class NamedSpecies:
    """The species of a problem, in the order in which they come up, those of the equation first.

    The id of a species is its formula; its name where it has no formula, or shares it with another one.
    """

    def __init__(self, document: ProblemDocument, faults: FaultLog, *, balanced: bool) -> None:
        """Read the names and the equation; `balanced` tells whether the coefficients have to stand in it."""
        self.faults = faults
        self.found: dict[str, Species] = {}
        self._formulas = {name: self._formula(name, text) for name, text in document.substances.items()}
        if document.equation is not None:
            self._read_equation(document.equation, balanced=balanced)
        elif document.product is None and PRODUCT in (line.of for line in document.given):
            self.found[PRODUCT] = Species(PRODUCT, "the product")
        if document.unknown is not None:
            self._read_unknown(document.unknown.elements)
        for name, formula in self._formulas.items():
            self._added(f"substances.{name}", formula, name)

    def id_of(self, key: str, text: str) -> str:
        """The id of the species that a word means, which is added where it is new; "" with a fault kept for none."""
        if text in self._formulas:
            return self._added(key, self._formulas[text], text)
        if text in (COMPOUND, PRODUCT) and text in self.found:
            return text
        try:
            return self._added(key, read_formula(text), "")
        except FormulaError as error:
            expected = ", ".join(("a formula", *self._formulas)) if self._formulas else f"a formula: {error.reason}"
            self.faults.unknown(key, text, self._formulas, f"{expected}; other names stand in `substances`")
            return ""

    def _formula(self, name: str, text: str | None) -> Formula | None:
        if name in _TAKEN:
            self.faults.add(f"substances.{name}", repr(name), f"another name than {', '.join(_TAKEN)}")
        try:
            return read_formula(text) if text is not None else None
        except FormulaError as error:
            self.faults.add(f"substances.{name}", repr(text), f"a formula: {error.reason}")
            return None

    def _added(self, key: str, formula: Formula | None, name: str, coefficient: int = 0) -> str:
        """The id of a species by its formula, and by its name where it has one."""
        names = [
            one
            for one, other in self._formulas.items()
            if other is not None and formula is not None and other.text == formula.text
        ]
        if formula is not None and len(names) > 1 and not name:
            self.faults.add(key, repr(formula.text), f"a name: {' or '.join(names)} have this formula")
            return ""
        own = formula.text if formula is not None and len(names) < 2 else name
        if own not in self.found:
            shown = name or next(iter(names), own)
            self.found[own] = Species(own, shown, formula, coefficient)
        return own

    def weighed(self) -> dict[str, Species]:
        """All species; a hydrate outside the equation stands for its salt, where the problem names that too."""
        return {name: replace(species, stands_for=self._salt(species)) for name, species in self.found.items()}

    def _salt(self, species: Species) -> str:
        has_water = species.formula is not None and species.formula.crystal_water and not species.coefficient
        salt = species.formula.text.rpartition(".")[0] if species.formula is not None and has_water else ""
        return salt if salt in self.found else ""

    def _read_equation(self, text: str, *, balanced: bool) -> None:
        try:
            equation: Equation = read_equation(text)
            if balanced:
                check_balanced(equation)
            else:
                equation = balance(equation)
        except (EquationError, FormulaError) as error:
            self.faults.add("equation", repr(text), f"a balanced equation: {error}")
            return
        for sign, side in ((-1, equation.left), (1, equation.right)):
            for term in side:
                if term.formula.text in self.found:
                    self.faults.add("equation", repr(text), f"{term.formula.text} once, on one side")
                self._added("equation", term.formula, "", sign * term.coefficient)

    def _read_unknown(self, elements: tuple[str, ...]) -> None:
        """Add the elements of the unknown compound, and the compound."""
        for number, symbol in enumerate(elements, start=1):
            if symbol in ELEMENTS:
                self._added(f"unknown.elements.{number}", read_formula(symbol), "")
            else:
                self.faults.add(f"unknown.elements.{number}", repr(symbol), "the symbol of an element")
        self.found[COMPOUND] = Species(COMPOUND, COMPOUND)
