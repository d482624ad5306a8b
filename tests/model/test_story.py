"""A story's placeholders are given values as they are printed; nothing else can be reached."""

from __future__ import annotations

import pytest

from problemgen.model.quantity import Quantity, Role
from problemgen.model.story import StoryError, told_story

VALUES = {
    Quantity("volume", "acetic-anhydride"): "5.00 mL",
    Quantity("volume", "hydrogen-chloride", Role.INITIAL): "10.00 mL",
    Quantity("mass", "", Role.SAMPLE): "0.250 g",
    Quantity("concentration", "potassium-permanganate", Role.DILUTED, stage=2): "0.200 mmol/L",
}


def test_given_values_stand_in_the_place_of_their_names() -> None:
    places = (
        "acetic_anhydride.volume",
        "hydrogen_chloride.initial_volume",
        "sample.sample_mass",
        "potassium_permanganate.diluted_2_concentration",
    )
    story = ", ".join(f"{{{{ given.{place} }}}}" for place in places)
    assert told_story(story, VALUES) == "5.00 mL, 10.00 mL, 0.250 g, 0.200 mmol/L"


@pytest.mark.parametrize(
    "story",
    ["{{ secret }}", "{{ given.nothing.mass }}", "{{ given.__class__.__mro__ }}", "{% include '/etc/passwd' %}"],
)
def test_nothing_else_can_be_reached(story: str) -> None:
    with pytest.raises(StoryError):
        told_story(story, VALUES)


def test_a_value_that_looks_like_a_placeholder_is_not_filled_again() -> None:
    given = {Quantity("mass", "salt"): "{{ given.salt.mass }}", Quantity("volume", "1-butanol"): "2 mL"}
    assert told_story("{{given.salt.mass}} {{ given.1_butanol.volume }}", given) == "{{ given.salt.mass }} 2 mL"
