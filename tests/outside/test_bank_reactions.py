"""The bank's reactions: balanced by an independent count, and balanced anew by the `chempy` package."""

from __future__ import annotations

import re
import tomllib
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from chempy import Substance, balance_stoichiometry
from rdkit import Chem

from problemgen.chemistry.formula import read_formula
from tests.support.every_row import for_every

BANKS = Path(__file__).parents[2] / "banks"
TABLE = Chem.GetPeriodicTable()


def bank(name: str) -> list[dict[str, Any]]:
    """The entries of one bank file, numbers as written."""
    text = (BANKS / f"{name}s.toml").read_text(encoding="utf-8")
    entries: list[dict[str, Any]] = tomllib.loads(text, parse_float=Decimal)[name]
    return entries


REACTIONS = {entry["id"]: entry for entry in bank("reaction")}
SUBSTANCES = {entry["id"]: entry for entry in bank("substance")}
FORMULAS = {name: entry["formula"] for name, entry in SUBSTANCES.items()}

# Several independent sets of coefficients balance these: the same species take part in a second balanced
# change. Practice, not the count of atoms, settles these coefficients; chempy reports the system as open.
SEVERAL_SOLUTIONS = frozenset(
    {
        "alpha-glucose-pentaacetate",
        "aspirin",
        "aspirin-hydrolysis",
        "ethyl-acetoacetate",
        "furfural-semicarbazone",
        "glucose-pentaacetate",
        "hexaphenylbenzene",
        "iodoform",
        "knoevenagel-cinnamic-acid",
        "pechmann-coumarin",
        "permanganate-peroxide",
        "salicylic-acid",
        "triphenylmethanol",
    }
)

# The reactions that sheets and classes count on, in the order of the equation.
PRINTED = {
    "triphenylmethanol": "2 2 1 2 1 1 1 1",
    "potassium-alum": "2 2 4 22 2 3",
    "potassium-trioxalatoferrate": "2 3 3 1 2 2 2 17",
    "dibenzalacetone": "2 1 1 2",
    "adipic-acid": "3 8 8 3 8 8 4",
    "adipic-acid-from-cyclohexanol": "3 8 3 8 7",
    "benzhydrol": "4 1 1 3 4 1 1",
    "calcium-phosphate": "3 2 1 6 30",
    "permanganate-oxalate": "2 5 3 2 1 10 18",
    "permanganate-iron": "2 10 8 5 2 1 78",
    "thiosulfate-iodine": "2 1 1 2",
    "hydrogen-from-aluminium": "2 6 2 3",
    "dichromate-iron": "1 6 7 1 3 1 49",
    "dichromate-iodide": "1 6 7 1 3 4 7",
    "dichromate-ethanol": "2 3 8 2 3 2 11",
    "chrome-alum": "1 3 4 17 2 3",
    "prussian-blue": "4 3 1 12 33",
    "octane-combustion": "2 25 16 18",
    "ammonia-oxidation": "4 5 4 6",
    "borax-hcl": "1 2 4 2 5",
    "copper-ii-nitrate": "1 4 1 2 2",
    "aspirin-hydrolysis": "1 2 1 1 1",
    "benzil": "1 2 1 2 2",
    "sulfanilamide": "1 1 1 1",
    "ethanol-from-sucrose": "1 1 4 4",
    "luminol": "1 3 6 1 6 2",
}


def side(text: str) -> dict[str, int]:
    """The coefficients of one side by substance."""
    terms = [re.fullmatch(r"(?:([1-9][0-9]*) )?([a-z0-9-]+)", term) for term in text.split(" + ")]
    found = {match[2]: int(match[1] or 1) for match in terms if match is not None}
    assert len(found) == len(terms), text
    return found


def sides(identifier: str) -> tuple[dict[str, int], dict[str, int]]:
    """The coefficients of reagents and of products."""
    left, right = REACTIONS[identifier]["equation"].split(" -> ")
    return side(left), side(right)


def matrix(left: dict[str, int], right: dict[str, int]) -> list[list[Fraction]]:
    """Elements × species: atoms of each, reagents negative."""
    columns = [(-1, name) for name in left] + [(1, name) for name in right]
    contents = [(sign, read_formula(FORMULAS[name]).composition) for sign, name in columns]
    elements = sorted({symbol for _, composition in contents for symbol in composition})
    return [[Fraction(sign * composition.get(e, 0)) for sign, composition in contents] for e in elements]


def rank(rows: list[list[Fraction]]) -> int:
    """The rank of a matrix, by elimination in fractions."""
    rows, found = [list(row) for row in rows], 0
    for column in range(len(rows[0])):
        pivot = next((i for i in range(found, len(rows)) if rows[i][column]), None)
        if pivot is None:
            continue
        rows[found], rows[pivot] = rows[pivot], rows[found]
        for i in range(found + 1, len(rows)):
            factor = rows[i][column] / rows[found][column]
            rows[i] = [a - factor * b for a, b in zip(rows[i], rows[found], strict=True)]
        found += 1
    return found


@pytest.mark.source("derived: atoms are conserved")
@for_every(REACTIONS)
def test_every_element_is_balanced(identifier: str) -> None:
    left, right = sides(identifier)
    coefficients = [*left.values(), *right.values()]
    for row in matrix(left, right):
        assert sum(a * nu for a, nu in zip(row, coefficients, strict=True)) == 0


@for_every(REACTIONS)
def test_count_of_independent_solutions(identifier: str) -> None:
    left, right = sides(identifier)
    solutions = len(left) + len(right) - rank(matrix(left, right))
    assert solutions == (2 if identifier in SEVERAL_SOLUTIONS else 1)


