"""The key worked out from a student's own data: the same as for drawn numbers, and as far as the data go."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from problemgen.grade.judging.judge import explain_student, judge_student
from problemgen.grade.judging.own_data import with_own_data
from problemgen.load.fault_log import FaultLog
from problemgen.load.sets.own_values import own_values_of, read_own_values
from problemgen.model.answers import StudentKey
from problemgen.model.policy import Policy
from problemgen.model.truths import ChoiceTruth, Truth
from problemgen.model.verdict import PartResult
from tests.support.own_set import ALCOHOL, ALCOHOL_OWN, cells_of, drawn_key, own_key, own_keys_of, worked
from tests.support.shipped import NAMES, shipped
from tests.support.small_set import banks

ASPIRIN = "preparations/aspirin"
ASPIRIN_OWN = ("salicylic-acid.mass", "acetic-anhydride.volume", "acetylsalicylic-acid.obtained")
TITRATION = "titrations/oxalic-acid"
GRAMS = {"g": 1000, "mL": 1000}


def possible_own(name: str) -> tuple[str, ...]:
    """All own values of a template that its parts need."""
    template = shipped(name)
    used = {quantity.id for quantity in template.plan.given}
    return tuple(n for n, value in own_values_of(template, banks()).items() if value.quantity.id in used)


def decided(key: StudentKey) -> dict[str, Truth]:
    """The truths, without the reagents that numbers which nobody looked at may leave undecided."""
    truths = key.problems[0].truths.items()
    return {part: replace(one, also=()) if isinstance(one, ChoiceTruth) else one for part, one in truths}


OWNABLE = [
    name
    for name in NAMES
    if possible_own(name) and all(one.instrument for one in shipped(name).readings)  # others hang on what is hidden
]


@pytest.mark.parametrize("name", OWNABLE)
def test_data_equal_to_drawn_ones_give_the_drawn_key(name: str) -> None:
    own = possible_own(name)
    _, drawn = drawn_key(name)
    mine = worked(name, own, cells_of(name, own))
    assert decided(mine) == decided(drawn)
    assert mine.problems[0].given == drawn.problems[0].given


@settings(max_examples=60, deadline=None)
@given(data=st.data(), student=st.text("abcdefgh", min_size=1, max_size=6))
def test_whichever_values_are_own(data: st.DataObject, student: str) -> None:
    name = data.draw(
        st.sampled_from([ALCOHOL, ASPIRIN, TITRATION, "yield/fluorescein", "purification/acetanilide-twice"])
    )
    chosen = data.draw(st.sets(st.sampled_from(possible_own(name)), min_size=1))
    own = tuple(one for one in possible_own(name) if one in chosen)
    log = FaultLog("set.toml")
    read_own_values(log, own, shipped(name), banks())
    if log:
        return  # what was obtained rests on a value that is own: refused
    _, drawn = drawn_key(name, student)
    mine = worked(name, own, cells_of(name, own, student), student)
    assert decided(mine) == decided(drawn)


def test_before_the_data_are_there_only_what_does_not_rest_on_them_is_known() -> None:
    _, key = own_key(ASPIRIN, ("acetylsalicylic-acid.obtained",))
    assert sorted(key.problems[0].truths) == ["01", "02", "03", "04"]
    assert "mass(acetylsalicylic-acid,actual)" not in key.problems[0].given
    _, alcohol = own_key(ALCOHOL, ALCOHOL_OWN)
    assert alcohol.problems[0].truths == {}


def marked(cells: dict[str, str], own: tuple[str, ...] = ALCOHOL_OWN, name: str = ALCOHOL) -> dict[str, PartResult]:
    head, key = own_key(name, own)
    return {part.label: part for part in judge_student(head, key, cells).parts}


MY_DATA = {
    "1.magnesium.mass": "0.612 g",
    "1.bromobenzene.volume": "2.45 mL",
    "1.methyl-benzoate.volume": "13.2 mL",
    "1.methyl-benzoate.concentration": "1.10 mol/L",
    "1.triphenylmethanol.obtained": "1.74 g",
}
# Worked by hand: 2.45 × 1.495 = 3.663 g; / 157.01 = 23.33 mmol; / 2 × 260.33 = 3.037 g; 1.74 / 3.037 = 57.3 %.
MY_ANSWERS = {
    "1a": "3.66 g",
    "1b": "23.3 mmol",
    "1e": "11.7 mmol",
    "1h": "bromobenzene",
    "1i": "3.04 g",
    "1l": "57.3 %",
}


def test_a_student_is_marked_by_their_own_data() -> None:
    results = marked({**MY_DATA, **MY_ANSWERS})
    assert {label: results[label].verdict for label in MY_ANSWERS} == dict.fromkeys(MY_ANSWERS, "right")


def test_units_of_one_dimension_are_converted() -> None:
    other = {
        "1.magnesium.mass": "612 mg",
        "1.bromobenzene.volume": "0.00245 L",
        "1.triphenylmethanol.obtained": "1740 mg",
    }
    results = marked({**MY_DATA, **other, **MY_ANSWERS})
    assert {results[label].verdict for label in MY_ANSWERS} == {"right"}


def test_follow_through_and_mistakes_work_from_own_data() -> None:
    wrong = {
        "1e": "23.3 mmol",
        "1f": "25.2 mmol",
        "1g": "14.5 mmol",
        "1h": "methyl benzoate",
        "1i": "3.78 g",
    }
    results = marked({**MY_DATA, **wrong, "1l": "46.0 %"})
    assert (results["1e"].verdict, results["1e"].mistakes) == ("mistake", ("ratio-left-out",))
    assert {results[label].verdict for label in ("1h", "1i", "1l")} == {"follows"}


@pytest.mark.parametrize(
    ("cell", "verdict", "reason", "sentence"),
    [
        (
            "",
            "unread",
            "own-data-missing",
            "This part needs a value of your own that is missing: the mass of triphenylmethanol obtained.",
        ),
        (
            "2.1 mL",
            "unread",
            "own-data-unread",
            (
                "This part needs a value of your own that cannot be used: the mass of triphenylmethanol obtained. "
                "It is written in mL; g is asked for."
            ),
        ),
        (
            "lost it",
            "unread",
            "own-data-unread",
            (
                "This part needs a value of your own that cannot be used: the mass of triphenylmethanol obtained. "
                'No number is found in "lost it".'
            ),
        ),
    ],
)
def test_a_part_without_its_data_names_them(cell: str, verdict: str, reason: str, sentence: str) -> None:
    results = marked({**MY_DATA, **MY_ANSWERS, "1.triphenylmethanol.obtained": cell})
    part = results["1l"]
    assert (part.verdict, part.reason, part.sentence, part.points) == (verdict, reason, sentence, 0)
    assert {results[label].verdict for label in MY_ANSWERS if label != "1l"} == {"right"}


def test_a_part_without_data_and_without_an_answer_is_blank() -> None:
    results = marked({})
    assert {(part.verdict, part.reason) for part in results.values()} == {("blank", "own-data-missing")}


def test_what_does_not_need_the_missing_value_is_marked() -> None:
    results = marked({**MY_DATA, **MY_ANSWERS, "1.bromobenzene.volume": "", "1c": "25.2 mmol", "1f": "12.6 mmol"})
    assert {label for label, part in results.items() if part.reason == "own-data-missing"} == {
        "1a",
        "1b",
        "1e",
        "1h",
        "1i",
        "1j",
        "1k",
        "1l",
    }
    assert (results["1c"].verdict, results["1f"].verdict) == ("right", "right")
    assert "volume of bromobenzene" in results["1h"].sentence


def test_a_usual_mistake_is_named_though_a_value_is_missing() -> None:
    results = marked({**MY_DATA, "1.triphenylmethanol.obtained": "", "1e": "23.3 mmol"})
    assert results["1e"].mistakes == ("ratio-left-out",)


@pytest.mark.parametrize("cell", ["0 mL", "0", "0.00 mL"])
def test_data_that_divide_by_zero_are_told(cell: str) -> None:
    results = marked({**MY_DATA, **MY_ANSWERS, "1.bromobenzene.volume": cell})
    assert results["1l"].sentence == "Your own data cannot be worked with here: they lead to a division by zero."
    assert results["1l"].verdict == "unread"
    assert results["1b"].verdict != "unread"


def test_nothing_obtained_is_a_yield_of_zero() -> None:
    results = marked({**MY_DATA, **MY_ANSWERS, "1.triphenylmethanol.obtained": "0.00 g", "1l": "0 %"})
    assert results["1l"].verdict == "right"


def test_a_comma_divides_own_values_where_the_paper_shows_that_it_does() -> None:
    head, key = own_key(ALCOHOL, ALCOHOL_OWN)
    cells = {"1.magnesium.mass": "0,612 g", "1.triphenylmethanol.obtained": "1,740 g"}
    read = {one.key.column: one for one in with_own_data(head, key, cells).problems[0].own}
    obtained = read["1.triphenylmethanol.obtained"]
    assert obtained.datum is not None
    assert (obtained.wrote, obtained.datum.written.text) == ("1,740 g", "1.740")
    assert "doubtful-spelling" not in [flag.code for flag in obtained.flags]


def test_a_key_is_worked_out_once() -> None:
    head, key = own_key(ALCOHOL, ALCOHOL_OWN)
    once = with_own_data(head, key, MY_DATA)
    assert with_own_data(head, once, {}) is not key
    assert with_own_data(head, once, {}).problems == once.problems


def test_a_set_of_drawn_numbers_is_left_as_it_is() -> None:
    head, key = drawn_key(ALCOHOL)
    assert with_own_data(head, key, {}) is key


def test_reagents_that_own_data_leave_undecided_are_both_accepted() -> None:
    close = {**MY_DATA, "1.magnesium.mass": "0.568 g"}  # 23.33 and 23.37 mmol, both two to one
    for reagent in ("bromobenzene", "magnesium"):
        result = marked({**close, "1h": reagent, "1i": "3.04 g", "1l": "57.3 %"})
        assert (result["1h"].verdict, result["1h"].points) == ("right", 1)
        remark = "By your own data the reagents are so close that either may be called the limiting one."
        assert result["1h"].remarks == (remark,)
        assert {result["1i"].verdict, result["1l"].verdict} == {"right"}
    assert marked({**close, "1h": "methyl benzoate"})["1h"].verdict != "right"


def test_an_explanation_tells_of_parts_without_data() -> None:
    head, key = own_key(ALCOHOL, ALCOHOL_OWN)
    explained = {one.result.label: one for one in explain_student(head, key, {**MY_DATA, "1.bromobenzene.volume": ""})}
    assert explained["1a"].truth is None
    assert explained["1a"].way == ()
    assert explained["1c"].truth is not None


def test_columns_stand_before_those_of_the_parts() -> None:
    head, _ = own_key(ALCOHOL, ALCOHOL_OWN)
    assert head.response_columns == (*own_keys_of(ALCOHOL, ALCOHOL_OWN).values(), *head.columns)


@settings(max_examples=15, deadline=None)
@given(data=st.data())
def test_no_data_are_refused_whatever_is_written(data: st.DataObject) -> None:
    numbers = st.sampled_from(["", "0", "-1.5 g", "1e300", "9e999", "-0.0", "2/3", "1,234", "1e-39", "0.612", "5 mL"])
    cells = {f"1.{name}": data.draw(st.one_of(numbers, st.text(max_size=12))) for name in ALCOHOL_OWN}
    cells |= {f"1{label}": data.draw(numbers) for label in "abcdefghijklm"}
    head, key = own_key(ALCOHOL, ALCOHOL_OWN)
    results = judge_student(head, key, cells).parts
    assert [part.result.verdict for part in explain_student(head, key, cells)] == [part.verdict for part in results]
    assert all(part.sentence for part in results)
    for one in with_own_data(head, key, cells).problems[0].own:
        assert (one.datum is not None) or one.reason or one.is_blank


def test_a_number_that_no_instrument_shows_is_told() -> None:
    results = marked({**MY_DATA, "1.magnesium.mass": "1e300 g"})
    assert results["1c"].sentence.endswith("the mass of magnesium. No instrument shows a number of this size.")


@pytest.mark.parametrize(("percent", "verdict"), [(0, "wrong"), (3, "right")])
def test_a_window_from_own_data_has_the_tolerance_of_its_part(percent: int, verdict: str) -> None:
    head, key = own_key(ALCOHOL, ALCOHOL_OWN)
    tolerant = replace(head, policies={"1a": Policy(widen_percent=Fraction(percent))})
    results = judge_student(tolerant, key, {**MY_DATA, "1a": "3.757 g"})
    assert results.parts[0].verdict == verdict
