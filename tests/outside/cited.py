"""Count what the checks, the laws, the banks and the templates cite: `python tests/outside/cited.py`.

A check is a row that a marked test compares: a case of a parametrized test, or a row of a test of all rows. With
`--list`, the list of sources is printed as it stands in banks/README.md.
"""

from __future__ import annotations

import sys
from collections import Counter
from importlib.metadata import version
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parents[2]))

from problemgen.load.banks import load_banks
from problemgen.model.banks import Package, Publication, Source
from problemgen.model.citation import read_citations
from tests.support.citations import MARKED, ROOT, cited, listed


class Collected:
    """Counts the checks of the tests that pytest collects, by the keys that they cite."""

    def __init__(self) -> None:
        """Nothing is counted yet."""
        self.by_key: Counter[str] = Counter()
        self.checks = 0

    def pytest_collection_modifyitems(self, items: list[pytest.Item]) -> None:
        """Count; called by pytest."""
        for item in items:
            keys = {one.key for mark in item.iter_markers("source") for one in read_citations(mark.args[0])}
            if keys:
                rows = getattr(getattr(item, "function", None), "rows", 1)
                self.checks += rows
                self.by_key.update(dict.fromkeys(keys, rows))


def collected() -> Collected:
    """The checks of all test files that cite anything. Raises RuntimeError where they cannot be collected."""
    counted = Collected()
    files = [str(ROOT / name) for name, texts in MARKED.items() if texts]
    code = pytest.main(["--collect-only", "-qq", "-n0", "--no-summary", "--rootdir", str(ROOT), *files], [counted])
    if code:
        raise RuntimeError(f"pytest ended with {code}")
    return counted


def is_remembered(source: Source) -> bool:
    """Whether what is cited from a source is from memory."""
    return source.id == "from-memory" or (isinstance(source, Publication) and source.taken == "from memory")


def report() -> None:
    """Print the counts, a line a source."""
    sources = load_banks(ROOT / "banks").sources
    checks = collected()
    texts = [(where.split("/")[0].split(" ")[0], read_citations(text)) for where, text in cited()]
    others = {
        room: Counter(key for place, found in texts if place == room for key in {one.key for one in found})
        for room in ("law", "banks", "templates")
    }
    print(f"\n{'':28}{'checks':>8}{'laws':>8}{'banks':>8}{'templates':>10}")
    for key, source in sources.items():
        numbers = (checks.by_key[key], *(others[room][key] for room in ("law", "banks", "templates")))
        told = ""
        if isinstance(source, Package):
            told = f"  {source.version} as tested, {version(key)} installed"
        elif is_remembered(source):
            told = "  from memory"
        print(f"{key:28}{numbers[0]:8}{numbers[1]:8}{numbers[2]:8}{numbers[3]:10}{told}")
    print(f"{checks.checks} checks cite a source.")


if __name__ == "__main__":
    if "--list" in sys.argv[1:]:
        print("\n".join(listed()))
    else:
        report()
