"""The reference of what files may hold, out of the records that read them: written into the READMEs between two marks.

python tests/support/reference.py          writes templates/README.md and banks/README.md anew
"""

from __future__ import annotations

import ast
import dataclasses
import inspect
import sys
import textwrap
from collections.abc import Iterator, Mapping
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

from pydantic.fields import FieldInfo

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from problemgen.exact.digits import Written  # noqa: E402 - the checkout's own package comes first
from problemgen.load.sets import documents as set_documents  # noqa: E402
from problemgen.load.templates import document as template_document  # noqa: E402
from problemgen.model import banks, hazards  # noqa: E402
from problemgen.model.document import Document, Flag, Identifier, Number, Text, UnitText  # noqa: E402
from problemgen.model.policy import Attempts, Policy  # noqa: E402

__all__ = ["REFERENCES", "reference", "with_reference"]

_START, _END = "<!-- reference: python tests/support/reference.py -->", "<!-- end of the reference -->"

_WORDS: Mapping[Any, str] = {
    Flag: "true or false",
    Identifier: "id",
    Number: "number",
    Text: "text",
    UnitText: "unit",
    bool: "true or false",
    str: "text",
    int: "whole number",
    Fraction: "number",
    Written: "number",
}

_SETS = (
    ("course.toml", set_documents.CourseDocument),
    ("set.toml", set_documents.SetDocument),
    ("set.toml: [[sheet]]", set_documents.SheetDocument),
    ("set.toml: [[problem]]", set_documents.SetProblemDocument),
    ("[policy], [problem.policy]", Policy),
    ("[problem.part.a]", set_documents.PartPolicy),
    ("[attempts]", Attempts),
    ("[feedback]", set_documents.FeedbackDocument),
)
_TEMPLATES = (
    ("A template", template_document.TemplateDocument),
    ("[given.SUBSTANCE]", template_document.MeasuringDocument),
    ("A value", template_document.ValueDocument),
    ("[given.SUBSTANCE.obtained]", template_document.ObtainedDocument),
    ("[given.SUBSTANCE.ratio]", template_document.RatioDocument),
    ("[given.SUBSTANCE.titre]", template_document.TitreDocument),
    ("[given.SUBSTANCE.calibration]", template_document.CalibrationDocument),
    ("[unknown]", template_document.UnknownDocument),
    ("[unknown.vapour]", template_document.VapourDocument),
    ("[[part]]", template_document.PartDocument),
)
_BANKS = (
    ("[[substance]]", banks.Substance),
    ("A measured value", banks.Measured),
    ("[[bottle]]", banks.Bottle),
    ("[[reaction]]", banks.Reaction),
    ("[[glassware]]", banks.Glassware),
    ("[[hazard]]", hazards.Hazard),
    ("[[statement]] of hazards", hazards.HazardStatement),
    ("[[publication]] of sources", banks.Publication),
    ("[[statement]] of sources", banks.Statement),
)

REFERENCES: Mapping[str, tuple[tuple[str, type[Any]], ...]] = {
    "templates/README.md": (*_SETS, *_TEMPLATES),
    "banks/README.md": _BANKS,
}
"""What is described in which file."""


def reference(documents: tuple[tuple[str, type[Any]], ...]) -> str:
    """The documents, each with what its record says of itself and a row for each key."""
    known = [document for _, document in documents]
    return "\n".join(line for title, document in documents for line in _described(title, document, known))


def _described(title: str, document: type[Any], known: list[type[Any]]) -> Iterator[str]:
    yield from (f"### {title}", "")
    told = " ".join((document.__doc__ or "").split())
    yield from (told, "")
    yield from ("| key | what | where it is left out |", "|---|---|---|")
    inherited = {name for one in document.__mro__[1:] if one in known for name, *_ in _keys(one)}
    for name, what, about, default in _keys(document):
        if name in inherited:
            continue
        yield f"| `{name}` | {what}{f': {_sentence(about)}' if about else ''} | {default} |"
    yield ""


