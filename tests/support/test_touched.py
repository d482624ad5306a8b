from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

from tests.support import touched
from tests.support.touched import ALWAYS, MOST, Project

FILES = {
    "problemgen/chemistry/units.py": "",
    "problemgen/grade/reading/slips.py": "from problemgen.chemistry import units\n",
    "problemgen/grade/judging/judge.py": "from problemgen.grade.reading.slips import slip_of\n",
    "problemgen/model/quantity/kinds.py": "",
    "tests/chemistry/test_units.py": "",
    "tests/grade/reading/test_slips.py": "",
    "tests/grade/reading/test_slips_of_sign.py": "",
    "tests/grade/judging/test_judge.py": "",
    "tests/grade/test_other.py": "import problemgen.chemistry.units\n",
    "tests/model/test_quantity.py": "",
    "tests/pipeline/test_mark.py": "from problemgen.chemistry.units import read_unit\n",
    "tests/load/banks/test_banks.py": "",
    "tests/test_imports.py": "",
}


@pytest.fixture
def project(tmp_path: Path) -> Project:
    for name, text in FILES.items():
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return Project(tmp_path)


@pytest.mark.parametrize(
    ("path", "expected"),
    [
        # itself for its doctests; what bears its name; who imports it in tests, but what is slow; tests of an importer
        (
            "problemgen/chemistry/units.py",
            (
                "problemgen/chemistry/units.py tests/chemistry/test_units.py tests/grade/test_other.py "
                "tests/grade/reading/test_slips.py tests/grade/reading/test_slips_of_sign.py"
            ),
        ),
        (
            "problemgen/grade/reading/slips.py",
            (
                "problemgen/grade/reading/slips.py tests/grade/reading/test_slips.py "
                "tests/grade/reading/test_slips_of_sign.py tests/grade/judging/test_judge.py"
            ),
        ),
        ("problemgen/model/quantity/kinds.py", "problemgen/model/quantity/kinds.py tests/model/test_quantity.py"),
        ("tests/pipeline/test_mark.py", "tests/pipeline/test_mark.py"),  # slow, but changed itself
        ("banks/units.toml", "tests/load/banks/test_banks.py"),
        ("templates/yield/zinc-iodide.toml", "--template yield/zinc-iodide"),
        ("templates/layouts/sheet.typ", ""),
        ("README.md", ""),
    ],
)
def test_the_tests_near_a_changed_file(project: Project, path: str, expected: str) -> None:
    assert project.arguments([path]) == ["tests/test_imports.py", *expected.split()]


def test_where_too_much_is_reached_importers_are_left_to_the_whole_gate(project: Project) -> None:
    for number in range(MOST):
        text = "from problemgen.grade.reading.slips import slip_of\n"
        (project.root / f"tests/grade/test_user_{number}.py").write_text(text, encoding="utf-8")
    assert project.arguments(["problemgen/grade/reading/slips.py"]) == [
        *("tests/test_imports.py", "problemgen/grade/reading/slips.py"),
        *(
            "tests/grade/reading/test_slips.py",
            "tests/grade/reading/test_slips_of_sign.py",
            "tests/grade/judging/test_judge.py",
        ),
    ]


def test_what_always_runs_and_what_is_slow_is_there() -> None:
    assert [one for one in (*ALWAYS, *touched.SLOW) if not (touched.ROOT / one).exists()] == []
    assert [one for tests in touched.BESIDE.values() for one in tests if not (touched.ROOT / one).exists()] == []


def test_changed_is_what_left_main_and_what_is_not_committed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(touched, "ROOT", tmp_path)

    def git(*words: str) -> None:
        who = ("-c", "user.name=n", "-c", "user.email=e@example.org", "-c", "commit.gpgsign=false")
        subprocess.run(["git", *who, *words], cwd=tmp_path, check=True, capture_output=True)  # noqa: S603, S607

    def commit(name: str) -> None:
        (tmp_path / name).write_text(name, encoding="utf-8")
        git("add", name)
        git("commit", "-m", name)

    git("init", "-b", "main")
    commit("first")
    commit("second")
    assert touched.changed() == ["second"]  # on main, with nothing at hand: the last commit
    git("switch", "-c", "branch")
    commit("third")
    (tmp_path / "second").unlink()
    (tmp_path / "new").write_text("", encoding="utf-8")
    assert touched.changed() == ["new", "third"]
