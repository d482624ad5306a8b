"""Titres of several runs: what a template says of them, as draws and readings."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest

from problemgen.load.sets.own_values import own_values_of
from problemgen.make.candidates import Stream, draw_candidates
from problemgen.model.banks import Banks
from problemgen.model.quantity import Quantity, Role
from problemgen.model.template import Template

Load = Callable[[str], Template]
FaultsOf = Callable[[str], list[str]]

TITRE = (
    'titre = { from = 18.00, to = 22.00, unit = "mL", read = "burette-25", begin = [0.00, 1.50], rough = [0.50, 1.00] }'
)
RUNS = f"""reaction = "hcl-naoh"
[given.hydrogen-chloride]
volume = {{ value = 20.00, unit = "mL" }}
concentration = {{ value = 0.1000, unit = "mol/L" }}
[given.sodium-hydroxide]
{TITRE}
[[part]]
quantity = "volume"
of = "sodium-hydroxide"
[[part]]
quantity = "concentration"
of = "sodium-hydroxide"
"""


def reading(role: Role, run: int = 0) -> Quantity:
    return Quantity("volume", "sodium-hydroxide", role, stage=run)


def test_each_run_has_a_start_that_is_drawn_and_an_end_behind_it(template: Load) -> None:
    read = template(RUNS)
    starts = [reading(Role.ROUGH_START), *(reading(Role.RUN_START, run) for run in (1, 2, 3))]
    ends = [reading(Role.ROUGH_END), *(reading(Role.RUN_END, run) for run in (1, 2, 3))]
    titre = Quantity("volume", "sodium-hydroxide", Role.SOLUTION)
    assert [draw.quantity for draw in read.draws] == starts
    assert {(draw.first, draw.count) for draw in read.draws} == {(0, 31)}
    assert [one.quantity for one in read.hidden] == [titre]
    assert [one.quantity for one in read.readings] == ends
    assert [(one.least, one.most) for one in read.readings] == [(10, 20), (-1, 1), (-1, 1), (-1, 1)]
    assert [one.bases for one in read.readings] == [{start.id, titre.id} for start in starts]
    assert titre not in read.scene.given


def test_the_mean_of_the_runs_is_asked_as_the_volume_of_the_solution(template: Load) -> None:
    assert template(RUNS).parts[0].asked.quantity == Quantity("volume", "sodium-hydroxide", Role.SOLUTION)


def test_candidates_have_titres_that_agree_and_a_rough_one_beyond(template: Load) -> None:
    read = template(RUNS)
    candidates = draw_candidates(read, Stream(b"a secret", "set", "p1"), ["s1", "s2"], 0, 200)
    steps = candidates.steps
    used = [
        steps[end.quantity.id] - steps[start.quantity.id] for start, end in zip(read.draws, read.readings, strict=True)
    ]
    rough, *careful = used
    spread = np.max(careful, axis=0) - np.min(careful, axis=0)
    assert set(spread.tolist()) == {0, 1, 2}  # steps of 0.05 mL
    assert (rough - np.max(careful, axis=0)).min() >= 9
    assert np.min(careful, axis=0).min() >= 360 - 1
    assert np.max(careful, axis=0).max() <= 440 + 1
    datum = candidates.datum(read, reading(Role.RUN_END, 2).id, 7)
    assert (datum.written.place, datum.unit) == (-2, "mL")
    assert read.hidden[0].quantity.id not in candidates.windows
    assert read.hidden[0].quantity.id not in steps  # two that print the same are the same


def test_a_burette_read_more_finely_scatters_by_more_steps(template: Load) -> None:
    fine = (
        RUNS.replace("18.00", "5.00")
        .replace("22.00", "8.00")
        .replace("burette-25", "burette-10")
        .replace("1.50]", "0.50]")
    )
    assert {(one.least, one.most) for one in template(fine).readings[1:]} == {(-5, 5)}


def test_readings_can_be_a_students_own(template: Load, banks: Banks) -> None:
    own = own_values_of(template(RUNS), banks)
    value = own["sodium-hydroxide.run_end.2.volume"]
    assert (value.quantity, value.low, value.high, value.capacity) == (reading(Role.RUN_END, 2), 0, 25, 25)
    assert "sodium-hydroxide.rough_start.volume" in own


@pytest.mark.parametrize(
    ("old", "new", "at", "expected"),
    [
        (
            'from = 18.00, to = 22.00, unit = "mL", read = "burette-25"',
            'value = 20.00, unit = "mL"',
            "",
            "found no titre that a burette shows; expected `from` and `to`, and `read` with one of burette-10, ",
        ),
        (
            "[0.00, 1.50]",
            "[1.50, 0.20]",
            ".begin",
            "found 1.50 to 0.20; expected a range that rises on a scale of 0.05",
        ),
        (
            "[0.50, 1.00]",
            "[0.51, 1.00]",
            ".rough",
            "found 0.51 to 1.00; expected a range that rises on a scale of 0.05",
        ),
        (
            "rough = [0.50, 1.00]",
            "within = 0.05",
            ".within",
            "found 0.05; expected at least 0.10 mL, two steps of the scale",
        ),
        (
            "[0.00, 1.50]",
            "[0.00, 2.50]",
            ".to",
            "found readings up to 25.50 mL; expected no more than the burette, 25 mL holds",
        ),
    ],
)
def test_what_no_burette_shows_is_refused(faults_of: FaultsOf, old: str, new: str, at: str, expected: str) -> None:
    fault = faults_of(RUNS.replace(old, new))[0]
    assert fault.startswith(f"t.toml: given.sodium-hydroxide.titre{at}: {expected}")


def test_without_a_rough_run_all_readings_agree(template: Load) -> None:
    read = template(RUNS.replace(", rough = [0.50, 1.00]", ""))
    assert len(read.draws) == len(read.readings) == 3