def _keys(document: type[Any]) -> Iterator[tuple[str, str, str, str]]:
    """The keys of a record: name, what it takes, what is said of it, what holds without it."""
    if issubclass(document, Document):
        told = _told(document)
        for name, field in document.model_fields.items():
            yield field.alias or name, _what(_whole(field)), told.get(name, field.description or ""), _default(field)
        return
    types = get_type_hints(document, include_extras=True)
    for one in dataclasses.fields(document):
        yield one.name, _what(types[one.name]), "", _shown(one.default)


def _told(document: type[Any]) -> dict[str, str]:
    """The docstrings below the fields of a class and of those it is made from.

    pydantic could read them too, whenever the class is made: a tenth of a second in every run of every command.
    """
    told: dict[str, str] = {}
    for one in reversed(document.__mro__):
        if issubclass(one, Document) and one.__module__.startswith("problemgen") and one.__qualname__ in _source(one):
            (made,) = ast.parse(textwrap.dedent(_source(one))).body
            lines = made.body if isinstance(made, ast.ClassDef) else []
            for field, below in pairwise(lines):
                if isinstance(field, ast.AnnAssign) and isinstance(below, ast.Expr):
                    told[ast.unparse(field.target)] = str(ast.literal_eval(below.value))
    return told


def _source(one: type[Any]) -> str:
    """The lines of a class; "" for one that is made at run time."""
    try:
        return inspect.getsource(one)
    except (OSError, TypeError):
        return ""


def _sentence(text: str) -> str:
    return " ".join(text.split()).replace("|", "\\|")


def _whole(field: FieldInfo) -> Any:
    """A field's type with what pydantic has taken off it."""
    return Annotated[field.annotation, *field.metadata] if field.metadata else field.annotation


def _what(kind: Any) -> str:
    """A type in the words of who writes the file."""
    named = next((words for one, words in _WORDS.items() if kind == one), None)
    if named is not None:
        return named
    origin, inside = get_origin(kind), [one for one in get_args(kind) if one is not NoneType]
    if origin is Annotated:
        return _what(inside[0]) if inside else "text"
    if origin is Literal:
        return " or ".join(f'`"{one}"`' if isinstance(one, str) else f"`{one}`" for one in inside)
    if origin in (Union, UnionType):
        return " or ".join(dict.fromkeys(map(_what, inside)))
    if origin is tuple:
        kinds = [one for one in inside if one is not Ellipsis]
        words = _what(kinds[0])
        return f"list of {len(kinds)}: {words}" if len(kinds) > 1 else f"list: {words}"
    if origin is dict:
        return f"table: {_what(inside[1])} by {_what(inside[0])}"
    if isinstance(kind, type) and (issubclass(kind, Document) or dataclasses.is_dataclass(kind)):
        return "table"
    return "text"


def _default(field: FieldInfo) -> str:
    """What holds where a key is left out."""
    if field.is_required():
        return "not to be left out"
    return _shown(field.get_default(call_default_factory=True, validated_data={}))


def _shown(value: Any) -> str:
    if value in (None, "", (), {}) or isinstance(value, Document | Attempts):
        return "–"
    if isinstance(value, bool):
        return str(value).lower()
    return f'`"{value}"`' if isinstance(value, str) else value.text if isinstance(value, Written) else str(value)


def with_reference(text: str, documents: tuple[tuple[str, type[Any]], ...]) -> str:
    """A README with its reference as it is now. Raises ValueError for one without the marks."""
    before, start, rest = text.partition(_START)
    _, end, after = rest.partition(_END)
    if not start or not end:
        raise ValueError("no marks of a reference")
    return f"{before}{_START}\n\n{reference(documents)}\n{_END}{after}"


def main() -> None:
    """Write the references anew."""
    for name, documents in REFERENCES.items():
        path = ROOT / name
        path.write_text(with_reference(path.read_text(encoding="utf-8"), documents), encoding="utf-8")


if __name__ == "__main__":
    main()
