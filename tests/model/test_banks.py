"""Records of the banks: what follows from the fields that are written."""

from __future__ import annotations

from typing import Any

import pytest
from pydantic import ValidationError

from problemgen.model.banks import Reaction


def reaction(**changed: Any) -> Reaction:
    fields = {
        "id": "synthesis",
        "name": "ammonia from the elements",
        "equation": "nitrogen + 3 hydrogen -> 2 ammonia",
        "product": "ammonia",
        "kind": "inorganic preparation",
        "purpose": "paper",
        "yield_percent": [10, 20],
        "source": "common-practice: a test",
    }
    return Reaction.model_validate(fields | changed)


@pytest.mark.parametrize(
    ("term", "read"),
    [
        ("hydrogen", (1, "hydrogen")),
        ("3 hydrogen", (3, "hydrogen")),
        ("12  copper-sulfate.5", (12, "copper-sulfate.5")),
        ("3hydrogen", (1, "3hydrogen")),  # an id may begin with a figure
        ("03 hydrogen", (0, "")),
        ("0 hydrogen", (0, "")),
        ("-1 hydrogen", (0, "")),
        ("two hydrogen", (0, "")),
        ("Hydrogen", (0, "")),
        ("", (0, "")),
    ],
)
def test_a_term_is_a_coefficient_and_an_id(term: str, read: tuple[int, str]) -> None:
    assert Reaction.read_term(term) == read


def test_coefficients_are_signed_in_the_order_of_the_equation() -> None:
    assert list(reaction().coefficients.items()) == [("nitrogen", -1), ("hydrogen", -3), ("ammonia", 2)]


def test_flasks_rise() -> None:
    assert [flask.text for flask in reaction(flasks=[250, 50, 100]).flasks] == ["50", "100", "250"]


def test_a_record_is_frozen_and_has_no_other_field() -> None:
    with pytest.raises(ValidationError, match="frozen"):
        reaction().name = "another"  # type: ignore[misc]
    with pytest.raises(ValidationError, match="Extra inputs are not permitted"):
        reaction(nane="ammonia")
