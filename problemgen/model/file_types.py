"""How values stand in a JSON file of ours: a record whose fields have these types is written and read by them.

Numbers are text, so that no reader rounds them: exact ones as quotients ("3/2"), those of a key as decimals of at most
12 figures ("0.0500", "9.2e-4"), written ones with their digits. Formulas are text in ASCII. What a field documents
below it is its description in the JSON Schema.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from fractions import Fraction
from functools import cached_property
from types import MappingProxyType
from typing import Annotated, Any, ClassVar, Generic, TypeAlias, TypeVar, cast, get_origin

from pydantic import (
    AfterValidator,
    ConfigDict,
    Field,
    GetCoreSchemaHandler,
    PlainSerializer,
    PlainValidator,
    TypeAdapter,
    ValidationError,
    ValidationInfo,
    WithJsonSchema,
)
from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import CoreSchema, InitErrorDetails, core_schema

from problemgen.chemistry.formula import Formula, read_formula
from problemgen.errors import FormulaError, NumberError
from problemgen.exact.digits import Written, read_written
from problemgen.exact.rounding import outward_text
from problemgen.model.document import read_number

__all__ = [
    "EXACT",
    "KEY_FIGURES",
    "Count",
    "DecimalText",
    "ExactNumber",
    "ExactText",
    "FileForm",
    "FilledText",
    "FormulaText",
    "InMemory",
    "LeftOut",
    "Share",
    "SortedTexts",
    "WrittenText",
    "read_exact",
]

T = TypeVar("T")

KEY_FIGURES = 12
"""Figures of values and bounds in a key: bounds are rounded outwards."""

EXACT = r"^-?[0-9]+(/[1-9][0-9]*)?$"
_DECIMAL = r"^-?[0-9]+(\.[0-9]+)?(e-?[0-9]{1,2})?$"
"""Powers of ten that a float holds as well: statistics are worked in floats."""
_LONGEST = 200
"""Characters: a written number has 100 at most (`problemgen.exact.digits`), and a quotient of two twice as many."""
_IS_EXACT, _IS_DECIMAL = re.compile(EXACT, re.ASCII), re.compile(_DECIMAL, re.ASCII)


def read_exact(text: Any) -> Fraction:
    """An exact number from its text: a whole number, or a quotient of two. Raises ValueError."""
    if not isinstance(text, str) or len(text) > _LONGEST or not _IS_EXACT.fullmatch(text):
        raise ValueError('an exact number as text, "3" or "3/2"')
    return Fraction(text)


def _exact(value: Any, info: ValidationInfo) -> Fraction:
    """An exact number as our JSON has it, or as a person writes it in TOML."""
    if info.mode == "json":
        return read_exact(value)
    return value if isinstance(value, Fraction) else read_number(value).value


def _share(share: Fraction) -> Fraction:
    if not 0 <= share <= 1:
        raise ValueError("a share from 0 to 1")
    return share


def _decimal(text: Any) -> str:
    if not isinstance(text, str) or len(text) > _LONGEST or not _IS_DECIMAL.fullmatch(text):
        raise ValueError('a decimal number as text, "0.0500"')
    return text


def _written(text: Any) -> Written:
    try:
        return read_written(_decimal(text))
    except NumberError as error:
        raise ValueError(str(error)) from None


def _formula(text: Any) -> Formula:
    try:
        return read_formula(text)
    except FormulaError as error:
        raise ValueError(f"a formula: {error}") from None
    except (TypeError, AttributeError):
        raise ValueError("a formula as text") from None


def _decimal_text(value: Fraction) -> str:
    return outward_text(value, KEY_FIGURES, up=True)


def _text(pattern: str) -> WithJsonSchema:
    return WithJsonSchema({"type": "string", "pattern": pattern})


ExactText: TypeAlias = Annotated[Fraction, PlainValidator(read_exact), PlainSerializer(str), _text(EXACT)]
"""An exact number."""

ExactNumber: TypeAlias = Annotated[Fraction, PlainValidator(_exact), PlainSerializer(str), _text(EXACT)]
"""An exact number, which is written as a decimal in TOML."""

Share: TypeAlias = Annotated[ExactNumber, AfterValidator(_share), _text("^(0|1|[1-9][0-9]*/[1-9][0-9]*)$")]
"""A share from 0 to 1, which is written as a decimal in TOML."""

DecimalText: TypeAlias = Annotated[
    Fraction, PlainValidator(lambda text: Fraction(_decimal(text))), PlainSerializer(_decimal_text), _text(_DECIMAL)
]
"""A number that has been rounded to `KEY_FIGURES`."""

WrittenText: TypeAlias = Annotated[
    Written,
    PlainValidator(_written),
    PlainSerializer(lambda written: written.text),
    _text(_DECIMAL),
]
"""A number with its digits."""

FormulaText: TypeAlias = Annotated[
    Formula,
    PlainValidator(_formula),
    PlainSerializer(lambda formula: formula.text),
    WithJsonSchema({"type": "string", "minLength": 1}),
]
"""A formula in its canonical spelling in ASCII."""

SortedTexts: TypeAlias = Annotated[frozenset[str], PlainSerializer(sorted, return_type=list[str])]
"""A set, written in order: the same set gives the same bytes."""

FilledText: TypeAlias = Annotated[str, Field(min_length=1)]
"""Text that is not empty."""

Count: TypeAlias = Annotated[int, Field(ge=1, le=1_000_000)]
"""A number that counts from 1, no more than anybody has."""

LeftOut = Annotated[T, Field(exclude_if=lambda value: not value)]
"""A field with an empty default, which the file leaves out where it is empty."""


class _NotRead:
    """A field that no file has: it is empty after reading, with or without a default."""

    _EMPTY: Mapping[Any, Callable[[], Any]] = MappingProxyType(
        {tuple: tuple, frozenset: frozenset, Mapping: dict, str: str}
    )

    def __get_pydantic_core_schema__(self, source: Any, _: GetCoreSchemaHandler) -> CoreSchema:
        refused = core_schema.no_info_plain_validator_function(self._refuse)
        return core_schema.with_default_schema(refused, default_factory=self._EMPTY[get_origin(source) or source])

    @staticmethod
    def _refuse(_: Any) -> None:
        raise ValueError("no such key")


InMemory = Annotated[T, Field(exclude=True), _NotRead()]
"""A field that is not written: it follows from others, or is filled in later."""


class FileForm(Generic[T]):
    """How a record is written as JSON, read, and described.

    Unknown keys are faults. All is worked in a list of one: there a whole tree of records takes over one configuration.
    """

    ALTERNATIVE: ClassVar[str] = "alternative: "
    """How a tag begins that tells the alternatives of a field apart: no key of the file, so no fault names it."""

    def __init__(self, record: type[T]) -> None:
        """The form of a record: a frozen dataclass."""
        self._record = record

    def text(self, record: T) -> bytes:
        """The record as JSON, on one line."""
        return self._adapter.dump_json((record,))[1:-1]

    def data(self, record: T) -> dict[str, Any]:
        """The record as dictionaries, lists, texts and numbers."""
        (data,) = self._adapter.dump_python((record,), mode="json")
        return cast("dict[str, Any]", data)

    def read(self, data: bytes) -> T:
        """The record out of JSON. Raises pydantic's ValidationError."""
        try:
            (record,) = self._adapter.validate_json(b"[%b]" % data)
        except ValidationError as error:
            raise self._without_the_list(error) from None
        return record

    def _without_the_list(self, error: ValidationError) -> ValidationError:
        lines = [
            InitErrorDetails(type=one["type"], loc=self._place(one["loc"]), input=one["input"], ctx=one.get("ctx", {}))
            for one in error.errors()
        ]
        return ValidationError.from_exception_data(self._record.__name__, lines)

    def _place(self, location: tuple[int | str, ...]) -> tuple[int | str, ...]:
        """Where in the file a fault is: without the list of one, and without the tags of alternatives."""
        return tuple(one for one in location[1:] if not str(one).startswith(self.ALTERNATIVE))

    def schema(self) -> dict[str, Any]:
        """The JSON Schema of the record: what is written in every file is required."""
        described = self._made(use_attribute_docstrings=True).json_schema(
            mode="serialization", schema_generator=_Schema
        )
        return {**described["$defs"].pop(self._record.__name__), "$defs": described["$defs"]}

    @cached_property
    def _adapter(self) -> TypeAdapter[tuple[T]]:
        return self._made(use_attribute_docstrings=False)

    def _made(self, *, use_attribute_docstrings: bool) -> TypeAdapter[tuple[T]]:
        config = ConfigDict(extra="forbid", use_attribute_docstrings=use_attribute_docstrings)
        return TypeAdapter(tuple[self._record], config=config)  # type: ignore[name-defined]


class _Schema(GenerateJsonSchema):
    def field_title_should_be_set(self, schema: Any) -> bool:  # noqa: ARG002 - pydantic's own signature
        return False

    def field_is_required(self, field: Any, total: bool) -> bool:  # noqa: ARG002 - pydantic's own signature
        return "serialization_exclude_if" not in field

    def dataclass_schema(self, schema: core_schema.DataclassSchema) -> JsonSchemaValue:
        return self._strict(super().dataclass_schema(schema))

    def model_schema(self, schema: core_schema.ModelSchema) -> JsonSchemaValue:
        return self._strict(super().model_schema(schema))

    @staticmethod
    def _strict(described: JsonSchemaValue) -> JsonSchemaValue:
        described.pop("title", None)
        return {**described, "additionalProperties": False}
