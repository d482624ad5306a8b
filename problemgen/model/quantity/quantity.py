"""One quantity of a problem, and the name it goes by in expressions."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from problemgen.language.messages import N_, _, ngettext, pgettext
from problemgen.model.quantity.kinds import KINDS
from problemgen.model.quantity.roles import Role

__all__ = ["NAME", "OVERALL_EXTENT", "Quantity", "kind_named", "quantity_named", "read_quantity"]

NAME = r"^([a-z][a-z_]*)\(([^,]*)(?:,(.+))?\)$"
"""The pattern of a quantity's name: its kind, what it belongs to, and its role."""

# Spelled out: mistakes, draws and keys go by these names, and drawn numbers hang on them ("step_two", not "step_2").
_SPELLED = ("", N_("one"), N_("two"), N_("three"), N_("four"), N_("five"), N_("six"))


def _ordinal(stage: int) -> str:
    """The number of a stage as an ordinal, in the language spoken; "" for none."""
    return (
        "",
        pgettext("ordinal", "first"),
        pgettext("ordinal", "second"),  # the unit of time is another word in most languages
        pgettext("ordinal", "third"),
        pgettext("ordinal", "fourth"),
        pgettext("ordinal", "fifth"),
        pgettext("ordinal", "sixth"),
    )[stage]


@dataclass(frozen=True, order=True)
class Quantity:
    """One quantity of a problem: kind, what it belongs to (a species' id, "" for the reaction), and role.

    Roles tell apart several quantities of one kind. `source` is the reagent of the role `FROM` ("as far as this
    reagent allows"), "" for other roles; `stage` counts dilutions or portions of a staged role, 0 for other roles.
    """

    kind: str
    of: str
    role: Role = Role.PLAIN
    source: str = ""
    stage: int = 0

    def __post_init__(self) -> None:
        """Raise ValueError for a source or a stage that the role does not have, or for one that it lacks."""
        if bool(self.source) != (self.role is Role.FROM):
            raise ValueError(f"{self.kind} of {self.of}: {self.role.name} with the source {self.source!r}")
        if (self.stage or self.role.stages) and not self.role.has_stage(self.stage):
            raise ValueError(f"{self.kind} of {self.of}: {self.role.name} at stage {self.stage}")

    @cached_property
    def id(self) -> str:
        """The quantity's name in expressions and in answers.json: `mass(acetone)`, `mass(acetone,actual)`."""
        inside = f"{self.of},{self.written_role}" if self.role else self.of
        return f"{self.kind}({inside})"

    @property
    def written_role(self) -> str:
        """The role as the id has it, with its source or stage: "actual", "from:acetone", "step_two"."""
        return _written(self.role, self.source, self.stage)

    def said(self, pattern: str, name: str = "", source: str = "") -> str:
        """A message filled for this quantity: with its kind, its role and its stage, and a substance's name.

        What is filled in may have places of its own in it: a name that is to be set in its own way.
        """
        counts = _counts(self.stage)
        phrase = _(self.role.words.phrase).format(**counts)
        return _(pattern).format(kind=_(KINDS[self.kind].words), phrase=phrase, name=name, source=source, **counts)

    @property
    def said_role(self) -> str:
        """The role as the index of a symbol has it: "actual", "step two"."""
        pattern = pgettext("index", self.role.pattern.replace("_", " "))
        return pattern.format(source=self.source, stage=_(_SPELLED[self.stage]))

    @classmethod
    def __get_pydantic_core_schema__(cls, _source: Any, _handler: GetCoreSchemaHandler) -> CoreSchema:
        """In a file a quantity stands by its name, as it does in expressions."""
        by_name = core_schema.plain_serializer_function_ser_schema(lambda quantity: quantity.id)
        return core_schema.no_info_plain_validator_function(quantity_named, serialization=by_name)

    @classmethod
    def __get_pydantic_json_schema__(cls, _schema: CoreSchema, _handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        """The JSON Schema of the name."""
        return {"type": "string", "pattern": NAME}

    def as_kind(self, kind: str) -> Quantity:
        """The quantity of another kind in the same role: the mass to an amount."""
        return Quantity(kind, self.of, self.role, self.source, self.stage)


OVERALL_EXTENT = Quantity("extent", "")
"""The extent that the reaction reaches: the least that any reagent allows."""


def _counts(stage: int) -> dict[str, str]:
    """A stage in words and figures."""
    spelled = _(_SPELLED[stage])
    return {
        "n": spelled,
        "nth": _ordinal(stage),
        "number": str(stage),
        "portions": ngettext("one portion", "{n} portions", stage).format(n=spelled),
        "dilutions": ngettext("one dilution", "{n} dilutions", stage).format(n=spelled),
    }


@lru_cache(maxsize=1024)
def _written(role: Role, source: str, stage: int) -> str:
    return role.pattern.format(source=source, stage=_SPELLED[stage])


_WRITTEN = {
    role.pattern.format(stage=_SPELLED[stage]): (role, stage)
    for role in Role
    if role is not Role.FROM
    for stage in role.stages or (0,)
}


def read_quantity(kind: str, of: str, written_role: str) -> Quantity:
    """A quantity from its kind, its species, and its role as an id writes it. ValueError for no such role."""
    if written_role.startswith("from:"):
        return Quantity(kind, of, Role.FROM, source=written_role.removeprefix("from:"))
    if written_role not in _WRITTEN:
        raise ValueError(f"no role {written_role!r}")
    role, stage = _WRITTEN[written_role]
    return Quantity(kind, of, role, stage=stage)


def kind_named(name: str) -> str:
    """The kind of the quantity of a name: "mass" of `mass(acetone,actual)`."""
    return name.partition("(")[0]


def quantity_named(name: Any) -> Quantity:
    """The quantity of a name, `mass(acetone,actual)`. Raises ValueError."""
    found = re.match(NAME, name) if isinstance(name, str) else None
    if found is None:
        raise ValueError("a quantity by its name, mass(acetone) or mass(acetone,actual)")
    return read_quantity(*found.groups(default=""))
