"""Marking by set.toml as it is now: as if the set had been built with it, and told where it differs from the build."""

from __future__ import annotations

import csv
from itertools import pairwise
from pathlib import Path

import pytest

from problemgen.errors import FaultsError
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.pipeline.answer_book import open_answers
from problemgen.pipeline.explain import ExplanationRequest, explain
from problemgen.pipeline.mark import MarkingReport, MarkingRequest, mark_set
from problemgen.pipeline.set_rules import mark_by_set
from tests.support.marking import PAGES_ONLY, write_cells
from tests.support.small_set import HEAD, small_set, write_answers

CELLS = {
    "s1": {"1a": "2.500 mol", "1b": "1.95", "1c": "1.25", "1d": "2.000", "1e": "K2CrO4", "1f": "663.5", "1g": "0.750"},
    "s2": {"2a": "4.11", "2b": "0.0465", "2c": "6.06", "2d": "71", "1a": "2.54", "1f": "0.4147"},
}
TWICE = (
    HEAD
    + """[[problem]]
template = "chromate"
"""
)
RULES = (
    "",
    '[policy]\nfollow_through = 0.5\nunit_slip = 0.25\nmissing_unit = "deduct"\nfigures = "deduct"\n',
    "[policy]\nwiden_percent = 2\n",
    "[problem.part.a]\nreplace_percent = 4\npoints = 3\n[problem.policy]\nrounded_early = 0\n",
    '[policy]\nnamed_mistake = 0.4\nnamed_mistakes = { "ratio-left-out" = 0.5 }\n',
    "[problem.part.b]\npoints = 0.5\n[problem.part.d]\nwiden_percent = 10\n",
)


def built(folder: Path, rules: str, *, head: str = HEAD, made_from: str = "../set/small") -> Path:
    """A set in folder/set, and the answers.json of it in folder/built."""
    out = folder / "built"
    out.mkdir(parents=True)
    write_answers(out, small_set(folder / "set", rules, head=head), made_from=made_from)
    return out


def ruled(folder: Path, rules: str, head: str = HEAD) -> None:
    (folder / "set" / "small" / "set.toml").write_text(head + rules, encoding="utf-8")


def marked(folder: Path, set_folder: Path | None = None) -> MarkingReport:
    responses = write_cells(folder / "r.csv", CELLS)
    request = MarkingRequest(
        folder / "built", (responses,), folder / "g", replace=True, feedback=PAGES_ONLY, set_folder=set_folder
    )
    return mark_set(request, lambda *_: None)


def grades(folder: Path) -> list[list[str]]:
    with (folder / "g" / "grades.csv").open(encoding="utf-8-sig", newline="") as file:
        return list(csv.reader(file))


@pytest.mark.parametrize(("before", "after"), [*pairwise((*RULES, ""))])
def test_a_changed_set_marks_as_if_it_had_been_built_so(tmp_path: Path, before: str, after: str) -> None:
    built(tmp_path / "changed", before, head=TWICE)
    ruled(tmp_path / "changed", after, TWICE)
    built(tmp_path / "anew", after, head=TWICE)
    assert marked(tmp_path / "changed").notes[0].startswith("Marked by ")
    assert marked(tmp_path / "anew").notes == ()
    assert grades(tmp_path / "changed") == grades(tmp_path / "anew")


def test_what_differs_from_the_build_is_told(tmp_path: Path) -> None:
    built(tmp_path, "[problem.part.a]\npoints = 3\n")
    rules = '[problem.part.b]\nfigures = "deduct"\npoints = 0.5\n[policy]\nfollow_through = 0.5\nwiden_percent = 1.5\n'
    ruled(tmp_path, rules + '[attempts]\ncounts = "best"\n')
    assert marked(tmp_path).notes == (
        (
            f"Marked by {tmp_path / 'set' / 'small' / 'set.toml'} as it is now, other than when it was built: "
            "follow_through 1 → 0.5 (all parts); widen_percent 0 → 1.5 (all parts); figures remark → deduct (2b); "
            "points 3 → 1 (2a); points 1 → 0.5 (2b); attempts.counts last → best."
        ),
    )


