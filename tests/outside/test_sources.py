"""The bibliography: everything that is cited is in it, and everything in it is cited."""

from __future__ import annotations

import tomllib
from importlib.metadata import version
from typing import Any

from problemgen.load.banks.banks import load_banks
from problemgen.load.banks.sources import check_citations
from problemgen.load.fault_log import FaultLog
from problemgen.model.banks import Package
from problemgen.model.citation import read_citations
from tests.support.citations import MARKED, ROOT, cited, listed
from tests.support.every_row import for_every

SOURCES = load_banks(ROOT / "banks").sources
OF_OUR_OWN = {"tests/outside/test_sources.py", "tests/outside/test_as_problems.py"}
"""Tests of the bibliography itself, and of how published rows are brought to our form."""

LITERATURE = {"density", "specific_rotation"}


@for_every(cited())
def test_what_is_cited_is_in_the_bibliography(one: tuple[str, str]) -> None:
    where, text = one
    faults = FaultLog(where)
    check_citations(faults, "", read_citations(text), SOURCES)
    assert faults.faults == ()


def test_what_is_in_the_bibliography_is_cited() -> None:
    keys = {citation.key for _, text in cited() for citation in read_citations(text)}
    assert set(SOURCES) - keys == set()


@for_every(name for name in MARKED if name.startswith("tests/outside/") and name not in OF_OUR_OWN)
def test_an_outside_check_says_what_it_is_from(name: str) -> None:
    assert MARKED[name]


@for_every(one for one in SOURCES.values() if isinstance(one, Package))
def test_a_package_was_tested_in_no_version_that_is_still_to_come(package: Package) -> None:
    """A later release is no fault: the results are compared with it too, and the record says with which it began."""
    tested, installed = (text.split(".")[:2] for text in (package.version, version(package.id)))
    assert [int(part) for part in tested] <= [int(part) for part in installed]


def given_values(part: Any, *path: str) -> list[tuple[str, dict[str, Any]]]:
    """The values of a template, by what each is a value of."""
    if not isinstance(part, dict):
        return []
    if "unit" in part:
        return [(path[-1], part)]
    return [one for key, inner in part.items() for one in given_values(inner, *path, key)]


@for_every(path for path in sorted((ROOT / "templates").rglob("*.toml")) if "sets" not in path.parts)
def test_a_template_says_where_a_property_of_a_substance_is_from(path: Any) -> None:
    values = given_values(tomllib.loads(path.read_text(encoding="utf-8")).get("given", {}))
    assert [kind for kind, value in values if kind in LITERATURE and "source" not in value] == []


def test_the_readme_lists_them() -> None:
    """`python tests/outside/cited.py --list` prints the list as it has to stand."""
    _, _, section = (ROOT / "banks" / "README.md").read_text(encoding="utf-8").partition("\n## sources.toml\n")
    assert [line for line in section.splitlines() if line.startswith("- ")] == listed()
