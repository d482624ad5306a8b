"""Which substance of the banks a text means: by id, name, synonym, CAS number, formula or structure."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping
from functools import cached_property

from problemgen.chemistry.formula import read_formula
from problemgen.chemistry.structure import structure_key
from problemgen.errors import FormulaError
from problemgen.model.banks import Banks, Substance

__all__ = ["Names", "id_of"]

_GREEK = {"α": "alpha", "β": "beta", "γ": "gamma", "δ": "delta", "ε": "epsilon", "μ": "mu", "π": "pi", "ω": "omega"}


def id_of(name: str) -> str:
    """A name as an id: its letters in small and its figures, a hyphen for all else; "" where nothing is left.

    >>> id_of("Nickel(II) chloride hexahydrate"), id_of("β-ionone"), id_of("2,2′-bipyridine")
    ('nickel-ii-chloride-hexahydrate', 'beta-ionone', '2-2-bipyridine')
    """
    spelled = "".join(_GREEK.get(letter, letter) for letter in name.lower())
    plain = unicodedata.normalize("NFKD", spelled)
    bare = "".join(letter for letter in plain if not unicodedata.combining(letter))
    return "-".join(re.findall(r"[a-z0-9]+", bare))


class Names:
    """The names of the banks' substances."""

    def __init__(self, banks: Banks) -> None:
        """Take the substances; what is costly to compare is worked out when it is first wanted."""
        self._substances = banks.substances
        texts = ((one.id, *told) for one in banks.substances.values() for told in _texts(one, banks))
        self._named = {id_of(text): (name, how) for name, text, how in texts}
        self._named |= {one: (one, "id") for one in banks.substances}

    def find(self, text: str) -> tuple[str, str] | None:
        """The id of the substance that a text means, and what it was found by; None for none of them."""
        named = self._named.get(id_of(text))
        if named is not None:
            return named
        number = next((one.id for one in self._substances.values() if one.cas == text), None)
        if number is not None:
            return number, "CAS number"
        return self._by_formula(text) or self.of_structure(text)

    def of_structure(self, smiles: str) -> tuple[str, str] | None:
        """The same by a structure alone."""
        try:
            found = self._structures.get(structure_key(smiles))
        except FormulaError:
            return None
        return (found, "structure") if found is not None else None

    def _by_formula(self, text: str) -> tuple[str, str] | None:
        """The one substance of a formula; of organic ones the formula tells none, there may always be isomers."""
        try:
            formula = read_formula(text)
        except FormulaError:
            return None
        if {"C", "H"} <= formula.composition.keys():
            return None
        written = formula.text
        found = [one.id for one in self._substances.values() if one.formula.text == written]
        return (found[0], "formula") if len(found) == 1 else None

    @cached_property
    def _structures(self) -> Mapping[str, str]:
        return {structure_key(one.smiles): one.id for one in self._substances.values() if one.smiles is not None}


def _texts(one: Substance, banks: Banks) -> Iterator[tuple[str, str]]:
    yield from ((text, "synonym") for text in banks.also_called(one))
    yield one.name, "name"
