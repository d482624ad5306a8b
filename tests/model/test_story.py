"""A story's placeholders are given values as they are printed; nothing else can be reached."""

from __future__ import annotations

import pytest
from jinja2 import TemplateError

from problemgen.model.quantity import Quantity
from problemgen.model.story import told_story

VALUES = {
    Quantity("volume", "acetic-anhydride"): "5.00 mL",
    Quantity("volume", "hydrogen-chloride", "initial"): "10.00 mL",
    Quantity("mass", "", "sample"): "0.250 g",
}


def test_given_values_stand_in_the_place_of_their_names() -> None:
    places = ("acetic_anhydride.volume", "hydrogen_chloride.initial_volume", "sample.sample_mass")
    story = ", ".join(f"{{{{ given.{place} }}}}" for place in places)
    assert told_story(story, VALUES) == "5.00 mL, 10.00 mL, 0.250 g"


@pytest.mark.parametrize(
    "story",
    ["{{ secret }}", "{{ given.nothing.mass }}", "{{ given.__class__.__mro__ }}", "{% include '/etc/passwd' %}"],
)
def test_nothing_else_can_be_reached(story: str) -> None:
    with pytest.raises((TemplateError, TypeError)):
        told_story(story, VALUES)
