"""The text of a template as it comes back from the page: what was not touched stays letter by letter."""

from __future__ import annotations

import tomllib
from collections.abc import Callable

import pytest

from problemgen.desk.template_files.shown import shown
from problemgen.desk.template_files.text import new_text
from problemgen.desk.template_files.wanted import WantedGiven, WantedPart, WantedTemplate
from problemgen.errors import FaultsError
from problemgen.load.sets.courses import Course
from tests.support.as_shown import as_shown
from tests.support.every_row import for_every

SHIPPED = Course()
BANKS = SHIPPED.banks()

TEXT = """# About silver.
title = "Silver chromate" # as printed
topic = "limiting reagent"
difficulty = 2
reaction = "silver-chromate"
story = \"\"\"Two solutions
are poured together.\"\"\"

# From the stock room.
[given.silver-nitrate]
volume = { from = 27.00, to = 30.00, unit = "mL", read = "burette-50" } # 50 mL
concentration = { choose = [0.09800, 0.1000], unit = "mol/L" }

[given.potassium-chromate]
volume = { from = 12.00, to = 14.00, unit = "mL", read = "burette-25" }
concentration = { choose = [0.0850, 0.150], unit = "mol/L" }

# First of all.
[[part]]
quantity = "amount"
of = "each reagent"
unit = "mmol"

# Then.
[[part]]
quantity = "limiting_reagent"
points = 2 # two
"""


def wanted(**changes: object) -> WantedTemplate:
    return as_shown("own/silver", TEXT, BANKS).model_copy(update=changes)


def with_given(change: Callable[[WantedGiven], WantedGiven]) -> dict[str, WantedGiven]:
    given = dict(wanted().given)
    return {**given, "silver-nitrate": change(given["silver-nitrate"])}


@for_every(sorted(SHIPPED.templates))
def test_a_template_that_nobody_changed_stays_as_it_is(name: str) -> None:
    text = SHIPPED.templates[name].read_text(encoding="utf-8")
    assert new_text(as_shown(name, text, BANKS)) == text


def test_a_number_is_written_with_its_digits_and_the_comment_stays() -> None:
    def wider(one: WantedGiven) -> WantedGiven:
        return one.model_copy(update={"values": {**one.values, "volume": {**one.values["volume"], "to": "32,50"}}})

    text = new_text(wanted(given=with_given(wider)))
    assert 'volume = { from = 27.00, to = 32.50, unit = "mL", read = "burette-50" } # 50 mL' in text
    assert text.replace("32.50", "30.00") == TEXT


def test_another_way_takes_the_old_values_out() -> None:
    weighed = {"mass": {"from": "0.450", "to": "0.520", "unit": "g", "read": "balance-0.001"}}
    text = new_text(wanted(given=with_given(lambda _one: WantedGiven(values=weighed))))
    given = tomllib.loads(text)["given"]["silver-nitrate"]
    assert given == {"mass": {"from": 0.45, "to": 0.52, "unit": "g", "read": "balance-0.001"}}
    assert "# From the stock room.\n[given.silver-nitrate]" in text
    assert "from = 0.450" in text


def test_parts_change_places_with_their_comments_and_new_ones_come_in() -> None:
    first, second = wanted().parts
    new = WantedPart(keys={"quantity": "mass", "of": "product", "role": ""}, unit="mg", points="1.5", session=2)
    text = new_text(wanted(parts=(second, first, new)))
    assert text.index("# Then.\n[[part]]") < text.index("# First of all.\n[[part]]")
    assert "points = 2 # two" in text
    assert tomllib.loads(text)["part"][2] == {
        "quantity": "mass",
        "of": "product",
        "unit": "mg",
        "points": 1.5,
        "session": 2,
    }


def test_the_head_keeps_its_comments_and_says_what_is_new() -> None:
    text = new_text(wanted(title="Silver", always_limits="silver-nitrate", because="It is dear.", may_hide=("x",)))
    assert text.startswith('# About silver.\ntitle = "Silver" # as printed\n')
    data = tomllib.loads(text)
    assert (data["always_limits"], data["because"], data["may_hide"]) == ("silver-nitrate", "It is dear.", ["x"])
    assert '"""Two solutions\nare poured together."""' in text


def test_all_that_is_no_number_is_told_at_once() -> None:
    def wrong(one: WantedGiven) -> WantedGiven:
        values = {"volume": {"from": "2e3", "to": "", "unit": "mL"}, "concentration": {"choose": "0.1; x"}}
        return one.model_copy(update={"values": values})

    first, second = wanted().parts
    with pytest.raises(FaultsError) as told:
        new_text(wanted(given=with_given(wrong), parts=(first, second.model_copy(update={"points": "many"}))))
    assert [one.key for one in told.value.faults] == [
        "given.silver-nitrate.concentration.choose",
        "given.silver-nitrate.volume.from",
        "part.2.points",
    ]


@pytest.mark.parametrize(
    "base",
    [
        'title = "x"\ntopic = "y"\npart = [{ quantity = "mass" }]\n',
        'title = "x',
        TEXT.replace("[given.silver-nitrate]", "[given.silver-nitrate.volume]\nfrom = 1\n[given.other]"),
    ],
)
def test_a_text_in_another_notation_is_refused(base: str) -> None:
    with pytest.raises(ValueError, match=r".+"):
        new_text(wanted(base=base))


def test_texts_are_data_whatever_they_hold() -> None:
    hostile = "\"\"\"\n[given.x]\n\\u0000''' {{ given }} # "
    text = new_text(wanted(title=hostile.replace("\n", " "), story=hostile))
    assert tomllib.loads(text)["story"] == hostile.strip()
    assert set(tomllib.loads(text)["given"]) == {"silver-nitrate", "potassium-chromate"}


def test_the_way_of_the_file_stands_first_and_all_others_behind() -> None:
    ways = [one.way for one in shown(TEXT, BANKS, "x").substances[0].ways]
    assert ways[0] == "solution"
    assert {"weighed", "excess"} < set(ways)
    assert len(ways) == len(set(ways))
