"""What answers.json says in the languages of its sheets: lines of words and formulas, and the texts of a set."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Annotated, Any, Literal, TypeAlias

from pydantic import Field, GetCoreSchemaHandler
from pydantic_core import CoreSchema, core_schema

from problemgen.model.blocks import Chemical, Inline, Line, Prose, Strong
from problemgen.model.file_types import FilledText, LeftOut
from problemgen.model.own_data import OwnTexts

__all__ = ["LanguageCode", "PrintedLine", "SetTexts", "TemplateTexts"]

LanguageCode: TypeAlias = Annotated[str, Field(pattern="^[a-z]{2,3}(-[A-Za-z0-9]+)*$")]
"""The code of a language (BCP 47)."""

_PIECES: Mapping[str, type[Prose | Strong | Chemical]] = {"prose": Prose, "strong": Strong, "chemical": Chemical}
_KIND_OF: Mapping[type[Inline], str] = {piece: kind for kind, piece in _PIECES.items()}
_Pair: TypeAlias = tuple[Literal["prose", "strong", "chemical"], FilledText]


class _Pairs:
    """A line of words and formulas as pairs of a kind and its text."""

    def __get_pydantic_core_schema__(self, _: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        pairs = handler.generate_schema(list[_Pair])
        written = core_schema.plain_serializer_function_ser_schema(self._pairs, return_schema=pairs)
        return core_schema.no_info_after_validator_function(self._line, pairs, serialization=written)

    @staticmethod
    def _line(pairs: Iterable[_Pair]) -> Line:
        return tuple(_PIECES[kind](text) for kind, text in pairs)

    @staticmethod
    def _pairs(line: Line) -> list[tuple[str, str]]:
        """The pairs of a line. Raises KeyError for a piece that is neither words nor a formula."""
        return [(_KIND_OF[type(piece)], *vars(piece).values()) for piece in line]


PrintedLine: TypeAlias = Annotated[Line, _Pairs()]
"""A line of words and formulas, in a file as pairs of a kind and its text."""


@dataclass(frozen=True)
class TemplateTexts:
    """What a template says in another language than the set's."""

    title: str
    """The title printed on the sheets."""

    prompts: tuple[PrintedLine, ...]
    """The prompts of its parts, in order."""

    names: Mapping[str, FilledText]
    """The names of its substances, by species id."""

    told: tuple[tuple[str, str], ...]
    """The words in front of each given value, and behind it, in the order of the sheet."""


@dataclass(frozen=True)
class SetTexts:
    """What a set says in another language than its own."""

    title: str
    """The title printed on the sheets."""

    course: str
    """The course printed on the sheets."""

    templates: Mapping[str, TemplateTexts]
    """What its templates say, by their keys in the head."""

    own: LeftOut[Mapping[str, tuple[OwnTexts, ...]]] = field(default_factory=dict)
    """What the students' own values are called, by the problem's id, in the order of their columns."""
