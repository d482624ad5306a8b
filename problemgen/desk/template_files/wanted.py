"""What a page wants of a template."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Annotated

from pydantic import BeforeValidator, Field

from problemgen.model.document import Document

__all__ = ["WantedGiven", "WantedPart", "WantedTemplate"]

_ID = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*(?:/[a-z0-9]+(?:-[a-z0-9]+)*){1,3}")
_LONGEST = 120


def _id(value: object) -> str:
    text = str(value).strip()
    if not _ID.fullmatch(text) or len(text) > _LONGEST or text.split("/")[0] in ("sets", "layouts"):
        raise ValueError("a folder, a slash and a name, in small letters, figures and hyphens: preparations/my-ester")
    return text


class WantedGiven(Document):
    """How a substance is measured out: its values by kind, each with its keys as they were typed ("from", "unit").

    `percent_yield` are the two ends of what is obtained of it, where something is.
    """

    values: dict[str, dict[str, str]] = Field(default_factory=dict)
    bottle: str = ""
    weighed_as: str = ""
    in_excess: bool = False
    percent_yield: tuple[str, str] | None = None


class WantedPart(Document):
    """A part: its place in the text as it was, from 0, where it stood there; else the `keys` that say what is asked."""

    was: int | None = Field(default=None, ge=0)
    keys: Mapping[str, str] = Field(default_factory=dict)
    unit: str = ""
    points: str = ""
    prompt: str = ""
    session: int = Field(default=1, ge=1, le=3)


class WantedTemplate(Document):
    """A template: the text that it is made from, and all that the page shows of it.

    `seen` is the digest of the file that was read, "" where there was none. What the page does not show stays in the
    text as it is.
    """

    seen: str
    base: str = Field(max_length=100_000)
    id: Annotated[str, BeforeValidator(_id)]
    title: str
    topic: str
    difficulty: int = Field(ge=1, le=5)
    trains: str = ""
    story: str = ""
    always_limits: str = ""
    because: str = ""
    may_hide: tuple[str, ...] = ()
    given: dict[str, WantedGiven] = Field(default_factory=dict)
    parts: tuple[WantedPart, ...]
