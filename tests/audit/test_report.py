from __future__ import annotations

import json
from dataclasses import replace

import pytest

from problemgen.audit.records import Audit, Credit, FixedTolerance, Marked, Sort, TemplateAudit, Widths
from problemgen.audit.report import COLUMNS, SORTS, audit_data, closing_rows, rows, sentences, sort_rows

BLIND = FixedTolerance(tolerance=0.0, students=2000, mistakes=36_000)
GOOD = TemplateAudit(
    "yield/salen",
    students=2000,
    mistakes=36_000,
    limits={"salicylaldehyde": 1500, "ethylenediamine": 500},
    widths=Widths(0.00981, 0.01512),
    marked=Marked(
        honest=16,
        sorts=(
            Sort("upside down", made=40, rightly=30, wrongly=1, unnamed=9, paid_again=2),
            Sort("factor inverted", made=60, rightly=60),
        ),
        unnamed={"wrong": 7, "slip": 2},
        credit=Credit(compared=20, guesses=160, guesses_named=4, guesses_paid=1),
    ),
    fixed=(
        replace(BLIND, tolerance=0.01, refused=1, rewarded=80, lucky=74),
        replace(BLIND, tolerance=0.02, refused=0, rewarded=80, lucky=74),
        replace(BLIND, tolerance=0.05, refused=0, rewarded=2_000, lucky=2000),
    ),
)
EQUATION = TemplateAudit(
    "equations/butane-burns",
    students=3,
    marked=Marked(honest=3, sorts=(Sort("coefficient", made=10, unnamed=10),), unnamed={"wrong": 10}),
)
BOTH = Audit([GOOD, EQUATION])


def test_a_row_a_template_and_one_for_all() -> None:
    salen, butane, every = rows(BOTH)
    assert salen == (
        *("yield/salen", "2000", "0", "0", "90.0 %", "1.0 %", "9.0 %", "2.0 %", "0 of 20", "2.5 %", "0.6 %"),
        *("0.98 to 1.51", "<0.1 % / 3.7 %", "0 % / 3.7 %", "0 % / 100 %"),
        "salicylaldehyde 75.0 %, ethylenediamine 25.0 %",
    )
    assert butane == (
        *("equations/butane-burns", "3", "0", "0", "0 %", "0 %", "100 %", "0 %"),
        *["-"] * 8,
    )
    assert every == (
        *("all", "2003", "0", "0", "81.8 %", "0.9 %", "17.3 %", "1.8 %", "0 of 20", "2.5 %", "0.6 %"),
        *[""] * 5,
    )
    assert len(salen) == len(butane) == len(every) == len(COLUMNS)
    assert [one[0] for one in rows(Audit([GOOD]))] == ["yield/salen"]


def test_a_row_a_sort_of_mistake_the_worst_named_first() -> None:
    worst, middle, best = sort_rows(BOTH)
    assert worst == ("coefficient", "10", "0", "0 %", "0 %", "100 %", "0 %")
    assert middle == ("upside down", "40", "0", "75.0 %", "2.5 %", "22.5 %", "5.0 %")
    assert best == ("factor inverted", "60", "0", "100 %", "0 %", "0 %", "0 %")
    assert len(best) == len(SORTS)


def test_sorts_of_several_templates_are_added_up() -> None:
    assert [one[:2] for one in sort_rows(Audit([GOOD, GOOD]))] == [("upside down", "80"), ("factor inverted", "120")]


def test_the_closing_table_adds_up() -> None:
    windows, one, two, five = closing_rows(BOTH)
    assert windows == ("windows, admitted numbers", "0 %", "0 %", "none")
    assert one == ("±1%, blind numbers", "<0.1 %", "0.2 %", "3.7 %")
    assert two == ("±2%, blind numbers", "0 %", "0.2 %", "3.7 %")
    assert five == ("±5%, blind numbers", "0 %", "5.6 %", "100 %")


def test_sentences_hide_nothing() -> None:
    assert list(sentences(BOTH)) == [
        "2 templates, by the windows: 0 of 2,003 honest workers refused, 0 of 36,000 mistakes rewarded.",
        "By the marking, in a sample: 0 of 19 honest workers refused, and 0 where they cut their answers.",
        (
            "Of 110 mistakes 0 are rewarded; 81.8 % named rightly, 0.9 % wrongly, 17.3 % not (wrong 15.5 %, slip "
            "1.8 %); 1.8 % are paid more than once."
        ),
        "Credit is upside down in 0 of 20 parts. Of 160 random wrong numbers 2.5 % are named, 0.6 % paid.",
    ]


@pytest.mark.parametrize(
    "bad",
    [
        replace(GOOD, refused=1),
        replace(GOOD, rewarded=1),
        replace(GOOD, marked=Marked(refused=1)),
        replace(GOOD, marked=Marked(cut_refused=1)),
        replace(GOOD, marked=Marked(sorts=(Sort("upside down", made=1, rewarded=1),))),
        replace(GOOD, marked=Marked(credit=Credit(compared=9, upside_down=1))),
    ],
)
def test_the_promise_is_broken_by_any_of_them(bad: TemplateAudit) -> None:
    assert BOTH.holds
    assert not Audit([bad, EQUATION]).holds


def test_the_promise_is_not_about_names() -> None:
    sorts = (Sort("upside down", made=9, wrongly=4, unnamed=5, paid_again=9),)
    assert replace(GOOD, marked=Marked(sorts=sorts, credit=Credit(guesses=9, guesses_named=9, guesses_paid=9))).holds


def test_examples_are_told() -> None:
    bad = replace(GOOD, refused=2, examples=("an honest worker was refused: mass(zinc) 1.00 g",))
    told = list(sentences(Audit([bad])))
    assert told[0].startswith("1 template, by the windows: 2 of 2,000 honest workers refused,")
    assert told[-1] == "yield/salen: an honest worker was refused: mass(zinc) 1.00 g"


def test_data_are_plain_json() -> None:
    data = json.loads(json.dumps(audit_data(BOTH)))
    assert data["holds"] is True
    assert [one["template"] for one in data["templates"]] == ["yield/salen", "equations/butane-burns"]
    assert data["templates"][0]["limits"] == {"salicylaldehyde": 1500, "ethylenediamine": 500}
    assert data["templates"][0]["marked"]["sorts"][0] == {
        "name": "upside down",
        "made": 40,
        "rewarded": 0,
        "by_chance": 0,
        "rightly": 30,
        "wrongly": 1,
        "unnamed": 9,
        "paid_again": 2,
    }
    assert data["templates"][0]["fixed"][2] == {
        "tolerance": 0.05,
        "students": 2000,
        "refused": 0,
        "mistakes": 36000,
        "rewarded": 2000,
        "lucky": 2000,
    }