def rebalanced(identifier: str) -> tuple[dict[str, int], dict[str, int]]:
    """The least coefficients that chempy finds; it raises ValueError where several sets would do."""
    left, right = sides(identifier)
    contents = {name: read_formula(FORMULAS[name]).composition for name in (*left, *right)}
    substances = {
        name: Substance(name, composition={TABLE.GetAtomicNumber(e): n for e, n in composition.items()})
        for name, composition in contents.items()
    }
    reagents, products = balance_stoichiometry(set(left), set(right), substances=substances, underdetermined=False)
    return dict(reagents), dict(products)


@pytest.mark.source("chempy: the coefficients; rdkit: atomic numbers of symbols")
@for_every(sorted(set(REACTIONS) - SEVERAL_SOLUTIONS))
def test_chempy_finds_the_same_coefficients(identifier: str) -> None:
    assert rebalanced(identifier) == sides(identifier)


@pytest.mark.source("chempy: more than one set of coefficients; rdkit: atomic numbers of symbols")
@for_every(sorted(SEVERAL_SOLUTIONS))
def test_chempy_reports_several_solutions(identifier: str) -> None:
    with pytest.raises(ValueError, match="under-determined"):
        rebalanced(identifier)


@pytest.mark.source("from-memory: coefficients as courses print them")
@for_every(PRINTED)
def test_coefficients_as_they_are_usually_printed(identifier: str) -> None:
    left, right = sides(identifier)
    assert " ".join(str(nu) for nu in (*left.values(), *right.values())) == PRINTED[identifier]


@for_every(REACTIONS)
def test_product_and_sessions_belong_to_the_equation(identifier: str) -> None:
    left, right = sides(identifier)
    sessions = REACTIONS[identifier]["sessions"]
    assert REACTIONS[identifier]["product"] in right
    assert set(sessions) < set(left) or not sessions
    assert set(sessions.values()) <= {2, 3}


@for_every(REACTIONS)
def test_ranges_are_possible(identifier: str) -> None:
    entry = REACTIONS[identifier]
    low, high = entry["yield_percent"]
    least, most = entry["product_scale_mmol"]
    assert 0 < low < high <= 100
    assert 0 < least < most
    assert entry["flasks"] == sorted(set(entry["flasks"]))


def test_the_bank_is_wide_enough() -> None:
    laboratory = [key for key, entry in REACTIONS.items() if entry["purpose"] == "laboratory"]
    uneven = [key for key in laboratory if set(sides(key)[0].values()) | set(sides(key)[1].values()) != {1}]
    two_sessions = [key for key in laboratory if REACTIONS[key]["sessions"]]
    kinds = {entry["kind"] for entry in REACTIONS.values()}
    assert len(REACTIONS) == len(bank("reaction"))
    assert (len(laboratory) >= 28, len(uneven) >= 12, len(two_sessions) >= 3) == (True, True, True)
    assert kinds == {
        "organic preparation",
        "inorganic preparation",
        "precipitation",
        "gas evolution",
        "redox",
        "acid-base",
        "complex formation",
    }


# At an arrow these are no substance that is warned of: an indicator is a drop, and of the catalysts no hazard is
# remembered, or the reaction is one for paper.
PLAIN = (
    "1. 2. (catalyst) (catalysts) (buffer) (trace) (indicator) (aq) acid base and then or last ketone ester the "
    "below coupling with warm hot boiling heat strong reduction oxidation precipitation crystallisation filter off "
    "hood dry reflux distillation overnight room temperature water ice bath steam separator crucible test tube blast "
    "furnace concentrated buffer yeast starch charcoal β-alanine thiamine hydrochloride platinum palladium "
    "on carbon Cu ZnO ammonium molybdate potassium acetate iron(III) alum eriochrome black T diphenylamine sulfonate "
    "methyl orange red phenolphthalein under argon"
)


def left_at_the_arrow(text: str, named: set[str]) -> list[str]:
    """The words at an arrow without the substances named, temperatures, pressures and plain words."""
    for words in sorted(named, key=len, reverse=True):
        text = re.sub(rf"(?<![\w(]){re.escape(words)}(?!\w)", " ", text)
    text = re.sub(r"-?[0-9]+(?:-[0-9]+)? ?(?:°C|MPa)|pH [0-9]+", " ", text)
    return [word for word in re.sub(r"[,;/]", " ", text).split() if word not in PLAIN.split()]


@for_every(sorted(REACTIONS))
def test_every_substance_at_the_arrow_is_named_by_its_id(reaction: str) -> None:
    entry = REACTIONS[reaction]
    _, right = sides(reaction)
    auxiliaries = entry.get("auxiliaries", [])
    named = {words for name in (*auxiliaries, *right, "water") for words in spellings(name)}
    assert left_at_the_arrow(f"{entry['above']} {entry['below']}", named) == []
    told = f"{entry['above']} {entry['below']}"
    for name in auxiliaries:
        assert any(words in told for words in spellings(name)), name


def spellings(substance: str) -> set[str]:
    """Its formula, the formula without water of crystallisation, its name and its other names."""
    entry = SUBSTANCES[substance]
    return {entry["formula"], entry["formula"].split(".")[0], entry["name"], *entry.get("synonyms", [])}


@for_every(sorted(REACTIONS))
def test_no_reagent_of_the_equation_stands_at_the_arrow_again(reaction: str) -> None:
    entry = REACTIONS[reaction]
    left, _ = entry["equation"].split(" -> ")
    told = f"{entry['above']} | {entry['below']}"
    for term in left.split(" + "):
        for words in spellings(term.split()[-1]):
            again = re.search(rf"(?<![\w(]){re.escape(words)}(?!\w)", told)
            assert again is None, (words, told)
