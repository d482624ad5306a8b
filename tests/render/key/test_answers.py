"""answers.json as it is written: one student a line, bounds rounded outwards, a digest of all before it."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from problemgen.exact.digits import read_written
from problemgen.model.policy import Policy
from problemgen.model.problem_set import ProblemSet, Student
from problemgen.model.truths import ChoiceTruth, NumberTruth
from problemgen.render.key.answers import AnswerLines, columns_of, own_keys
from tests.support.own_set import ALCOHOL, ALCOHOL_OWN, own_set
from tests.support.small_set import HEAD, STUDENTS, made, small_set


@pytest.fixture(scope="module")
def problem_set(tmp_path_factory: pytest.TempPathFactory) -> ProblemSet:
    return small_set(tmp_path_factory.mktemp("set"))


def written(problem_set: ProblemSet, students: Iterable[Student] = STUDENTS) -> list[bytes]:
    lines = AnswerLines()
    pieces = [lines.opening(problem_set, {"set.toml": "ab"})]
    pieces += [lines.student(one, "ABCD-EFGH", made(problem_set, one.id)) for one in students]
    return [*pieces, lines.closing()]


def document(pieces: list[bytes]) -> dict[str, Any]:
    loaded: dict[str, Any] = json.loads(b"".join(pieces))
    return loaded


def test_the_whole_is_one_json_document_with_a_student_a_line(problem_set: ProblemSet) -> None:
    pieces = written(problem_set)
    found = document(pieces)
    assert list(found) == ["format", "version", "head", "students", "digest", "signature"]
    assert (found["format"], found["version"]) == ("problemgen answers", 5)
    assert len(b"".join(pieces).splitlines()) == len(STUDENTS) + 2


def test_the_digest_is_of_all_before_it(problem_set: ProblemSet) -> None:
    *pieces, foot = written(problem_set)
    digest = hashlib.sha256(b"".join(pieces)).hexdigest()
    assert foot.decode() == f'\n],"digest":"sha256:{digest}","signature":""}}\n'


def test_columns_follow_the_longest_template_of_each_problem(problem_set: ProblemSet, tmp_path: Path) -> None:
    assert columns_of(problem_set) == ("1a", "1b", "1c", "1d", "1e", "1f", "1g", "2a", "2b", "2c", "2d")
    head = HEAD.replace('template = "ester"', 'choose = ["ester", "chromate"]').replace('"chromate"\n', '"ester"\n')
    assert columns_of(small_set(tmp_path, head=head)) == (
        *("1a", "1b", "1c", "1d"),
        *("2a", "2b", "2c", "2d", "2e", "2f", "2g"),
    )


def test_numbers_are_text_and_bounds_lie_outside(problem_set: ProblemSet) -> None:
    students = document(written(problem_set))["students"]
    for problem, variant in zip(students[0]["problems"], made(problem_set, "s1"), strict=True):
        for part, answer in zip(variant.template.parts, variant.answers, strict=True):
            told = problem["truths"][part.id]
            if not isinstance(answer, NumberTruth):
                assert told == {"choice": answer.choice if isinstance(answer, ChoiceTruth) else None}
                continue
            value, low, high = (read_written(told[key]).value for key in ("value", "low", "high"))
            assert low <= answer.low < value < answer.high <= high
            assert abs(value - answer.value) <= answer.value * Fraction("1e-11")
            assert told["printed"] == answer.printed
            assert all(len(told[key]) < 20 for key in ("value", "low", "high"))


def test_given_values_keep_their_digits(problem_set: ProblemSet) -> None:
    students = document(written(problem_set))["students"]
    assert students[0]["problems"][0]["given"]["volume(silver-nitrate,solution)"] == {"written": "25.00", "unit": "mL"}
    assert students[0]["problems"][0]["given"]["concentration(silver-nitrate)"] == {
        "written": "0.1000",
        "unit": "mol/L",
    }


def test_what_is_common_to_all_variants_stands_once(problem_set: ProblemSet) -> None:
    one, many = (len(b"".join(written(problem_set, STUDENTS[:1] * n))) for n in (1, 11))
    per_student = (many - one) / 10
    assert per_student < one / 4


def test_prompts_and_names_are_told_without_any_markup(problem_set: ProblemSet) -> None:
    template = document(written(problem_set))["head"]["templates"]["chromate"]
    assert template["parts"][0]["prompt"] == [
        ["prose", "The amount of silver nitrate"],
        ["prose", " ("],
        ["chemical", "AgNO3"],
        ["prose", ")"],
    ]
    assert template["parts"][5]["points"] == "2"
    assert template["scene"]["species"]["silver-nitrate"] == {
        "id": "silver-nitrate",
        "name": "silver nitrate",
        "formula": "AgNO3",
        "coefficient": -2,
        "synonyms": ["Silbernitrat", "nitrato de plata"],
    }


def test_the_policy_is_exact(tmp_path: Path) -> None:
    policy = small_set(tmp_path, "[policy]\nfollow_through = 0.333\n")
    told = document(written(policy))["head"]["policy"]
    assert list(told) == list(Policy.model_fields)
    assert (told["figures"], told["follow_through"], told["unit_slip"]) == ("remark", "333/1000", "1/2")
    assert (told["widen_percent"], told["replace_percent"], told["named_mistakes"]) == ("0", None, {})


def test_own_values_have_columns_and_words() -> None:
    first, *_, last = own_keys(own_set(ALCOHOL, ALCOHOL_OWN).problems[0])
    assert (first.column, first.words, first.share_words) == ("1.magnesium.mass", "mass of magnesium", "")
    assert last.words == "mass of triphenylmethanol obtained"
    assert last.share_words == "theoretical mass of triphenylmethanol"
