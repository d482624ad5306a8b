"""The page itself: style, program and data in one file that asks nothing of any network."""

from __future__ import annotations

import base64
import hashlib
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any, TypeAlias

from jinja2 import Environment, StrictUndefined
from markupsafe import Markup

from problemgen.language.messages import _, ngettext, spoken
from problemgen.language.numbers import locale_of
from problemgen.practice.modules import joined

__all__ = ["Words", "page_words", "practice_page"]

Words: TypeAlias = dict[str, str | dict[str, str]]
"""Sentences by key; of one that goes with a number the forms, by plural category of the Unicode CLDR."""

_FOLDER = Path(__file__).resolve().parent
_ENTRY = "app.js"
_COMPACT = {"sort_keys": True, "ensure_ascii": False, "separators": (",", ":")}
"""The page is in UTF-8, and nobody reads its data by eye."""


_COUNTED = range(101)
"""Among these numbers each whole number finds its like, in every language of the CLDR but for millions."""


def page_words() -> Words:
    """What the page says, by key, in the language spoken."""
    messages = json.loads((_FOLDER / "messages.json").read_text(encoding="utf-8"))
    return {key: _(one) if isinstance(one, str) else _forms(*one) for key, one in messages.items()}


def _forms(one: str, several: str) -> dict[str, str]:
    category = locale_of(spoken()).plural_form
    return {category(number): ngettext(one, several, number) for number in _COUNTED}


def practice_page(data: Mapping[str, Any]) -> str:
    """The page with its data (see `problemgen.practice.content.page_data`); only its own script may run in it."""
    assets = {path.name: path.read_text(encoding="utf-8") for path in sorted((_FOLDER / "assets").iterdir())}
    modules = {name: text for name, text in assets.items() if name.endswith(".js")}
    script = f"\n{joined(modules, _ENTRY)}\nstartApp();\n"
    environment = Environment(autoescape=True, undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True)
    environment.policies["json.dumps_kwargs"] = _COMPACT
    words = data["words"]
    return environment.from_string(assets["practice.html"]).render(
        title=words["page.title"].replace("{title}", data["title"]),
        language=data["language"],
        direction=data["direction"],
        without_script=words["page.script"],
        data=data,
        digest=base64.b64encode(hashlib.sha256(script.encode()).digest()).decode(),
        # Script and style are files of this package: nothing of a template, an author or a student is in them.
        script=Markup(script),  # noqa: S704
        style=Markup(assets["colours.css"] + assets["practice.css"]),  # noqa: S704
    )
