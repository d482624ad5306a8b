"""The new text of a set.toml."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from problemgen.desk.set_files.wanted import WantedProblem, WantedSet, WantedSheet
from problemgen.write.pieces import Piece, groups_of, joined, pieces_of

__all__ = ["new_text"]

Values = Mapping[str, Any]


def new_text(before: str, wanted: WantedSet, known: Iterable[str]) -> str:
    """The text with what is wanted, all else as it is; `known` are the keys of all settings that a page shows.

    Raises ValueError for a text that does not take it: it is written in another way than with tables under heads.
    """
    try:
        pieces = pieces_of(before)
        groups = list(groups_of(pieces, "problem"))
        sheets = list(groups_of(pieces, "sheet"))
        rest = [one for one in pieces if one.family not in ("problem", "sheet")]
        rest = _with_settings(rest, wanted, known)
        problems = [piece for one in wanted.problems for piece in _problem(one, groups)]
        printed = [piece for one in wanted.sheets for piece in _sheet(one, sheets)]
        text = joined(_in_place(pieces, rest, printed, problems))
        found = tomllib.loads(text)
    except (TOMLKitError, tomllib.TOMLDecodeError, LookupError, AttributeError, TypeError) as error:
        raise ValueError(str(error)) from error
    if [_templates(one) for one in found.get("problem", ())] != [list(one.templates) for one in wanted.problems]:
        raise ValueError("problems that are not written as tables [[problem]]")
    return text


def _in_place(
    pieces: Sequence[Piece], rest: Sequence[Piece], sheets: list[Piece], problems: list[Piece]
) -> list[Piece]:
    """Sheets and problems where the first of each stood; in a new file behind the top, sheets first."""
    names = [one.family for one in pieces]
    behind = {
        family: next((one.name for one in reversed(pieces[: names.index(family)]) if one.family not in _LISTS), "")
        for family in _LISTS
        if family in names
    }
    result: list[Piece] = []
    for piece in rest:
        result.append(piece)
        for family, listed in (("sheet", sheets), ("problem", problems)):
            if piece.name == behind.get(family, ""):
                result += listed
    return result


_LISTS = ("sheet", "problem")


def _with_settings(rest: Sequence[Piece], wanted: WantedSet, known: Iterable[str]) -> list[Piece]:
    values: dict[str, dict[str, Any]] = {"": {"title": wanted.title, **_kind(rest[0].text, wanted)}}
    for key in known:
        table, _, name = key.rpartition(".")
        text = wanted.settings.get(key)
        values.setdefault(table, {})[name] = None if text is None else tomllib.loads(f"x = {text}")["x"]
    return [piece for one in _tables(rest, values) for piece in one]


def _kind(top: str, wanted: WantedSet) -> Values:
    """What a set says of its kind: a report is one in which students measure something themselves."""
    if any(one.own for one in wanted.problems):
        return {"kind": _REPORT}
    return {"kind": None} if tomllib.loads(top).get("kind") == _REPORT else {}


_REPORT = "post-session"


def _tables(rest: Sequence[Piece], values: Mapping[str, Mapping[str, Any]]) -> Iterator[list[Piece]]:
    """The tables with their values: each in its piece, or at the top, where that has it; a new one behind the rest."""
    top, others = rest[0], list(rest[1:])
    there = {one.name for one in others}
    at_top = tomllib.loads(top.text)
    inner = {name: wanted for name, wanted in values.items() if name == "" or (name in at_top and name not in there)}
    yield [replace(top, text=_edited(top.text, inner))]
    for piece in others:
        yield [replace(piece, text=_edited(piece.text, {piece.name: values[piece.name]}))
               if piece.name in values else piece]  # fmt: skip
    for name, wanted in values.items():
        said = {key: value for key, value in wanted.items() if value is not None}
        if name and name not in there and name not in inner and said:
            lines = "".join(f"{key} = {_toml(value)}\n" for key, value in said.items())
            yield [Piece(name, f"[{name}]\n{lines}")]


def _edited(text: str, values: Mapping[str, Values]) -> str:
    """A text with values in some of its tables; None takes a key out. What is so already is left as it is written."""
    document = tomlkit.parse(text)
    for name, wanted in values.items():
        table: Any = document
        for step in filter(None, name.split(".")):
            table = table[step]
        for key, value in wanted.items():
            _put(table, key, value)
    return tomlkit.dumps(document)


def _put(table: Any, key: str, value: Any) -> None:
    if value is None:
        if key in table:
            del table[key]
    elif key not in table:
        table[key] = tomlkit.value(_toml(value))
    elif table[key] != value:
        trivia = table[key].trivia
        table[key] = tomlkit.value(_toml(value))
        table[key].trivia.comment_ws, table[key].trivia.comment = trivia.comment_ws, trivia.comment


def _toml(value: Any) -> str:
    """A value as TOML has it; a list of texts on one line."""
    return str(tomlkit.item(value).as_string()) if not isinstance(value, bool) else str(value).lower()


def _sheet(wanted: WantedSheet, before: Sequence[list[Piece]]) -> Iterator[Piece]:
    for head, *others in before:
        if tomllib.loads(head.text)["sheet"][0].get("session") == wanted.session:
            yield replace(head, text=_in_entry(head.text, "sheet", {"title": wanted.title}))
            yield from others
            return
    yield Piece("sheet", f"[[sheet]]\nsession = {wanted.session}\ntitle = {_toml(wanted.title)}\n")


def _problem(wanted: WantedProblem, before: Sequence[list[Piece]]) -> Iterator[Piece]:
    one = wanted.templates[0] if len(wanted.templates) == 1 else None
    said: dict[str, Any] = {
        "template": one,
        "choose": None if one is not None else list(wanted.templates),
        "own": list(wanted.own) or None,
        "for": list(wanted.students) or None,
    }
    if wanted.was is None:
        lines = "".join(f"{key} = {_toml(value)}\n" for key, value in said.items() if value is not None)
        yield Piece("problem", f"[[problem]]\n{lines}")
        yield from _new_points(wanted.points)
        return
    head, *others = before[wanted.was]
    left = dict(wanted.points)
    entry = tomllib.loads(head.text)["problem"][0]
    for key in ("own", "for"):
        said[key] = _in_order(said[key], entry.get(key, ()))
    written = entry.get("part", {})
    inline = {letter: left.pop(letter, None) for letter in {**written, **wanted.points}} if written else {}
    text = _in_entry(head.text, "problem", said)
    yield replace(head, text=_with_inline(text, inline) if inline else text)
    for piece in others:
        letter = piece.name.removeprefix("problem.part.")
        if piece.name == letter:
            yield piece
        else:
            yield from _part(piece, left.pop(letter, None))
    yield from _new_points(left)


def _in_order(names: list[str] | None, before: Sequence[str]) -> list[str] | None:
    """Names in the order in which the file has them, new ones behind."""
    return names and sorted(names, key=lambda one: before.index(one) if one in before else len(before))


def _in_entry(text: str, family: str, values: Values) -> str:
    document = tomlkit.parse(text)
    for key, value in values.items():
        _put(document[family][0], key, value)
    return tomlkit.dumps(document)


def _with_inline(text: str, points: Mapping[str, str | None]) -> str:
    document: Any = tomlkit.parse(text)
    parts = document["problem"][0]["part"]
    for letter, value in points.items():
        if letter in parts:
            _put(parts[letter], "points", _number(value))
        else:
            parts[letter] = tomlkit.value(f"{{ points = {value} }}")
    return tomlkit.dumps(document)


def _part(piece: Piece, points: str | None) -> Iterator[Piece]:
    """A part's own table with its points; one that then says nothing is left out."""
    lines = piece.text.splitlines(keepends=True)
    start = next(place for place, line in enumerate(lines) if line.lstrip().startswith("["))
    document: Any = tomlkit.parse("".join(lines[start + 1 :]))
    _put(document, "points", _number(points))
    if tomllib.loads(tomlkit.dumps(document)) or points is not None:
        yield replace(piece, text="".join(lines[: start + 1]) + tomlkit.dumps(document))


def _new_points(points: Mapping[str, str]) -> Iterator[Piece]:
    for letter, text in sorted(points.items(), key=lambda one: (len(one[0]), one[0])):
        if _number(text) is not None:
            yield Piece(f"problem.part.{letter}", f"\n[problem.part.{letter}]\npoints = {text}\n")


def _number(text: str | None) -> Any:
    return None if text is None else tomllib.loads(f"x = {text}")["x"]


def _templates(problem: Mapping[str, Any]) -> list[str]:
    return problem.get("choose") or [problem.get("template")]