def test_a_set_that_is_no_longer_there_is_marked_by_what_answers_json_keeps(tmp_path: Path) -> None:
    built(tmp_path, RULES[1], made_from="../elsewhere")
    with Answers(tmp_path / "built" / ANSWERS_FILE) as answers:
        kept = answers.head
    assert marked(tmp_path).notes == (
        (
            f"The set is no longer in {tmp_path / 'elsewhere'}: marked by the policies kept in "
            "answers.json. --set names its folder."
        ),
    )
    assert (kept.policy.follow_through, kept.made_from) == (0.5, "../elsewhere")


def test_another_folder_can_be_named(tmp_path: Path) -> None:
    built(tmp_path, "", made_from="../elsewhere")
    ruled(tmp_path, "[policy]\nunit_slip = 0\n")
    (told,) = marked(tmp_path, tmp_path / "set" / "small").notes
    assert told.endswith("unit_slip 0.5 → 0 (all parts).")
    lines = list(explain(ExplanationRequest(
        tmp_path / "built", (tmp_path / "r.csv",), "s1", "1a", set_folder=tmp_path / "set" / "small"
    )))  # fmt: skip
    assert told in lines
    assert "- Points: 0 of 1; the policy's share for this is 0" in lines


def test_a_folder_that_is_named_has_to_hold_a_set(tmp_path: Path) -> None:
    built(tmp_path, "")
    with pytest.raises(FaultsError, match=r"nowhere/set\.toml: found no such file or directory"):
        marked(tmp_path, tmp_path / "nowhere")


@pytest.mark.parametrize(
    ("rules", "fault"),
    [
        ("[policy]\nfollow_trough = 1\n", "policy.follow_trough: found an unknown key"),
        ("[problem.part.x]\npoints = 1\n", "problem.2.part.x: found 'x'; expected the letter of a part: a to d"),
        ("[policy]\nwiden_percent = 1\nreplace_percent = 2\n", "found a window that is widened and replaced"),
    ],
)
def test_faults_of_the_rules_stop_the_marking(tmp_path: Path, rules: str, fault: str) -> None:
    built(tmp_path, "")
    ruled(tmp_path, rules)
    with pytest.raises(FaultsError) as caught:
        marked(tmp_path)
    assert fault in str(caught.value)
    assert not (tmp_path / "g").exists()


@pytest.mark.parametrize(
    ("head", "rules", "differs"),
    [
        (HEAD.replace("chromate", "ester"), "", "problem 'ester-2' is new; problem 1 is gone"),
        (TWICE, "", "problem 'chromate-2' is new"),
        (HEAD, "[attempts]\nnumber = 2\n", "2 attempts, not 1"),
    ],
)
def test_another_set_than_was_built_is_something_to_look_at(
    tmp_path: Path, head: str, rules: str, differs: str
) -> None:
    built(tmp_path, "")
    ruled(tmp_path, "[policy]\nunit_slip = 0\n" + rules, head)
    report = marked(tmp_path)
    assert report.to_look_at == (
        (
            f"{tmp_path / 'set' / 'small' / 'set.toml'} is another set than was built ({differs}): marked by "
            "the policies kept in answers.json. Build it anew, or name the set with --set."
        ),
    )
    assert grades(tmp_path)[1][7] == "0.5"


def test_a_notebook_judges_by_the_same_rules(tmp_path: Path) -> None:
    folder = built(tmp_path, "")
    ruled(tmp_path, "[policy]\nreplace_percent = 10\n")
    with open_answers(folder) as book:
        assert book.judge("s1", {"1a": "2.70"}).parts[0].verdict == "right"
        assert book.problems("s1")[0].parts[0].high == 2.75


def test_the_file_keeps_the_derived_windows(tmp_path: Path) -> None:
    windows = []
    for rules in ("", "[policy]\nreplace_percent = 10\n"):
        folder = built(tmp_path / str(len(rules)), rules)
        lines = (folder / ANSWERS_FILE).read_text(encoding="utf-8").splitlines()
        windows.append(lines[1:3])
    assert windows[0] == windows[1]


def test_nobody_knows_where_the_set_is(tmp_path: Path) -> None:
    folder = built(tmp_path, "", made_from="")
    with Answers(folder / ANSWERS_FILE) as answers:
        assert mark_by_set(answers, folder, None).notes == ()
