"""Collect all messages, and bring the catalogues of all languages up to date with them.

python tests/support/catalogues.py               update every file of problemgen/language/catalogues
python tests/support/catalogues.py --new fr      start the one of another language

Messages stand in the code and the desk's pages (the calls of `problemgen/language/messages.py`), in the texts of the
page for students, in shipped templates and sets, and at the arrows of the reactions. What has no translation yet stands
empty; what is no longer said is dropped. A text that has changed keeps its translation, marked "fuzzy", until somebody
has looked at it.
"""

from __future__ import annotations

import ast
import json
import re
import sys
import tomllib
from collections.abc import Iterator
from dataclasses import fields
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Any

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[2]))

from babel.messages.catalog import Catalog
from babel.messages.extract import extract
from babel.messages.pofile import read_po, write_po
from jinja2.ext import babel_extract

from problemgen.language.languages import FOLDER, LANGUAGES
from problemgen.model.quantity import KINDS, Role

__all__ = ["AT_ARROW", "collected", "translated"]

ROOT = Path(__file__).parents[2]
AT_ARROW = "at the arrow"

_KEYWORDS: dict[str, Any] = {"N_": None, "NN_": (1, 2), "_": None, "ngettext": (1, 2), "pgettext": ((1, "c"), 2)}
_PLACE = re.compile(r"\{\w+\}")
_PAGE = ROOT / "problemgen" / "practice" / "messages.json"


@cache
def collected() -> Catalog:
    """All messages, in the order of the files that they stand in."""
    found = Catalog(project="problemgen", charset="utf-8", fuzzy=False)
    said = (*_code(), *_desk(), *_quantities(), *_page(), *_templates(), *_sets(), *_arrows())
    for place, message, context, comment in said:
        if message if isinstance(message, str) else message[0]:
            found.add(message, locations=[(place, 0)], context=context, auto_comments=[comment] if comment else [])
    return found


_Found = tuple[str, str | tuple[str, ...], str | None, str]


def _code() -> Iterator[_Found]:
    for path in sorted((ROOT / "problemgen").rglob("*.py")):
        place = path.relative_to(ROOT).as_posix()
        with path.open("rb") as file:
            for _, message, comments, context in extract("python", file, _KEYWORDS, ["Translators:"]):
                yield place, message, context, " ".join(comments)
        yield from _inside_strings(place, path.read_text(encoding="utf-8"))


def _desk() -> Iterator[_Found]:
    """The pages of the desk, which say `_` and `ngettext` as code does."""
    for path in sorted((ROOT / "problemgen" / "desk" / "pages").glob("*.html")):
        with path.open("rb") as file:
            for _, message, comments, context in extract(babel_extract, file, _KEYWORDS, ["Translators:"]):
                yield path.relative_to(ROOT).as_posix(), message, context, " ".join(comments)


def _inside_strings(place: str, source: str) -> Iterator[_Found]:
    """The calls inside f-strings, which Babel does not see: to Python 3.11's tokenizer they are part of a string."""
    lines = source.splitlines()
    for string in (node for node in ast.walk(ast.parse(source)) if isinstance(node, ast.JoinedStr)):
        for call in (node for node in ast.walk(string) if isinstance(node, ast.Call)):
            texts = [one.value for one in call.args if isinstance(one, ast.Constant)]
            match ast.unparse(call.func), texts:
                case "_", [str(message)]:
                    above = lines[string.lineno - 2].strip()
                    comment = above.removeprefix("# ") if above.startswith("# Translators:") else ""
                    yield place, message, None, comment
                case "pgettext", [str(context), str(message)]:
                    yield place, message, context, ""


_KIND_WORDS = ("words", "label", "behind", "note", "prompt", "printed", "in_use")


def _quantities() -> Iterator[_Found]:
    """The words of kinds and roles, which are records of messages."""
    place = "problemgen/model/quantity/kinds.py"
    for kind in KINDS.values():
        for text in (*(getattr(kind, name) for name in _KIND_WORDS), *kind.prompts.values(), *kind.before.values()):
            yield place, text if _has_words(text) else "", None, f"of the kind of quantity {kind.name}"
    place = "problemgen/model/quantity/roles.py"
    for role in Role:
        if not role.words.index and role is not Role.FROM:
            yield place, role.pattern.replace("_", " "), "index", "the index of a symbol"
        for field in fields(role.words):
            text = getattr(role.words, field.name)
            yield place, text if _has_words(text) else "", None, f"{field.name} of the role {role or 'of none'}"


def _has_words(text: object) -> bool:
    return isinstance(text, str) and any(letter.isalpha() for letter in _PLACE.sub("", text))


def _page() -> Iterator[_Found]:
    for key, message in json.loads(_PAGE.read_text(encoding="utf-8")).items():
        yield _PAGE.relative_to(ROOT).as_posix(), message if isinstance(message, str) else tuple(message), None, key


def _documents(pattern: str) -> Iterator[tuple[str, dict[str, Any]]]:
    for path in sorted((ROOT / "templates").glob(pattern)):
        yield path.relative_to(ROOT).as_posix(), tomllib.loads(path.read_text(encoding="utf-8"))


def _templates() -> Iterator[_Found]:
    for folder in sorted({path.parent.name for path in (ROOT / "templates").glob("*/*.toml")}):
        yield f"templates/{folder}", folder.replace("-", " "), None, "a topic, as feedback has it"
    for place, document in _documents("*/*.toml"):
        for key in ("topic", "title", "story", "because"):
            yield place, document.get(key, ""), None, key
        for given in document.get("given", {}).values():
            yield place, given.get("called", ""), None, "called"
        for name in document.get("ions", {}).values():
            yield place, name, None, "an ion"
        for part in document["part"]:
            yield place, part.get("prompt", ""), None, "prompt"


def _sets() -> Iterator[_Found]:
    for place, document in _documents("sets/*/set.toml"):
        yield place, document["course"], None, "course"
        yield place, document["title"], None, "title"
        for sheet in document.get("sheet", ()):
            yield place, sheet["title"], None, "title of a sheet"


def _arrows() -> Iterator[_Found]:
    path = ROOT / "banks" / "reactions.toml"
    for reaction in tomllib.loads(path.read_text(encoding="utf-8"))["reaction"]:
        for key in ("above", "below"):
            text = reaction.get(key, "")
            if any(letter.isalpha() for letter in text):
                yield "banks/reactions.toml", text, AT_ARROW, reaction["name"]


def translated(language: str) -> Catalog:
    """The catalogue of a language as its file has it."""
    return read_po(BytesIO((FOLDER / f"{language}.po").read_bytes()), locale=language)


def _update(language: str, catalogue: Catalog) -> None:
    known = {(message.id if isinstance(message.id, str) else message.id[0], message.context) for message in catalogue}
    catalogue.update(collected(), no_fuzzy_matching=False)
    catalogue.obsolete.clear()
    with (FOLDER / f"{language}.po").open("wb") as file:
        write_po(file, catalogue, width=120, include_lineno=False, sort_output=False)
    new = sum(1 for one in catalogue if (one.id if isinstance(one.id, str) else one.id[0], one.context) not in known)
    empty = sum(1 for one in catalogue if one.id and not one.string)
    print(f"{language}: {len(catalogue)} messages, {new} new, {empty} without a translation")


if __name__ == "__main__":
    if sys.argv[1:2] == ["--new"]:
        _update(sys.argv[2], Catalog(locale=sys.argv[2], project="problemgen", charset="utf-8"))
    else:
        for spoken in LANGUAGES[1:]:
            _update(spoken, translated(spoken))
