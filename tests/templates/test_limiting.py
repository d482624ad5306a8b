"""Which reagent limits, over a class, in all templates that compare reagents."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

import pytest

from problemgen.make.candidates import Stream
from problemgen.make.limiting import competing
from problemgen.make.variants import Maker
from problemgen.model.template import Template
from tests.support.shipped import NAMES, shipped

COMPARING = [name for name in NAMES if competing(shipped(name))]
ASKING = [name for name in NAMES if any(part.asked.form == "species" for part in shipped(name).parts)]
CLASS = [f"s{number}" for number in range(60)]
ESTERS = ("preparations/isopentyl-acetate", "preparations/octyl-acetate")


def who_limits(template: Template) -> Counter[str]:
    variants = Maker(template, Stream(b"class", "limits", "p1")).variants(CLASS)
    sources = template.plan.sources
    return Counter(min(sources, key=lambda name: variant.values[f"extent({name})"]) for variant in variants)


@pytest.mark.parametrize("name", COMPARING)
def test_the_limiting_reagent_varies_or_the_template_says_why_not(name: str) -> None:
    template = shipped(name)
    counts = who_limits(template)
    if template.always_limits:
        assert counts == {template.always_limits: len(CLASS)}
        assert template.because.endswith(".")
    else:
        assert sum(count >= len(CLASS) / 3 for count in counts.values()) >= 2


def test_at_most_a_third_of_those_that_ask_have_one_that_always_limits() -> None:
    always = [name for name in ASKING if shipped(name).always_limits]
    assert len(ASKING) > 30
    assert 3 * len(always) <= len(ASKING)


@pytest.mark.parametrize("name", [name for name in ASKING if not shipped(name).always_limits])
def test_no_wording_tells_which_reagent_is_in_excess(name: str) -> None:
    template = shipped(name)
    prompts = " ".join(part.prompt for part in template.parts)
    assert "left" not in prompts
    assert not [part.id for part in template.parts if part.asked.quantity.role == "left"]


@pytest.mark.parametrize("name", ESTERS)
def test_no_ester_is_obtained_beyond_its_equilibrium(name: str) -> None:
    """K near 4 for acetic acid and a primary alcohol: from memory, the value of the classic experiments of the 1860s.

    With r mol of acid for each of alcohol, x of the alcohol reacts: x² = K (1 − x) (r − x). No water is taken off.
    """
    template = shipped(name)
    for variant in Maker(template, Stream(b"class", "equilibrium", "p1")).variants(CLASS):
        alcohol, acid = (variant.values[f"amount({one})"] for one in template.plan.sources)
        if template.plan.sources[0] == "acetic-acid":
            alcohol, acid = acid, alcohol
        x = variant.values[f"percent_yield({template.scene.product})"]
        assert x * x <= 4 * (1 - x) * (Fraction(acid) / alcohol - x)
