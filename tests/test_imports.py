"""The rooms import each other one way only. Read from the import statements themselves.

cli → commands → desk → pipeline → {audit, practice} → {load, make, render, grade, write} → plan → model → chemistry →
exact → language → {errors, late, remembered, scratch}; rooms in one pair of braces do not see each other.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from tests.support.every_row import for_every

PACKAGE = Path(__file__).parents[1] / "problemgen"
FILES = sorted(PACKAGE.rglob("*.py"))

LEVELS = {
    "errors": 0,
    "late": 0,
    "remembered": 0,
    "scratch": 0,
    "language": 1,
    "exact": 2,
    "chemistry": 3,
    "model": 4,
    "plan": 5,
    "load": 6,
    "make": 6,
    "render": 6,
    "grade": 6,
    "write": 6,
    "audit": 7,
    "practice": 7,
    "pipeline": 8,
    "desk": 9,
    "commands": 10,
    "cli": 11,
}


def module_of(path: Path) -> str:
    parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


MODULES = {module_of(path): path for path in FILES}

SUB_ROOMS = sorted(
    {path.parent.relative_to(PACKAGE).as_posix() for path in FILES if len(path.relative_to(PACKAGE).parts) == 3}
)


@cache
def parsed(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def imported(path: Path) -> Iterator[str]:
    """The modules that a file imports, whole names; those of the package down to the module."""
    for node in ast.walk(parsed(path)):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: a relative import"
            assert node.module is not None
            for alias in node.names:
                inside = f"{node.module}.{alias.name}"
                yield inside if inside in MODULES else node.module


def room(module: str) -> str:
    return module.split(".")[1] if "." in module else ""


@for_every(FILES)
def test_imports_point_down_only(path: Path) -> None:
    here = room(module_of(path))
    wrong = [
        name
        for name in imported(path)
        if name.startswith("problemgen.") and room(name) != here and LEVELS[room(name)] >= LEVELS[here]
    ]
    assert wrong == []


def test_every_room_is_on_the_list() -> None:
    assert {room(module) for module in MODULES} - {"", "__main__"} == set(LEVELS)


def test_the_package_itself_imports_nothing_of_its_own() -> None:
    assert [name for name in imported(PACKAGE / "__init__.py") if name.startswith("problemgen")] == []


@for_every(FILES)
def test_no_import_hides_in_a_function_or_a_condition(path: Path) -> None:
    tree = parsed(path)
    at_top = {id(node) for node in tree.body if isinstance(node, ast.Import | ast.ImportFrom)}
    hidden = [
        node.lineno
        for node in ast.walk(tree)
        if isinstance(node, ast.Import | ast.ImportFrom) and id(node) not in at_top
    ]
    assert hidden == []


@for_every(FILES)
def test_what_is_loaded_late_is_named_at_the_top_and_not_ours(path: Path) -> None:
    tree = parsed(path)
    calls = [node for node in ast.walk(tree) if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "late"]
    at_top = [one for node in tree.body if isinstance(node, ast.Assign) for one in ast.walk(node.value)]
    names = [argument.value for call in calls for argument in call.args if isinstance(argument, ast.Constant)]
    assert all(call in at_top for call in calls)
    assert len(names) == len(calls)
    assert [name for name in names if str(name).split(".")[0] == PACKAGE.name] == []


@for_every(FILES)
def test_no_import_takes_everything(path: Path) -> None:
    tree = parsed(path)
    names = [a.name for node in ast.walk(tree) if isinstance(node, ast.ImportFrom) for a in node.names]
    assert "*" not in names


def test_no_modules_import_each_other_in_a_circle() -> None:
    needs = {module: [name for name in imported(path) if name in MODULES] for module, path in MODULES.items()}
    done: set[str] = set()

    def visit(module: str, trail: tuple[str, ...]) -> None:
        assert module not in trail, " -> ".join((*trail, module))
        if module not in done:
            for name in needs[module]:
                visit(name, (*trail, module))
            done.add(module)

    for module in needs:
        visit(module, ())


@for_every(FILES)
def test_a_file_is_small_enough_to_read(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) < 400


@for_every(FILES)
def test_no_text_is_run_as_code(path: Path) -> None:
    """No file's text is ever evaluated, whatever library offers to do it."""
    forbidden = {"eval", "exec", "compile", "sympify", "parse_expr", "srepr", "__import__"}
    called = {
        getattr(node.func, "id", getattr(node.func, "attr", ""))
        for node in ast.walk(parsed(path))
        if isinstance(node, ast.Call)
    }
    attributes_of_re = {"compile"} if any(name in ("re", "typst") for name in imported(path)) else set()
    assert called & (forbidden - attributes_of_re) == set()


def sub_room_of(module: str) -> str:
    """The sub-room of a module, "" for one that stands in a room itself or outside."""
    folder = "/".join(module.split(".")[1:3])
    return folder if folder in SUB_ROOMS else ""


def test_sub_rooms_import_each_other_one_way_too() -> None:
    """Whoever is taken away last imports what is still there, and nothing imports it: what is left is a circle."""
    needs: dict[str, set[str]] = {room: set() for room in SUB_ROOMS}
    for module, path in MODULES.items():
        mine = sub_room_of(module)
        if mine:
            needs[mine] |= {one for one in map(sub_room_of, imported(path)) if one not in ("", mine)}
    while free := [room for room, others in needs.items() if not others & needs.keys()]:
        for room in free:
            del needs[room]
    assert needs == {}
