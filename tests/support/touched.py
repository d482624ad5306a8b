"""What a change touches: the tests that bear the names of the changed files, and those of what imports them.

python tests/support/touched.py [BASE]      prints the arguments that `.ci/quick` gives to pytest

Changed is what differs from where the branch left BASE (main), with all that is not committed yet; on main itself,
what is not committed, or else the last commit. The map is read from names of files and import statements.
"""

from __future__ import annotations

import ast
import subprocess
import sys
from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property
from pathlib import Path

__all__ = ["Project", "changed"]

ROOT = Path(__file__).parents[2]

ALWAYS = (
    "tests/test_imports.py",
    "tests/test_public_names.py",
    "tests/templates/test_contract.py",
    "tests/templates/test_two_thousand.py",
)
"""What any change can break, and the contract, of which a quick run takes a few templates."""

MOST = 25
"""So many files of tests run within the minute; where a change reaches more, those of its importers are left out."""

SLOW = (
    *("tests/audit/test_worker.py", "tests/commands/test_audit.py", "tests/commands/test_practice.py"),
    *("tests/make/test_same_everywhere.py", "tests/outside/", "tests/pipeline/", "tests/plan/test_arithmetic.py"),
    *("tests/plan/test_evaluate.py", "tests/plan/test_honest_workers.py", "tests/plan/test_invariances.py"),
    *("tests/practice/test_accessibility.py", "tests/practice/test_hostile_prose.py"),
    *("tests/practice/test_same_verdicts.py", "tests/practice/test_session.py", "tests/practice/test_path.py"),
    *("tests/render/worked/test_solution.py", "tests/write/test_pdf.py", "tests/templates/test_templates_shape.py"),
)
"""Tests of more than four seconds of a processor, by the beginning of their paths: left out, unless they bear the name
of a changed file or were changed themselves."""

BESIDE: Mapping[str, tuple[str, ...]] = {
    "banks/": (
        "tests/load/banks/test_banks.py",
        "tests/outside/test_bank_relations.py",
        "tests/outside/test_bank_weights.py",
    ),
    "templates/layouts/": ("tests/render/printers/test_typst.py", "tests/render/printers/test_html.py"),
    "templates/sets/": ("tests/load/sets/test_problem_set.py", "tests/templates/test_templates_shape.py"),
    "problemgen/practice/": ("tests/practice/test_modules.py", "tests/practice/test_session.py"),
    "tests/vectors/": ("tests/practice/test_same_verdicts.py",),
}
"""The tests of files that nothing imports, by the beginning of their paths."""


def changed(base: str = "main") -> list[str]:
    """The paths of changed files that are still there, below the root."""
    (start,) = _git("merge-base", "HEAD", base)
    found = {*_git("diff", "--name-only", start), *_git("ls-files", "--others", "--exclude-standard")}
    found = found or {*_git("diff", "--name-only", "HEAD~1")}
    return sorted(path for path in found if (ROOT / path).is_file())


def _git(*words: str) -> list[str]:
    told = subprocess.run(["git", *words], cwd=ROOT, check=True, capture_output=True, text=True)  # noqa: S603, S607
    return told.stdout.splitlines()


class Project:
    """The package and its tests: which file is tested where, and who imports whom."""

    def __init__(self, root: Path = ROOT) -> None:
        """Look at the project below `root`."""
        self.root = root

    def arguments(self, paths: Iterable[str]) -> list[str]:
        """Files of tests and doctests that changed files touch, and the templates among them as `--template NAME`."""
        changes = list(paths)
        chosen = dict.fromkeys([*ALWAYS, *(one for path in changes for one in self._named(path))])
        modules = [path for path in changes if path.endswith(".py")]
        importers = [one for path in modules for one in self._importers(path)]
        near = [one for one in importers if one in self._tests]
        far = [one for path in importers if path.startswith("problemgen/") for one in self._mirrors(path)]
        for more in (near, far):
            quick = dict.fromkeys(one for one in more if not one.startswith(SLOW))
            if len(chosen | quick) <= MOST:
                chosen |= quick
        return [*(one for one in chosen if (self.root / one).exists()), *_templates(changes)]

    def _named(self, path: str) -> Iterator[str]:
        """The tests that bear the name of a file, or that its folder stands for; its own doctests."""
        if path in self._tests:
            yield path
        elif path.startswith("problemgen/") and path.endswith(".py"):
            yield path
            yield from self._mirrors(path)
        yield from next((tests for start, tests in BESIDE.items() if path.startswith(start)), ())

    def _mirrors(self, path: str) -> Iterator[str]:
        """The files of tests that bear the name of a module, or of the package that it stands in."""
        inside = Path(path).with_suffix("").parts[1:]
        for depth in range(2, len(inside) + 1):
            start = "/".join(("tests", *inside[: depth - 1], f"test_{inside[depth - 1]}"))
            yield from (one for one in self._tests if one.startswith(start))

    def _importers(self, path: str) -> list[str]:
        module = ".".join(Path(path).with_suffix("").parts).removesuffix(".__init__")
        return [one for one, names in self._imports.items() if module in names and one != path]

    @cached_property
    def _tests(self) -> list[str]:
        return [path for path in self._imports if Path(path).name.startswith("test_")]

    @cached_property
    def _imports(self) -> dict[str, set[str]]:
        """The modules that each file imports."""
        files = sorted(path for top in ("problemgen", "tests") for path in (self.root / top).rglob("*.py"))
        return {path.relative_to(self.root).as_posix(): set(_imported(path)) for path in files}


def _imported(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module is not None:
            yield node.module
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def _templates(paths: Iterable[str]) -> Iterator[str]:
    """The options that take changed templates into the contract."""
    for path in paths:
        top, *inside = Path(path).with_suffix("").parts
        if top == "templates" and path.endswith(".toml") and inside[0] not in ("sets", "layouts"):
            yield from ("--template", "/".join(inside))


if __name__ == "__main__":
    print("\n".join(Project().arguments(changed(*sys.argv[1:]))))
