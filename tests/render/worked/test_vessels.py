"""The flask that fits, in words."""

from __future__ import annotations

import pytest

from problemgen.model.blocks import Paragraph
from problemgen.model.quantity import Quantity, Role
from problemgen.render.key.variant_key import variant_solution
from problemgen.render.printers.terminal import text_lines
from problemgen.render.words.prompts import prompt_of
from tests.support.shipped import variant_of

NAME = "scale-up/acetal"


def test_what_the_liquids_need_stands_between_two_sizes() -> None:
    variant = variant_of(NAME)
    text = "\n".join(text_lines(variant_solution(variant)))
    liquids, size = (
        float(variant.values[Quantity("volume", "", role).id]) * 1000 for role in (Role.LIQUIDS, Role.VESSEL)
    )
    assert f"The liquids take {liquids:.3g} mL, and {liquids:.3g} mL × 3/2 = " in text
    assert f" mL: between {50 if size == 100 else 100} mL and {size:.0f} mL." in text
    assert 1.5 * liquids <= size
    assert text.rstrip().endswith(f"V_flask = {size:.0f} mL")


@pytest.mark.parametrize("millilitres", [10, 25, 50, 100, 250, 500])
def test_the_prompt_names_the_sizes(millilitres: int) -> None:
    template = variant_of(NAME).template
    part = template.parts[-1]
    assert part.asked.quantity.role is Role.VESSEL
    prompt = "".join(text_lines([Paragraph(prompt_of(template, part))]))
    assert str(millilitres) in prompt.replace(",", "").split()
