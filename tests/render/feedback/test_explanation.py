"""An explanation as text: every number with its unit, every part of it under its own words."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from problemgen.grade.judging.judge import explain_student
from problemgen.load.answers.answers import Answers
from problemgen.model.answers import TemplateKey
from problemgen.model.explanation import Bounds, Explanation, OnTheWay, Trial
from problemgen.model.quantity import Quantity
from problemgen.model.truths import NumberTruth
from problemgen.model.verdict import PartResult
from problemgen.render.feedback.explanation import explanation_blocks
from problemgen.render.printers.terminal import text_lines
from tests.support.small_set import small_set, write_answers

F = Fraction
HALF = F(1, 2)


@pytest.fixture(scope="module")
def template(tmp_path_factory: pytest.TempPathFactory) -> TemplateKey:
    folder: Path = tmp_path_factory.mktemp("set")
    with Answers(write_answers(folder, small_set(folder))) as answers:
        return answers.head.templates["ester"]


def lines(template: TemplateKey, verdict: str, trials: tuple[Trial, ...] = (), share: F = HALF) -> list[str]:
    part = template.parts[1]
    about = ("p2", part.id, "2b", verdict, "code", "Told.", ("And more.",), HALF, F(1), " 47 ", "47 mmol")
    result = PartResult(*about, share=share)
    way = OnTheWay(
        Quantity("volume", "isopentyl-alcohol"), "given", Bounds(F("0.005"), F("0.005"), F("0.005"), 3), "as given"
    )
    truth = NumberTruth(F("0.0459"), F("0.0458"), F("0.0461"), 3, "0.0459")
    one = Explanation(part, truth, result, F("0.047"), 2, (way,), (), trials)
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
    ("verdict", "share", "told"),
    [
        ("right", F(1), "the policy gives all, less what it deducts"),
        ("follows", HALF, "the policy's share for this is 0.5"),
        ("follows", F(1), "the policy's share for this is 1, less what it deducts"),
        ("mistake", F(0), "the policy's share for this is 0"),
        ("rounded", F(1, 3), "the policy's share for this is 0.33"),
        ("wrong", F(0), "the policy gives none"),
        ("blank", F(0), "the policy gives none"),
        ("unjudged", F(0), "the policy gives none"),
    ],
)
def test_the_share_of_each_verdict(template: TemplateKey, verdict: str, share: F, told: str) -> None:
    assert f"- Points: 0.5 of 1; {told}" in lines(template, verdict, share=share)


@pytest.mark.parametrize(
    ("wrote", "points"),
    [
        ("5.00 g", "0.4 of 1; the policy's share for this is 0.4"),
        ("6.17 g", "0 of 1; the policy's share for this is 0"),
        ("4050", "0.5 of 1; the policy's share for this is 0.5"),
        ("4.0500 g", "0.75 of 1; the policy gives all, less what it deducts"),
    ],
)
def test_the_share_is_the_one_that_was_given(tmp_path: Path, wrote: str, points: str) -> None:
    shares = '[problem.part.a]\nfigures = "deduct"\n[problem.part.a.named_mistakes]\n"density-forgotten" = 0.4\n'
    with Answers(write_answers(tmp_path, small_set(tmp_path, shares))) as answers:
        explained = explain_student(answers.head, answers.student("s1"), {"2a": wrote})
        (one,) = [one for one in explained if one.result.label == "2a"]
        told = list(text_lines(explanation_blocks(answers.head.templates["ester"], one)))
    assert f"- Points: {points}" in told


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
