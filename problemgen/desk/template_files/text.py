"""The new text of a template: what is wanted put into the text that there is, its comments kept."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import Float, Integer, Item

from problemgen.desk.template_files.simple import OBTAINED, VALUE_KEYS, WORDS, simple_values, single_yield
from problemgen.desk.template_files.wanted import WantedGiven, WantedPart, WantedTemplate
from problemgen.errors import Fault, FaultsError
from problemgen.language.messages import _
from problemgen.write.pieces import Piece, joined, pieces_of, put

__all__ = ["new_text"]

_NUMBER = re.compile(r"[0-9]{1,12}(?:[.,][0-9]{1,12})?")
_NUMBERS = frozenset({"from", "to", "value", "step"})
_PART_KEYS = ("quantity", "of", "from", "role", "stage")


class _Faults:
    """Faults of what was typed, kept until all has been read."""

    def __init__(self) -> None:
        self.kept: list[Fault] = []

    def number(self, key: str, text: str) -> Item:
        """A number as it was typed, with all its digits and either decimal mark."""
        if not _NUMBER.fullmatch(text.strip()):
            self.kept.append(Fault("", key, repr(text.strip()), _("a number such as 2.50")))
            return tomlkit.value("0")
        return tomlkit.value(text.strip().replace(",", "."))


def new_text(wanted: WantedTemplate) -> str:
    """The text with what is wanted, all else as it is.

    Raises:
        FaultsError: for what was typed and is no number, all at once.
        ValueError: for a text that does not take it: it is written in another way than with tables under heads.
    """
    faults = _Faults()
    try:
        pieces = pieces_of(wanted.base)
        parts = [one for one in pieces if one.name == "part"]
        rest = [one for one in pieces if one.name != "part"]
        before = tomllib.loads(wanted.base)
        top = _edited(rest[0], (), _head(wanted, before))
        there = {one.name for one in rest}
        given = [_given(one, wanted, faults) for one in rest[1:]]
        new = [_new_given(name, one, faults) for name, one in wanted.given.items() if f"given.{name}" not in there]
        asked = [_part(place, one, parts, faults) for place, one in enumerate(wanted.parts)]
        text = joined([top, *given, *new, *asked])
        found = tomllib.loads(text)
    except (TOMLKitError, tomllib.TOMLDecodeError, LookupError, AttributeError, TypeError) as error:
        raise ValueError(str(error)) from error
    if faults.kept:
        raise FaultsError(faults.kept)
    if len(found.get("part", ())) != len(wanted.parts):
        raise ValueError("parts that are not written as tables [[part]]")
    return text


def _head(wanted: WantedTemplate, before: Mapping[str, Any]) -> Iterator[tuple[str, Any]]:
    yield from (("title", wanted.title), ("topic", wanted.topic), ("difficulty", wanted.difficulty))
    for key in ("trains", "story", "always_limits", "because"):
        text = getattr(wanted, key).replace("\r\n", "\n")
        if text.strip() != str(before.get(key, "")).strip():
            yield key, (tomlkit.string(text.strip(), multiline="\n" in text.strip()) if text.strip() else None)
    if list(wanted.may_hide) != list(before.get("may_hide", ())):
        yield "may_hide", list(wanted.may_hide) or None


def _edited(piece: Piece, path: Sequence[str | int], values: Iterable[tuple[str, Any]]) -> Piece:
    """A piece with values in one of its tables; None takes a key out. What is so already stays as it is written."""
    wanted = list(values)
    plain: Any = tomllib.loads(piece.text, parse_float=str)
    for step in path:
        plain = plain[step]
    if all(_is_so(plain, key, value) for key, value in wanted):
        return piece  # as most are: a reader that keeps comments takes ten times as long
    document: Any = tomlkit.parse(piece.text)
    table = document
    for step in path:
        table = table[step]
    for key, value in wanted:
        put(table, key, value)
    return Piece(piece.name, tomlkit.dumps(document))


def _is_so(plain: Mapping[str, Any], key: str, value: Any) -> bool:
    """Whether a table, read with its decimal numbers as text, says this already; numbers digit by digit."""
    if value is None or key not in plain:
        return value is None and key not in plain
    if isinstance(value, Float | Integer):
        return str(plain[key]) == value.as_string()
    return type(plain[key]) is type(value) and bool(plain[key] == value)


def _given(piece: Piece, wanted: WantedTemplate, faults: _Faults) -> Piece:
    name = piece.name.removeprefix("given.")
    one = wanted.given.get(name) if piece.name.startswith("given.") else None
    if one is None:
        return piece
    document: Any = tomlkit.parse(piece.text)
    table = document["given"][name]
    plain = tomllib.loads(piece.text)["given"][name]
    for key in simple_values(plain):
        if key not in one.values:
            put(table, key, None)
    for key, keys in one.values.items():
        _put_value(table, key, keys, f"given.{name}.{key}", faults)
    for key in WORDS:
        put(table, key, getattr(one, key) or None)
    put(table, "in_excess", one.in_excess or None)
    if one.percent_yield is not None and single_yield(plain) is not None:
        told = table[OBTAINED] if isinstance(plain[OBTAINED], dict) else table[OBTAINED][0]
        ends = [faults.number(f"given.{name}.{OBTAINED}", text) for text in one.percent_yield]
        put(told, "percent_yield", _list(ends))
    return Piece(piece.name, tomlkit.dumps(document))


def _put_value(table: Any, key: str, keys: Mapping[str, str], place: str, faults: _Faults) -> None:
    items = {name: _item(name, keys[name], f"{place}.{name}", faults) for name in VALUE_KEYS if keys.get(name)}
    if key not in table:
        inline = tomlkit.inline_table()
        for name, item in items.items():
            inline.add(name, item)
        table[key] = inline
        return
    for name in VALUE_KEYS:
        put(table[key], name, items.get(name))


def _item(name: str, text: str, place: str, faults: _Faults) -> Any:
    if name == "choose":
        return _list([faults.number(place, one) for one in re.split(r"[;\s]+|,\s+", text.strip(" ,;")) if one])
    return faults.number(place, text) if name in _NUMBERS else tomlkit.item(text)


def _list(items: Sequence[Item]) -> Any:
    listed = tomlkit.array()
    for one in items:
        listed.append(one)
    return listed


def _new_given(name: str, one: WantedGiven, faults: _Faults) -> Piece:
    table = tomlkit.document()
    for key, keys in one.values.items():
        _put_value(table, key, keys, f"given.{name}.{key}", faults)
    for key in WORDS:
        put(table, key, getattr(one, key) or None)
    put(table, "in_excess", one.in_excess or None)
    head = f"[given.{tomlkit.key(name).as_string()}]\n"
    return Piece(f"given.{name}", head + tomlkit.dumps(table))


def _part(place: int, wanted: WantedPart, before: Sequence[Piece], faults: _Faults) -> Piece:
    said: dict[str, Any] = {
        "unit": wanted.unit or None,
        "points": faults.number(f"part.{place + 1}.points", wanted.points) if wanted.points.strip() else None,
        "prompt": wanted.prompt.strip() or None,
        "session": wanted.session if wanted.session != 1 else None,
    }
    if wanted.was is None:
        keys = {key: wanted.keys[key] for key in _PART_KEYS if wanted.keys.get(key)}
        piece = Piece("part", "[[part]]\n" + tomlkit.dumps(keys))
    else:
        piece = before[wanted.was]
        told = tomllib.loads(piece.text)["part"][0]
        said = {key: value for key, value in said.items() if not (key == "session" and told.get(key, 1) == value)}
        if told.get("session") == 1 and wanted.session == 1:
            said.pop("session", None)
    return _edited(piece, ("part", 0), said.items())
