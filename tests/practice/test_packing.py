from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from problemgen.practice.packing import Packer, unpacked

NUMBERS = st.sampled_from(["1", "2.50", "12.345", "0.0100", "2,50", "1,234,5", "1\u202f234"])
PIECES = st.sampled_from(["<p>", "</p>", "<sub>", " g", "H", "&#39;", 'class="a1"', " × ", "3-", "(20 °C)"])
FRAGMENTS = st.lists(st.one_of(NUMBERS, PIECES), max_size=12).map("".join)


@given(st.lists(st.lists(FRAGMENTS, max_size=6), max_size=3))
def test_whatever_is_packed_comes_out_as_it_was(templates: list[list[str]]) -> None:
    packer = Packer()
    packed = []
    for fragments in templates:
        packed += [(fragment, packer.pack(fragment)) for fragment in fragments]
        packer.settle()
    assert [unpacked(packer.skeletons, one) for _, one in packed] == [fragment for fragment, _ in packed]


def test_numbers_that_never_differ_stand_in_the_skeleton_and_those_that_do_stand_once() -> None:
    packer = Packer()
    packed = [packer.pack(f"<p>2 × {mass} g / 58.44 = {mass} and 7</p>") for mass in ("1.5", "2.5")]
    packer.settle()
    assert packer.skeletons == [["<p>2 × ", 0, " g / 58.44 = ", 0, " and 7</p>"]]
    assert packed == [[0, "1.5"], [0, "2.5"]]


def test_numbers_with_a_decimal_comma_are_gaps_too_and_a_mark_behind_a_number_is_none() -> None:
    packer = Packer()
    packed = [packer.pack(f"<p>2 × {mass} g, that is {mass}, or {mass}.</p>") for mass in ("1,5", "2,5")]
    packer.settle()
    assert packer.skeletons == [["<p>2 × ", 0, " g, that is ", 0, ", or ", 0, ".</p>"]]
    assert packed == [[0, "1,5"], [0, "2,5"]]


def test_figures_of_markup_and_names_are_no_gaps() -> None:
    packer = Packer()
    for fragment in ('<a1 b="2.5">&#39;C12</a1>', '<a1 b="2.5">&#39;C13</a1>'):
        packer.pack(fragment)
    packer.settle()
    assert len(packer.skeletons) == 2
