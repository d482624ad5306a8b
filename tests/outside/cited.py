"""Count what the checks, the laws, the banks and the templates cite: `python tests/outside/cited.py`.

A check is a row that a marked test compares: a case of a parametrized test, or a row of a test of all rows. With
`--list`, the list of sources is printed as it stands in banks/README.md.
"""

from __future__ import annotations

import io
import sys
from collections import Counter
from collections.abc import Collection, Mapping
from contextlib import redirect_stdout
from importlib.metadata import version
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[2]))

from problemgen.load.banks.banks import load_banks
from problemgen.model.banks import Package, Publication, Source
from problemgen.model.citation import read_citations
from problemgen.plan.laws import LAWS
from tests.support.citations import MARKED, ROOT, cited, listed

Checks = list[tuple[frozenset[str], int]]
"""The keys that a test cites, with the number of its checks."""


class Collected:
    """Takes down what the tests cite that pytest collects."""

    def __init__(self) -> None:
        """Nothing is collected yet."""
        self.checks: Checks = []

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Take them down; called by pytest."""
        for item in items:
            keys = [one.key for mark in item.iter_markers("source") for one in read_citations(mark.args[0])]
            if keys:
                self.checks.append((frozenset(keys), getattr(getattr(item, "function", None), "rows", 1)))


def collected() -> Checks:
    """The checks of all test files that cite anything. Raises RuntimeError where they cannot be collected."""
    counted = Collected()
    files = [str(ROOT / name) for name, texts in MARKED.items() if texts]
    with redirect_stdout(io.StringIO()) as told:
        code = pytest.main(["--collect-only", "-n0", "--rootdir", str(ROOT), *files], [counted])
    if code:
        raise RuntimeError(told.getvalue())
    return counted.checks


def standing(keys: Collection[str], sources: Mapping[str, Source]) -> str:
    """What a check or a law stands on, the best that it cites."""
    cited_ones = [sources[key] for key in keys]
    if any(isinstance(one, Package) for one in cited_ones):
        return "a package"
    taken = {one.taken for one in cited_ones if isinstance(one, Publication)}
    if taken - {"from memory"}:
        return "a publication, figures taken from it"
    if taken:
        return "a publication, from memory"
    return "memory alone" if "from-memory" in keys else "no publication: practice, reasoning or a row of our own"


def report() -> None:
    """Print the counts, a line a source; then what checks and laws stand on."""
    sources = load_banks(ROOT / "banks").sources
    checks = collected()
    laws = [frozenset(one.key for one in read_citations(law.source)) for law in LAWS]
    files: dict[str, Counter[str]] = {"banks": Counter(), "templates": Counter()}
    for where, text in cited():
        if (room := where.partition("/")[0]) in files:
            files[room].update({one.key for one in read_citations(text)})
    print(f"{'':28}{'checks':>8}{'laws':>8}{'banks':>8}{'templates':>11}")
    for key, source in sources.items():
        numbers = (
            sum(rows for keys, rows in checks if key in keys),
            sum(key in keys for keys in laws),
            *(counter[key] for counter in files.values()),
        )
        told = f"{source.version} as tested, {version(key)} installed" if isinstance(source, Package) else ""
        print(f"{key:28}{numbers[0]:8}{numbers[1]:8}{numbers[2]:8}{numbers[3]:11}  {told}".rstrip())
    for name, counted in (("checks", checks), ("laws", [(keys, 1) for keys in laws])):
        by_standing: Counter[str] = Counter()
        for keys, rows in counted:
            by_standing[standing(keys, sources)] += rows
        print(f"\n{by_standing.total()} {name}, by the best that they cite:")
        for kind, count in by_standing.most_common():
            print(f"{count:8}  {kind}")


if __name__ == "__main__":
    if "--list" in sys.argv[1:]:
        print("\n".join(listed()))
    else:
        report()
