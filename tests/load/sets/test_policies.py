"""Policies of sets, problems and parts, and attempts: what is read, what goes before what, and every fault."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from problemgen.errors import FaultsError
from problemgen.model.policy import Attempts, Policy, Tolerance
from problemgen.model.problem_set import ProblemSet
from tests.support.small_set import HEAD, small_set

F = Fraction

CHOICE = HEAD.replace('template = "ester"', 'choose = ["ester", "chromate"]')
WIDE = Tolerance("widened", F(1, 100))


def policy(loaded: ProblemSet, column: str) -> Policy:
    problem = loaded.problems[int(column[0]) - 1]
    return loaded.policy_of(problem, column[1:])


def faults(tmp_path: Path, more: str, head: str = HEAD) -> list[str]:
    with pytest.raises(FaultsError) as caught:
        small_set(tmp_path, more, head=head)
    return [str(fault).partition("set.toml: ")[2] for fault in caught.value.faults]


def test_a_set_that_says_nothing_has_the_defaults(tmp_path: Path) -> None:
    loaded = small_set(tmp_path)
    assert loaded.policy == Policy() == policy(loaded, "1a") == policy(loaded, "2d")
    assert loaded.attempts == Attempts(1, "last")
    assert list(loaded.problems[0].policies) == ["a", "b", "c", "d", "e", "f", "g"]


def test_a_part_goes_before_its_problem_and_that_before_the_set(tmp_path: Path) -> None:
    of_problem = '[problem.policy]\nfollow_through = 0.5\nfigures = "ignore"\n'
    of_part = '[problem.part.d]\nfigures = "deduct"\nwiden_percent = 1\n'
    loaded = small_set(tmp_path, of_problem + of_part + "[policy]\nfollow_through = 0.9\nunit_slip = 0.25\n")
    assert policy(loaded, "1a") == loaded.policy == Policy(follow_through=F(9, 10), unit_slip=F(1, 4))
    common = Policy(follow_through=F(1, 2), unit_slip=F(1, 4), figures="ignore")
    assert policy(loaded, "2a") == common
    assert policy(loaded, "2d") == Policy(
        follow_through=F(1, 2), unit_slip=F(1, 4), figures="deduct", widen_percent=F(1)
    )


@pytest.mark.parametrize(
    ("of_set", "of_part", "tolerance"),
    [
        ("", "", Tolerance()),
        ("widen_percent = 1", "", WIDE),
        ("widen_percent = 1.5", "", Tolerance("widened", F(3, 200))),
        ("replace_percent = 5", "", Tolerance("replaced", F(1, 20))),
        ("replace_percent = 5", "widen_percent = 1", WIDE),
        ("widen_percent = 1", "replace_percent = 5", Tolerance("replaced", F(1, 20))),
        ("widen_percent = 1", "widen_percent = 0", Tolerance()),
    ],
)
def test_the_nearer_window_stands_alone(tmp_path: Path, of_set: str, of_part: str, tolerance: Tolerance) -> None:
    loaded = small_set(tmp_path, f"[problem.part.a]\n{of_part}\n[policy]\n{of_set}\n")
    assert policy(loaded, "2a").tolerance == tolerance


def test_shares_of_single_mistakes_add_up_from_set_to_part(tmp_path: Path) -> None:
    of_part = '[problem.part.a.named_mistakes]\n"density-divided:mass(isopentyl-alcohol)" = 0.75\n'
    of_set = '[policy.named_mistakes]\n"density-divided" = 0.25\n"ratio-left-out" = 0.5\n'
    loaded = small_set(tmp_path, of_part + of_set)
    assert loaded.policy.named_mistakes == {"density-divided": F(1, 4), "ratio-left-out": F(1, 2)}
    one = policy(loaded, "2a")
    assert one.share_of_mistake("density-divided:mass(isopentyl-alcohol)") == F(3, 4)
    assert one.share_of_mistake("density-divided:mass(acetic-acid)") == F(1, 4)
    assert one.share_of_mistake("ratio-inverted:x") == one.named_mistake == 0


def test_points_may_be_those_of_the_set(tmp_path: Path) -> None:
    loaded = small_set(tmp_path, "[problem.part.c]\npoints = 0.5\n[problem.part.a]\npoints = 3\n")
    (ester,) = loaded.problems[1].templates
    assert [part.points.text for part in ester.parts] == ["3", "1", "0.5", "2"]


def test_a_letter_of_one_of_several_templates_will_do(tmp_path: Path) -> None:
    loaded = small_set(tmp_path, '[problem.part.g]\nfigures = "deduct"\npoints = 2\n', head=CHOICE)
    assert policy(loaded, "2g").figures == "deduct"
    ester, chromate = loaded.problems[1].templates
    assert len(ester.parts) == 4
    assert chromate.parts[6].points.text == "2"
    assert loaded.problems[0].templates[0].parts[6].points.text == "1"


@pytest.mark.parametrize(
    ("text", "attempts"),
    [
        ("[attempts]\n", Attempts(1, "last")),
        ("[attempts]\nnumber = 3\n", Attempts(3, "last")),
        ('[attempts]\nnumber = 2\ncounts = "best"\n', Attempts(2, "best")),
        ('[attempts]\nnumber = 9\ncounts = "mean"\n', Attempts(9, "mean")),
    ],
)
def test_attempts(tmp_path: Path, text: str, attempts: Attempts) -> None:
    assert small_set(tmp_path, text).attempts == attempts


def keys(*more: str) -> str:
    """The keys of a policy, as a message lists them."""
    return ", ".join(sorted((*Policy.model_fields, *more)))


@pytest.mark.parametrize(
    ("more", "expected"),
    [
        ("[attempts]\nnumber = 0\n", ["attempts.number: found 0; expected greater than or equal to 1"]),
        ("[attempts]\nnumber = 10\n", ["attempts.number: found 10; expected less than or equal to 9"]),
        ('[attempts]\ncounts = "first"\n', ["attempts.counts: found 'first'; expected 'last', 'best' or 'mean'"]),
        (
            "[attempts]\ncount = 2\n",
            ["attempts.count: found an unknown key; expected one of counts, number. Did you mean 'counts'?"],
        ),
        (
            "[policy]\nwiden_percent = -1\n",
            ["policy.widen_percent: found -1; expected a percentage from 0 to 100"],
        ),
        (
            '[policy]\nwiden_percent = "1 %"\n',
            ["policy.widen_percent: found '1 %'; expected a number: '1 %' is not a number"],
        ),
        (
            "[policy]\nreplace_percent = 0\n",
            ["policy.replace_percent: found 0; expected a percentage above 0, up to 100"],
        ),
        (
            "[policy]\nreplace_percent = 5\nwiden_percent = 1\n",
            [
                (
                    "policy.replace_percent: found a window that is widened and replaced; expected one of "
                    "widen_percent and replace_percent"
                )
            ],
        ),
        (
            "[policy.named_mistakes]\nratio-left-out = 2\n",
            ["policy.named_mistakes.ratio-left-out: found 2; expected a share from 0 to 1"],
        ),
        (
            "[policy.named_mistakes]\nratio-left-ou = 0.5\n",
            [
                (
                    "policy.named_mistakes.ratio-left-ou: found 'ratio-left-ou'; expected the id of a usual mistake of "
                    "these templates, with or without what follows the colon. Did you mean 'ratio-left-out'?"
                )
            ],
        ),
        ("[problem.part.z]\n", ["problem.2.part.z: found 'z'; expected the letter of a part: a to d"]),
        (
            "[problem.part.B]\n",
            ["problem.2.part.B: found 'B'; expected the letter of a part: a to d. Did you mean 'b'?"],
        ),
        (
            "[problem.part.02]\n",
            ["problem.2.part.02: found '02'; expected the letter of a part: a to d. Did you mean 'b'?"],
        ),
        (
            "[problem.part.2c]\n",
            ["problem.2.part.2c: found '2c'; expected the letter of a part: a to d. Did you mean 'c'?"],
        ),
        ("[problem.part.a]\npoints = -1\n", ["problem.2.part.a.points: found -1; expected no fewer than 0 points"]),
        (
            "[problem.part.a]\npoint = 1\n",
            [
                (
                    f"problem.2.part.a.point: found an unknown key; expected one of {keys('points')}. "
                    "Did you mean 'points'?"
                )
            ],
        ),
        (
            "[problem.policy]\npoints = 1\n",
            [f"problem.2.policy.points: found an unknown key; expected one of {keys()}"],
        ),
        (
            '[problem.policy]\nfigures = "no"\n',
            ["problem.2.policy.figures: found 'no'; expected 'ignore', 'remark' or 'deduct'"],
        ),
    ],
)
def test_a_fault(tmp_path: Path, more: str, expected: list[str]) -> None:
    assert faults(tmp_path, more) == expected


def test_all_faults_come_at_once(tmp_path: Path) -> None:
    first = "[problem.part.e]\nwiden_percent = 1\n[problem.part.h]\n[problem.policy.named_mistakes]\nx-y = 1\n"
    head = HEAD.replace('template = "chromate"\n', f'template = "chromate"\n{first}')
    assert faults(tmp_path, "[policy]\nreplace_percent = 5\nwiden_percent = 1\n", head) == [
        (
            "policy.replace_percent: found a window that is widened and replaced; expected one of widen_percent and "
            "replace_percent"
        ),
        (
            "problem.1.part.e.widen_percent: found a window for a part that asks for no number; expected a part that "
            "asks for a number"
        ),
        "problem.1.part.h: found 'h'; expected the letter of a part: a to g",
        (
            "problem.1.policy.named_mistakes.x-y: found 'x-y'; expected the id of a usual mistake of these templates, "
            "with or without what follows the colon"
        ),
    ]


def test_parts_of_a_template_that_cannot_be_read_are_not_judged(tmp_path: Path) -> None:
    head = HEAD.replace('"ester"', '"esther"')
    assert faults(tmp_path, "[problem.part.z]\n[policy.named_mistakes]\nx = 1\n", head) == [
        (
            "problem.2.template: found 'esther'; expected a template that `list` shows, or the name of a file beside "
            "set.toml. Did you mean 'ester'?"
        )
    ]
