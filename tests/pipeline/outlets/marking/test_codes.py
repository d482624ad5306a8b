"""codes.csv: which code is whose, and nowhere else."""

from __future__ import annotations

from pathlib import Path

from problemgen.grade.judging.judge import judge_student
from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.pipeline.outlets.marking.codes import CODES_FILE, CodesTable
from problemgen.write.files import Staging


def test_codes_are_listed_in_their_own_order_and_guarded(tmp_path: Path, built: Path) -> None:
    with Answers(built / ANSWERS_FILE) as answers:
        keys = list(answers)
        results = [judge_student(answers.head, key, {}) for key in keys]
    with Staging(tmp_path / "out") as staging:
        codes = CodesTable(staging)
        for key, result in zip(keys, results, strict=True):
            codes.take(key, result)
        codes.close()
    lines = (tmp_path / "out" / CODES_FILE).read_text(encoding="utf-8-sig").splitlines()
    assert lines[0] == "code,id,name,section"
    assert [line.split(",")[0] for line in lines[1:]] == sorted(key.code for key in keys)
    assert f"{keys[1].code},s2,'=Adrel O'Sommer,A" in lines
