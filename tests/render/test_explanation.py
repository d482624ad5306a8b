"""An explanation as text: every number with its unit, every part of it under its own words."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from problemgen.load.answers import Answers
from problemgen.model.answers import TemplateKey, Truth
from problemgen.model.explanation import Bounds, Explanation, OnTheWay, Trial
from problemgen.model.problem_set import Policy
from problemgen.model.quantity import Quantity
from problemgen.model.verdict import PartResult
from problemgen.render.explanation import explanation_blocks
from problemgen.render.terminal import text_lines
from tests.support.small_set import small_set, write_answers

F = Fraction
POLICY = Policy(named_mistake=F(1, 4), rounded_early=F(1, 3))


@pytest.fixture(scope="module")
def template(tmp_path_factory: pytest.TempPathFactory) -> TemplateKey:
    folder: Path = tmp_path_factory.mktemp("set")
    with Answers(write_answers(folder, small_set(folder))) as answers:
        return answers.head.templates["ester"]


def lines(template: TemplateKey, verdict: str, trials: tuple[Trial, ...] = ()) -> list[str]:
    part = template.parts[1]
    result = PartResult("p2", part.id, "2b", verdict, "code", "Told.", ("And more.",), F(1, 2), F(1), " 47 ", "47 mmol")
    way = OnTheWay(
        Quantity("volume", "isopentyl-alcohol"), "given", Bounds(F("0.005"), F("0.005"), F("0.005"), 3), "as given"
    )
    truth = Truth(F("0.0459"), F("0.0458"), F("0.0461"), 3, "0.0459", "")
    one = Explanation(part, truth, result, POLICY, F("0.047"), 2, (way,), (), trials)
    return list(text_lines(explanation_blocks(template, one)))


def test_what_was_written_read_and_accepted(template: TemplateKey) -> None:
    told = lines(template, "slip")
    assert told[1] == "2b  The amount of 3-methylbutan-1-ol (C5H12O)"
    assert told[2:8] == [
        "- Wrote: 47",
        "- Read: 47 mmol, that is 0.047 mol with 2 significant figures",
        "- Right answer: 0.0459, accepted from 0.0458000 to 0.0461000 mol",
        "- Verdict: slip (right but for a slip of unit, sign or power of ten), code",
        "- Told the student: Told. And more.",
        "- Points: 0.5 of 1; the policy's share for this is 0.5",
    ]


@pytest.mark.parametrize(
    ("verdict", "share"),
    [
        ("right", "the policy gives all, less what it deducts"),
        ("follows", "the policy's share for this is 1"),
        ("mistake", "the policy's share for this is 0.25"),
        ("rounded", "the policy's share for this is 0.33"),
        ("wrong", "the policy gives none"),
        ("blank", "the policy gives none"),
    ],
)
def test_the_share_of_each_verdict(template: TemplateKey, verdict: str, share: str) -> None:
    assert f"- Points: 0.5 of 1; {share}" in lines(template, verdict)


def test_values_stand_in_the_units_of_the_trade(template: TemplateKey) -> None:
    table = lines(template, "wrong")[8:]
    assert table[0] == "The window, step by step"
    assert table[2].split()[-6:] == ["5.00000", "5.00000", "mL", "given:", "as", "given"]


def test_what_fits_comes_first_and_what_changes_nothing_in_one_line(template: TemplateKey) -> None:
    bounds = Bounds(F(5), F("4.9"), F("5.1"), 3)
    trials = (
        Trial("mistake", "one", fits=False, why="changes nothing"),
        Trial("mistake", "two", fits=False, why="leads elsewhere", leads_to=bounds),
        Trial("mistake", "three", fits=True, why="leads to it", leads_to=bounds),
        Trial("mistake", "four", fits=False, why="changes nothing"),
        Trial("window", "the window", fits=False, why="outside"),
    )
    told = lines(template, "mistake", trials)
    assert told[told.index("Window") :] == [
        "Window",
        "- ✗ the window: outside",
        "Usual mistakes",
        "- ✓ three, 4.90000 to 5.10000 mol: leads to it",
        "- ✗ two, 4.90000 to 5.10000 mol: leads elsewhere",
        "- ✗ one; four: changes nothing",
    ]
