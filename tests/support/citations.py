"""What tests, laws, banks and templates cite: every text in which keys of banks/sources.toml stand, with its place.

A test cites by a mark, `@pytest.mark.source("nist-sp-811-2008 B.8")`; the texts are read off the code, not run.
"""

from __future__ import annotations

import ast
import json
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from problemgen.plan.laws import LAWS

__all__ = ["MARKED", "ROOT", "Cited", "cited", "listed"]

ROOT = Path(__file__).parents[2]
Cited = tuple[str, str]
"""Where something is cited, and the text of the citations."""


def cited() -> Iterator[Cited]:
    """Every text of citations, with where it stands."""
    for name, texts in MARKED.items():
        yield from ((name, text) for text in texts)
    yield from ((f"law {law.id}", law.source) for law in LAWS)
    for path in (*(ROOT / "banks").glob("*.toml"), *(ROOT / "templates").rglob("*.toml")):
        name = path.relative_to(ROOT).as_posix()
        document = tomllib.loads(path.read_text(encoding="utf-8"))
        yield from ((name, text) for text in _sources(document))
    rows = json.loads((ROOT / "tests" / "outside" / "worked_examples.json").read_text(encoding="utf-8"))
    yield from ((f"worked example {row['id']}", row["source"]) for row in rows)


def _sources(part: Any) -> Iterator[str]:
    """The texts of `source` and `checked`, anywhere in a TOML document."""
    if isinstance(part, dict):
        yield from (part[key] for key in ("source", "checked") if isinstance(part.get(key), str))
        part = list(part.values())
    if isinstance(part, list):
        for one in part:
            yield from _sources(one)


def _marks(path: Path) -> list[str]:
    """The texts of a test file's marks. Raises AssertionError for one that is not written out."""
    found = []
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and ast.unparse(node.func) == "pytest.mark.source":
            (argument,) = node.args
            assert isinstance(argument, ast.Constant), f"{path}: a citation that is not written out"
            found.append(str(argument.value))
    return found


MARKED = {path.relative_to(ROOT).as_posix(): _marks(path) for path in sorted((ROOT / "tests").rglob("test_*.py"))}
"""The citations of each test file."""


def listed() -> list[str]:
    """The lines of the list of sources in banks/README.md."""
    document = tomllib.loads((ROOT / "banks" / "sources.toml").read_text(encoding="utf-8"))
    return [_line(one) for kind in ("publication", "package", "statement") for one in document[kind]]


def _line(source: dict[str, str]) -> str:
    told = [source[name] for name in ("author", "title", "edition") if name in source]
    if "version" in source:
        told.append(f"version {source['version']} as tested")
    return f"- `{source['id']}`: {', '.join(told)}"
