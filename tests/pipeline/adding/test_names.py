"""Which substance a text means."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from problemgen.pipeline.adding.names import Names, id_of
from tests.support.every_row import for_every
from tests.support.small_set import banks

NAMES = Names(banks())


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("2-Methylfuran", "2-methylfuran"),
        ("nickel(II) chloride hexahydrate", "nickel-ii-chloride-hexahydrate"),
        ("N,N-dimethylaniline", "n-n-dimethylaniline"),
        ("β-ionone", "beta-ionone"),
        ("acide benzoïque", "acide-benzoique"),
        ("(±)-menthol", "menthol"),
        ("水", ""),
    ],
)
def test_an_id_is_made_of_a_name(name: str, expected: str) -> None:
    assert id_of(name) == expected


@given(st.text(max_size=40))
def test_an_id_made_twice_is_the_same_and_fit_for_a_bank(name: str) -> None:
    made = id_of(name)
    assert id_of(made) == made
    assert not set(made) - set("abcdefghijklmnopqrstuvwxyz0123456789-")


@for_every(banks().substances)
def test_a_substance_is_found_by_its_id_and_its_name(name: str) -> None:
    assert NAMES.find(name) == (name, "id")
    found = NAMES.find(banks().substances[name].name)
    assert found is not None
    assert found[0] == name


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("aspirin", ("acetylsalicylic-acid", "synonym")),
        ("50-78-2", ("acetylsalicylic-acid", "CAS number")),
        ("O=C(O)c1ccccc1OC(C)=O", ("acetylsalicylic-acid", "structure")),
        ("NiCl2*6H2O", ("nickel-ii-chloride-hexahydrate", "formula")),
        ("HCl", ("hydrogen-chloride", "formula")),
        ("C7H6O3", None),  # salicylic acid, among others
        ("2-methylfuran", None),
    ],
)
def test_a_substance_is_found_by_what_else_it_is_called(text: str, expected: tuple[str, str] | None) -> None:
    assert NAMES.find(text) == expected
