"""Who limits is drawn before the amounts: it varies over a class, unless the template says why it cannot."""

from __future__ import annotations

from collections import Counter
from typing import Any

import numpy as np
import pytest

from problemgen.make.admissible import Judge
from problemgen.make.candidates import Stream
from problemgen.make.limiting import competing, drawn_turn, limiting_at, turns_of
from problemgen.make.rules import work
from problemgen.make.variants import Maker
from problemgen.model.variant import Variant

CLASS = [f"s{number}" for number in range(120)]


def who_limits(variant: Variant) -> str:
    sources = variant.template.plan.sources
    return min(sources, key=lambda name: variant.values[f"extent({name})"])


@pytest.mark.parametrize("name", ["yield/zinc-iodide", "preparations/methyl-orange", "limiting-reagent/iodoform"])
def test_two_reagents_each_limit_for_a_third_of_a_class_or_more(bench: Any, name: str) -> None:
    counts = Counter(map(who_limits, Maker(bench.shipped(name), Stream(b"x", "limits", "p1")).variants(CLASS)))
    assert sorted(counts.values())[-2] >= len(CLASS) / 3


def test_who_always_limits_does(bench: Any) -> None:
    template = bench.shipped("limiting-reagent/recovered-silver")
    assert template.always_limits == "silver-nitrate"
    variants = Maker(template, Stream(b"x", "limits", "p1")).variants(CLASS[:40])
    assert {who_limits(variant) for variant in variants} == {"silver-nitrate"}


def test_who_limits_is_a_draw_of_its_own(bench: Any) -> None:
    """A student keeps it whoever else is in the class."""
    template = bench.shipped("yield/zinc-iodide")
    stream = Stream(b"x", "limits", "p1")
    together = list(Maker(template, stream).variants(CLASS[:9]))
    (alone,) = Maker(template, stream).variants([CLASS[4]])
    assert who_limits(alone) == who_limits(together[4])


def test_a_third_reagent_gets_few_of_the_turns(bench: Any) -> None:
    template = bench.shipped("preparations/methyl-orange")
    turns = turns_of(template, np.array([0] * 20 + [1] * 50 + [2] * 30))
    assert turns == pytest.approx((0.12, 0.44, 0.44))
    assert sum(turns) == pytest.approx(1.0)


def test_nothing_is_drawn_where_one_reagent_alone_can_limit(bench: Any) -> None:
    template = bench.shipped("preparations/methyl-orange")
    assert turns_of(template, np.array([1] * 99 + [2])) == ()
    assert turns_of(template, np.zeros(0, dtype=np.int64)) == ()
    assert turns_of(bench.shipped("preparations/aspirin"), np.array([0] * 50 + [1] * 50)) == ()


def test_the_drawn_number_picks_the_turn() -> None:
    numbers = np.array([0, 2**62, 2**63, 2**64 - 1], dtype=np.uint64)
    assert drawn_turn((0.2, 0.2, 0.6), numbers).tolist() == [0, 1, 2, 2]


def test_the_least_extent_limits(bench: Any) -> None:
    template = bench.shipped("yield/zinc-iodide")
    kept = work(template, bench.drawn(template, 50))
    extents = competing(template)
    assert extents == ("extent(zinc)", "extent(iodine)")
    least = kept.windows["extent(iodine)"].value < kept.windows["extent(zinc)"].value
    assert (limiting_at(extents, kept.windows) == least).all()


def test_where_nothing_competes_nothing_is_compared(bench: Any) -> None:
    template = bench.shipped("amounts/four-ways")
    assert competing(template) == ()
    assert Judge(template).turns == ()
    assert not Judge(template).competing
