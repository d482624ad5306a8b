"""Functional groups: what textbooks call the molecules of an organic laboratory."""

from __future__ import annotations

import re

import pytest

from problemgen.load.sets.courses import Course
from problemgen.render.sheet.groups import GROUPS, groups_of


@pytest.mark.parametrize(
    ("smiles", "groups"),
    [
        ("CC(=O)OCCC(C)C", {"ester"}),  # no ether, no ketone
        ("CC(=O)OC(C)=O", {"acid anhydride"}),  # no ester
        ("CC(=O)Nc1ccccc1", {"amide", "benzene ring"}),  # no amine, no ketone
        ("CC(=O)Oc1ccccc1C(=O)O", {"ester", "carboxylic acid", "benzene ring"}),  # no alcohol
        ("Oc1ccccc1", {"phenol", "benzene ring"}),
        ("CCOCC", {"ether"}),
        ("C1CO1", {"epoxide"}),
        ("C=O", {"aldehyde"}),
        ("OC=O", {"carboxylic acid"}),
        ("ON=C1CCCCC1", {"oxime"}),  # no imine
        ("O=[N+]([O-])c1ccccc1", {"nitro compound", "benzene ring"}),  # no amine
        ("CC#N", {"nitrile"}),
        ("c1ccccc1N=Nc1ccccc1", {"azo compound", "benzene ring"}),
        ("Br[Mg]c1ccccc1", {"organomagnesium", "benzene ring"}),
        ("c1ccncc1", {"heteroaromatic ring"}),
        ("[K+].[S-]C#N", set()),  # a salt of inorganic chemistry
        ("[Na+].OC([O-])=O", set()),
        ("[Ca+2].[C-]#[C-]", set()),
    ],
)
def test_a_molecule_has_the_groups_that_it_is_named_for(smiles: str, groups: set[str]) -> None:
    assert groups_of(smiles) == groups


@pytest.mark.parametrize(
    ("ending", "group", "least"),
    [
        (r"(phenone|acetone|anone|\d-one)$", "ketone", 8),
        (r"aldehyde$", "aldehyde", 6),
        (r"yl \S*(oate|cetate|cylate|cinnamate)$", "ester", 12),
        (r"(benz|acryl|form|lact)amide$", "amide", 2),
        (r"oic acid$", "carboxylic acid", 6),
        (r"(?<!meth)oxime$", "oxime", 1),
    ],
)
def test_names_of_the_banks_agree_with_their_groups(ending: str, group: str, least: int) -> None:
    """A systematic name tells the group by its ending: common practice, no source."""
    banks = Course().banks().substances.values()
    named = [one for one in banks if one.smiles is not None and re.search(ending, one.name)]
    assert len(named) >= least
    assert [one.name for one in named if group not in groups_of(one.smiles or "")] == []


def test_no_structure_is_refused() -> None:
    with pytest.raises(ValueError, match=r"no structure can be read from the SMILES 'C\(C'"):
        groups_of("C(C")


def test_each_group_is_called_something() -> None:
    assert all(name and groups_of("CC") == frozenset() for name, _smarts in GROUPS.values())
