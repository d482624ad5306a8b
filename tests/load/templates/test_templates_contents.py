"""What a template says of its solvent, of parts of compounds, and of one sample."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from problemgen.errors import FaultsError
from problemgen.load.banks.banks import load_banks
from problemgen.load.templates.template import load_template
from problemgen.model.quantity import Quantity
from problemgen.model.template import Template
from problemgen.plan.laws.contents import SAMPLE

BANKS = load_banks(Path(__file__).parents[3] / "banks")
HEAD = 'title = "A test"\ntopic = "tests"\ndifficulty = 1\n'
UREA = '[given.urea]\nmass = { from = 8.000, to = 9.000, unit = "g", step = 0.001 }\n'
OF_NITROGEN = '[[part]]\nquantity = "mass_fraction"\nof = "N"\n[[part]]\nquantity = "mass"\nof = "N"\n'
BATH = (
    '[given.ethylene-glycol]\nmass = { from = 150.0, to = 160.0, unit = "g", step = 0.1 }\n'
    'solvent.mass = { value = 1000.0, unit = "g" }\n[[part]]\nquantity = "mole_fraction"\nof = "ethylene-glycol"\n'
)
BRASS = (
    '[given.copper]\nsample.mass = { value = 1.250, unit = "g" }\n'
    'mass = { from = 0.700, to = 0.900, unit = "g", step = 0.001 }\n'
    '[[part]]\nquantity = "mass_fraction"\nof = "copper"\n'
)


def loaded(text: str, folder: Path) -> Template:
    path = folder / "one.toml"
    path.write_text(HEAD + text, encoding="utf-8")
    return load_template(path, "one", BANKS)


def test_parts_of_compounds_are_species_by_formula_elements_by_name(tmp_path: Path) -> None:
    template = loaded(f'contents = ["N", "SO4^2-"]\n{UREA}{OF_NITROGEN}', tmp_path)
    assert [(s.id, s.name) for s in template.scene.species.values()][1:] == [("N", "nitrogen"), ("SO4^2-", "SO4^2-")]
    assert [step.law for step in template.plan.steps][-1] == "mass-of-part"


def test_the_solvent_joins_the_species(tmp_path: Path) -> None:
    template = loaded(f'solvent = "water"\n{BATH}', tmp_path)
    assert template.scene.solvent == "water"
    assert Quantity("molar_mass", "water") in [step.quantity for step in template.plan.steps]


def test_the_mass_of_a_sample_belongs_to_no_substance(tmp_path: Path) -> None:
    template = loaded(BRASS, tmp_path)
    assert SAMPLE in template.scene.given
    assert [step.law for step in template.plan.steps] == ["share"]


@pytest.mark.parametrize(
    ("text", "key", "found"),
    [
        (f'contents = ["Xx"]\n{UREA}{OF_NITROGEN}', "contents", "'Xx'"),
        (f'solvent = "watre"\n{BATH}', "solvent", "'watre'"),
        (BATH, "part", "the mole fraction of ethane-1,2-diol cannot be derived from what is given; no law leads to it"),
    ],
)
def test_what_cannot_be_is_told(text: str, key: str, found: str, tmp_path: Path) -> None:
    with pytest.raises(FaultsError) as caught:
        loaded(text, tmp_path)
    assert [(fault.key, fault.found) for fault in caught.value.faults] == [(key, found)]


def test_unknown_names_of_a_template_come_at_once(faults_of: Callable[[str], list[str]]) -> None:
    text = 'solvent = "watre"\ncontents = ["Xx"]\n[given.glucose]\nmass = { value = 1, unit = "g" }\n'
    assert [fault.split(": ")[1] for fault in faults_of(text + '[[part]]\nquantity = "amount"\n')] == [
        "contents",
        "solvent",
    ]
