"""What a template asks: parts spread out, in their roles, and every part that makes no sense refused."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from problemgen.model.quantity import Quantity, Role
from problemgen.model.template import Template

GIVEN = """reaction = "silver-chromate"
[given.silver-nitrate]
volume = { from = 25.00, to = 30.00, unit = "mL", read = "burette-50" }
concentration = { value = 0.1000, unit = "mol/L" }
[given.potassium-chromate]
mass = { from = 0.300, to = 0.500, unit = "g", step = 0.001 }
"""
MASS = '[[part]]\nquantity = "mass"\n'

Load = Callable[[str], Template]
FaultsOf = Callable[[str], list[str]]


@pytest.mark.parametrize(
    ("part", "expected"),
    [
        ('quantity = "mass"', [("mass", "silver-chromate", "theoretical", "g")]),
        ('quantity = "mass"\nof = "product"\nunit = "mg"', [("mass", "silver-chromate", "theoretical", "mg")]),
        ('quantity = "amount"\nof = "silver-nitrate"', [("amount", "silver-nitrate", "", "mol")]),
        (
            'quantity = "amount"\nof = "each reagent"\nunit = "mmol"',
            [("amount", "silver-nitrate", "", "mmol"), ("amount", "potassium-chromate", "", "mmol")],
        ),
        (
            'quantity = "amount"\nfrom = "each reagent"',
            [
                ("amount", "silver-chromate", "from:silver-nitrate", "mol"),
                ("amount", "silver-chromate", "from:potassium-chromate", "mol"),
            ],
        ),
        ('quantity = "mass"\nof = "potassium-chromate"\nrole = "left"', [("mass", "potassium-chromate", "left", "g")]),
        ('quantity = "mass"\n[[part]]\nquantity = "molar_mass"', [("molar_mass", "silver-chromate", "", "g/mol")]),
        ('quantity = "limiting_reagent"', [("extent", "", "", "mol")]),
    ],
)
def test_a_part_is_spread_out(template: Load, part: str, expected: list[tuple[str, str, str, str]]) -> None:
    parts = template(f"{GIVEN}{MASS if 'mass' not in part else ''}[[part]]\n{part}\n").parts
    asked = [one.asked for one in parts if one.asked.quantity != Quantity("mass", "silver-chromate", Role.THEORETICAL)]
    asked = asked or [one.asked for one in parts]
    assert [(one.quantity.kind, one.quantity.of, one.quantity.written_role, one.unit) for one in asked] == expected
    assert [part.id for part in parts] == [f"{index + 1:02d}" for index in range(len(parts))]


def test_points_prompt_and_session_are_kept(template: Load) -> None:
    last = template(f'{GIVEN}{MASS}points = 2.5\nprompt = "How much?"\nsession = 2\n').parts[-1]
    assert (last.points.text, last.prompt, last.session) == ("2.5", "How much?", 2)
    assert template(GIVEN + MASS).parts[0].points.text == "1"


@pytest.mark.parametrize(
    ("part", "expected"),
    [
        (
            'quantity = "masss"',
            "part.2.quantity: found 'masss'; expected one of mass, volume, amount, …. Did you mean 'mass'?",
        ),
        (
            'quantity = "limiting_reactant"',
            "part.2.quantity: found 'limiting_reactant'; expected one of mass, …. Did you mean 'limiting_reagent'?",
        ),
        (
            'quantity = "amount"\nunit = "g"',
            "part.2.unit: found 'g'; expected a unit of amount, such as mol",
        ),
        (
            'quantity = "amount"\nof = "silver-nitrat"',
            (
                "part.2.of: found 'silver-nitrat'; expected one of silver-nitrate, potassium-chromate, "
                "silver-chromate, potassium-nitrate, product, each reagent. Did you mean 'silver-nitrate'?"
            ),
        ),
        (
            'quantity = "amount"\nfrom = "chromate"',
            (
                "part.2.from: found 'chromate'; expected one of silver-nitrate, potassium-chromate, silver-chromate, "
                "potassium-nitrate, product, each reagent. Did you mean 'silver-chromate'?"
            ),
        ),
        (
            'quantity = "mass"',
            "part: found mass(silver-chromate,theoretical) asked twice; expected each quantity asked once",
        ),
        ('quantity = "amount"\npoints = -1', "part.2.points: found -1; expected no fewer than 0 points"),
        ('quantity = "amount"\nsession = 4', "part.2.session: found 4; expected less than or equal to 3"),
        (
            'quantity = "amount"\nrole = "lefft"',
            "part.2.role: found 'lefft'; expected one of solution, …. Did you mean 'left'?",
        ),
        (
            'quantity = "concentration"\nof = "silver-nitrate"\nrole = "diluted"',
            "part.2.stage: found nothing; expected one of 1, 2, 3, 4, 5, 6",
        ),
        (
            'quantity = "concentration"\nof = "silver-nitrate"\nrole = "diluted"\nstage = 7',
            "part.2.stage: found 7; expected one of 1, 2, 3, 4, 5, 6",
        ),
        (
            'quantity = "amount"\nof = "silver-nitrate"\nrole = "left"\nstage = 1',
            "part.2.stage: found 1; expected none: 'left' has no stages",
        ),
        (
            'quantity = "amount"\nof = "silver-nitrate"\nstage = 1',
            "part.2.stage: found 1; expected none: no role is named, and stages are a role's",
        ),
        (
            'quantity = "amount"\nof = "silver-nitrate"\nrole = "initial solution"',
            "part.2.role: found 'initial solution'; expected one of solution, …. Did you mean 'solution'?",
        ),
        (
            'quantiy = "amount"',
            (
                "part.2.quantiy: found an unknown key; expected one of from, of, points, prompt, quantity, role, "
                "session, stage, unit. Did you mean 'quantity'?"
            ),
        ),
    ],
)
def test_a_part_that_makes_no_sense_is_refused(faults_of: FaultsOf, part: str, expected: str) -> None:
    start, _, end = f"t.toml: {expected}".partition("…")  # where a list of the vocabulary stands
    found = faults_of(f"{GIVEN}{MASS}[[part]]\n{part}\n")
    assert any(line.startswith(start) and line.endswith(end) and (end or line == start) for line in found), found


def test_a_choice_is_asked_once(faults_of: FaultsOf) -> None:
    choice = '[[part]]\nquantity = "limiting_reagent"\n'
    expected = "t.toml: part: found limiting_reagent asked twice; expected each quantity asked once"
    assert faults_of(GIVEN + MASS + choice + choice) == [expected]


def test_without_an_equation_the_species_has_to_be_named(faults_of: FaultsOf) -> None:
    two = "".join(f'[given.{one}]\nmass = {{ value = 1.00, unit = "g" }}\n' for one in ("glucose", "copper"))
    assert faults_of(f'{two}[[part]]\nquantity = "amount"\n') == [
        "t.toml: part.1.of: found nothing; expected the species that is asked about"
    ]


def test_parts_are_needed(faults_of: FaultsOf) -> None:
    assert faults_of(GIVEN) == ["t.toml: part: found nothing; expected a value for this key"]
    assert faults_of(f"part = []\n{GIVEN}") == ["t.toml: part: found an empty list; expected one entry or more"]
