from __future__ import annotations

import json
from dataclasses import replace

from problemgen.audit.records import Audit, FixedTolerance, Naming, TemplateAudit, Widths
from problemgen.audit.report import COLUMNS, audit_data, closing_rows, rows, sentences

BLIND = FixedTolerance(tolerance=0.0, students=2000, mistakes=36_000, pairs=282_000)
GOOD = TemplateAudit(
    "yield/salen",
    students=2000,
    mistakes=36_000,
    pairs=282_000,
    no_odds=7,
    undone=("one + other",),
    widths=Widths(0.00981, 0.01512),
    naming=Naming(mistakes=72, named=71, pairs=16, pairs_named=12, honest=4, compared=460),
    fixed=(
        replace(BLIND, tolerance=0.01, refused=1, rewarded=80, pairs_rewarded=30, lucky=74),
        replace(BLIND, tolerance=0.02, refused=0, rewarded=80, pairs_rewarded=30, lucky=74),
        replace(BLIND, tolerance=0.05, refused=0, rewarded=2_000, pairs_rewarded=900, lucky=2000),
    ),
)
EQUATION = TemplateAudit("equations/butane-burns", students=3, mistakes=4, pairs=6, naming=Naming(honest=3))


def test_a_row_a_template() -> None:
    salen, butane = rows(Audit([GOOD, EQUATION]))
    assert salen == (
        *("yield/salen", "2000", "0", "0", "0", "98.6 %", "0.98 to 1.51"),
        *("<0.1 % / 3.7 %", "0 % / 3.7 %", "0 % / 100 %"),
    )
    assert butane == ("equations/butane-burns", "3", "0", "0", "0", "-", "-", "-", "-", "-")
    assert len(salen) == len(butane) == len(COLUMNS)


def test_the_closing_table_adds_up() -> None:
    windows, one, two, five = closing_rows(Audit([GOOD, EQUATION]))
    assert windows == ("windows, admitted numbers", "0 %", "0 %", "0 %", "none")
    assert one == ("±1%, blind numbers", "<0.1 %", "0.2 %", "<0.1 %", "3.7 %")
    assert two == ("±2%, blind numbers", "0 %", "0.2 %", "<0.1 %", "3.7 %")
    assert five == ("±5%, blind numbers", "0 %", "5.6 %", "0.3 %", "100 %")


def test_sentences_hide_nothing() -> None:
    assert list(sentences(Audit([GOOD, EQUATION]))) == [
        (
            "2 templates: 0 of 2,003 honest workers refused; rewarded in full: 0 of 36,004 mistakes made alone, "
            "0 of 282,006 made in pairs."
        ),
        "Left out, since one always undoes the other and every number is right: 1 pair.",
        "  yield/salen: one + other",
        "Left out, since the step comes out as it should: 7 mistakes and pairs.",
        (
            "Marked in a sample: 7 honest workers, 72 mistakes made alone (98.6 % named), 16 pairs (75.0 % with both "
            "named); the marking differs from this audit in 0 of 460 parts."
        ),
    ]


def test_the_promise_is_broken_by_any_of_them() -> None:
    assert Audit([GOOD, EQUATION]).holds
    assert not Audit([GOOD, replace(EQUATION, refused=1)]).holds
    assert not Audit([replace(GOOD, rewarded=1)]).holds
    assert not Audit([replace(GOOD, pairs_rewarded=1)]).holds
    assert not Audit([replace(GOOD, naming=Naming(disagreements=1))]).holds


def test_examples_are_told() -> None:
    bad = replace(GOOD, refused=2, examples=("an honest worker was refused: mass(zinc) 1.00 g",))
    told = list(sentences(Audit([bad])))
    assert told[0].startswith("1 template: 2 of 2,000 honest workers refused;")
    assert told[-1] == "yield/salen: an honest worker was refused: mass(zinc) 1.00 g"


def test_data_are_plain_json() -> None:
    data = json.loads(json.dumps(audit_data(Audit([GOOD, EQUATION]))))
    assert data["holds"] is True
    assert [one["template"] for one in data["templates"]] == ["yield/salen", "equations/butane-burns"]
    assert data["templates"][0]["fixed"][2] == {
        "tolerance": 0.05,
        "students": 2000,
        "refused": 0,
        "mistakes": 36000,
        "rewarded": 2000,
        "pairs": 282000,
        "pairs_rewarded": 900,
        "lucky": 2000,
    }
