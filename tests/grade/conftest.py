"""The small set, judged under any policy: silver chromate and isopentyl acetate."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from problemgen.grade.judging.judge import judge_student
from problemgen.load.answers.answers import Answers
from problemgen.model.verdict import StudentResult
from tests.support.judged import Judge, Key, Keys
from tests.support.small_set import small_set, write_answers


@pytest.fixture(scope="session")
def keys(tmp_path_factory: pytest.TempPathFactory) -> Keys:
    """The keys of a student under a policy, each read once."""
    known: dict[str, Key] = {}

    def read(policy: str) -> Key:
        if policy not in known:
            folder = tmp_path_factory.mktemp("set")
            lines = f"[policy]\n{policy}\n" if policy else ""
            with Answers(write_answers(folder, small_set(folder, lines))) as answers:
                known[policy] = (answers.head, answers.student("s1"))
        return known[policy]

    return read


@pytest.fixture(scope="session")
def judge(keys: Keys) -> Judge:
    """Judges cells, under a policy if one is given."""

    def judged(cells: Mapping[str, str], policy: str = "") -> StudentResult:
        return judge_student(*keys(policy), cells)

    return judged
