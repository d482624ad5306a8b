"""A class of six with awkward names, a set of two short problems, and its build."""

from __future__ import annotations

from pathlib import Path

from problemgen.cli import main
from tests.support.small_set import CHROMATE, ESTER

__all__ = ["NAMES", "SET", "build_small", "files_of", "write_class"]

NAMES = {
    "s1": "#Rovik Tagmoor",
    "s2": "=Adrel O'Sommer",
    "s3": "D’Ervaux *Font* _x_ $y$ [z] \\#q <b>",
    "s4": "טלורה בן ערפל",
    "s5": "سهيدة الغيام",
    "s6": "苔原 雫乃",
}

SET = """title = "Small week"
course = "Preparative Laboratory"
[[sheet]]
session = 1
title = "Before the session"
[[problem]]
template = "chromate"
[[problem]]
template = "ester"
"""

DRAWN = {
    "chromate": CHROMATE.replace(
        "volume = { choose = [25.00]", 'volume = { from = 24.00, to = 30.00, read = "burette-50"'
    ).replace("volume = { choose = [20.00]", 'volume = { from = 18.00, to = 21.50, read = "burette-25"'),
    "ester": ESTER.replace("volume = { choose = [5.00]", "volume = { from = 4.50, to = 5.50, step = 0.05").replace(
        "mass = { choose = [4.20]", 'mass = { from = 3.60, to = 4.20, read = "balance-0.01"'
    ),
}


def write_class(folder: Path, set_text: str = SET, names: dict[str, str] | None = None) -> Path:
    """The folder of the set, with its roster; `folder` is a course, with the templates."""
    (folder / "templates").mkdir(parents=True, exist_ok=True)
    for name, text in DRAWN.items():
        (folder / "templates" / f"{name}.toml").write_text(text, encoding="utf-8")
    (folder / "course.toml").write_text('title = "Preparative Laboratory"\n', encoding="utf-8")
    week = folder / "week"
    week.mkdir(exist_ok=True)
    (week / "set.toml").write_text(set_text, encoding="utf-8")
    rows = [f'{student},"{name}",A' for student, name in (names or NAMES).items()]
    (week / "roster.csv").write_text("\n".join(["id,name,section", *rows]) + "\n", encoding="utf-8")
    return week


def build_small(folder: Path, out: Path, *more: str) -> int:
    """Build the class of `write_class` through the command line."""
    return main(["build", str(folder / "week"), "--out", str(out), *more])


def files_of(folder: Path) -> dict[str, bytes]:
    """All files below a folder, by their path in it."""
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
