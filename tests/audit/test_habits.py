from __future__ import annotations

import numpy as np

from problemgen.audit.habits import Habits


def test_habits_are_the_same_each_time_and_differ_between_words_and_templates() -> None:
    drawn = Habits("beads", "yield/salen", 200).index("figures", 5).tolist()
    assert drawn == Habits("beads", "yield/salen", 200).index("figures", 5).tolist()
    assert drawn != Habits("stones", "yield/salen", 200).index("figures", 5).tolist()
    assert drawn != Habits("beads", "yield/other", 200).index("figures", 5).tolist()
    assert drawn != Habits("beads", "yield/salen", 200).index("decimals", 5).tolist()


def test_every_way_is_gone_by_about_as_many() -> None:
    counts = np.bincount(Habits("beads", "t", 20_000).index("figures", 5))
    assert counts.size == 5
    assert counts.min() > 3_800


def test_one_student_has_the_habits_of_their_row() -> None:
    habits = Habits("beads", "t", 100)
    some = habits.picked(slice(40, 60))
    assert some.index("figures", 5).tolist() == habits.index("figures", 5)[40:60].tolist()
    assert some.picked(3).index("figures", 5) == habits.index("figures", 5)[43]
    ways = ("none", "one", "two", "four", "all")
    mine = [ways[int(habits.index("figures", 5)[row])] for row in (41, 47)]
    assert some.picked([1, 7]).pick("figures", ways).tolist() == mine


def test_half_of_the_students_do_the_same_at_all_occasions() -> None:
    habits = Habits("beads", "t", 4_000)
    ways = (0, 1, 2, 4, 12)
    here, there = (habits.pick_or_own("figures", ways, one) for one in ("amount", "mass"))
    same = np.mean(here == there)
    assert 0.55 < same < 0.65  # one half always, of the others a fifth by chance
