"""The shape of a template file."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, Literal

from pydantic import BeforeValidator, Field, create_model

from problemgen.exact.digits import read_written
from problemgen.model.citation import Citations
from problemgen.model.document import Document, Identifier, Number, Text, UnitText, read_number
from problemgen.model.quantity import PROBLEM_KINDS, TEMPLATE_ROLES, Role

__all__ = [
    "AskedDocument",
    "CalibrationDocument",
    "GivenDocument",
    "ObtainedDocument",
    "PartDocument",
    "RatioDocument",
    "RoleDocument",
    "TemplateDocument",
    "TitreDocument",
    "UnknownDocument",
    "ValueDocument",
    "VapourDocument",
]


class ValueDocument(Document):
    """A given value: drawn from a range on a scale (`from`, `to`, `read` or `step`), from a list, or fixed.

    `source`: for what is no number of the problem's own making, such as a density.
    """

    unit: UnitText
    """The unit in which it is printed."""

    start: Annotated[Number | None, Field(alias="from")] = None
    """The least value."""

    to: Number | None = None
    """The greatest value."""

    read: Identifier | None = None
    """The glassware or balance on whose scale it is read."""

    step: Number | None = None
    """The step of the scale, where nothing is read."""

    choose: tuple[Number, ...] = ()
    """A list to draw from."""

    value: Number | None = None
    """The same for everybody."""

    source: Citations = ()
    """Citations."""


class TitreDocument(ValueDocument):
    """The titres of a titrant, read off a burette: `from`, `to` and `read` tell the titre, which no sheet prints.

    runs: how many agree, to `within` from the least to the greatest. begin: the range in which the burette stands at
    the beginning of a run. rough: how much more than the titre a rough run takes; without it there is none.
    """

    runs: int = Field(default=3, ge=2, le=4)
    within: Number = Field(default=read_number("0.10"))
    begin: tuple[Number, Number]
    rough: tuple[Number, Number] | None = None


class CalibrationDocument(Document):
    """A standard curve: `spacing` is the concentration of the first standard, and what each has more than the last.

    slope, intercept: the ranges of the line, which no sheet prints. spread: how far a reading lies off it at most, in
    steps of `step`.
    """

    standards: int = Field(default=5, ge=3, le=6)
    spacing: ValueDocument
    slope: ValueDocument
    intercept: ValueDocument
    spread: Number
    step: Number = Field(default=read_number("0.001"))


class ObtainedDocument(Document):
    """What was obtained: the range in percent, and the balance.

    The percent are of the theoretical yield, or of the mass in the role that `share_of` names ("" for none); `role`
    is the role of the mass that is obtained.
    """

    percent_yield: tuple[Number, Number]
    unit: UnitText
    read: Identifier
    role: str = "actual"
    share_of: str = "theoretical"


class RatioDocument(Document):
    """A product ratio, this product to the other one: "86 : 14".

    The first number is drawn `from` … `to` in steps; the second is what is left to `whole`.
    """

    start: Annotated[Number, Field(alias="from")]
    to: Number
    step: Number
    whole: Number = read_written("100")


_VALUE: Any = (ValueDocument | None, None)

RoleDocument = create_model(
    "RoleDocument",
    __base__=Document,
    __doc__="The values of a substance in one role.",
    **dict.fromkeys(PROBLEM_KINDS, _VALUE),
)
"""Every kind of quantity can be given in every role."""


_ROLE: Any = (RoleDocument | None, None)


def _in_role(role: Role) -> Any:
    """A table of values, or for a role that counts stages one for each: `diluted.2.concentration`."""
    if not role.stages:
        return _ROLE
    stage = Annotated[int, Field(ge=min(role.stages), le=max(role.stages))]
    return (dict[stage, RoleDocument], {})  # type: ignore[valid-type]  # a class made at run time


def _several(value: Any) -> Any:
    """A table that stands alone as the first of several: a union of both shapes would tell its faults twice."""
    return (value,) if isinstance(value, Mapping) else value


class MeasuringDocument(Document):
    """How one substance is measured out, beside its quantities.

    `called` is the name of a substance that the bank does not have, or of the impure sample that holds one of the bank.
    """

    purity: ValueDocument | None = None
    """The share of the substance in what is weighed."""

    bottle: Identifier | None = None
    """A bottle of the bank, whose label is printed."""

    weighed_as: Identifier | None = None
    """The hydrate that is weighed in its place."""

    in_excess: bool = False
    """Whether there is more of it than the others need: it does not compete."""

    called: Text | None = None
    """What it is called, where the bank does not have it, or where it is in an impure sample."""

    conditions: Text | None = None
    """The conditions of a gas by their name."""

    vapour_pressure: Identifier | None = None
    """The liquid over which a gas is collected: water."""

    ratio: RatioDocument | None = None
    """The ratio of two products."""

    titre: TitreDocument | None = None
    """Burette readings."""

    calibration: CalibrationDocument | None = None
    """A standard curve."""

    obtained: Annotated[tuple[ObtainedDocument, ...], BeforeValidator(_several)] = ()
    """What was obtained of it."""


GivenDocument: Any = create_model(
    "GivenDocument",
    __base__=MeasuringDocument,
    __doc__="Everything that is given of one substance: quantities, and tables by role and stage (`diluted.2`).",
    **dict.fromkeys(PROBLEM_KINDS, _VALUE),
    **{name: _in_role(role) for name, role in TEMPLATE_ROLES.items()},
)


class VapourDocument(Document):
    """An unknown compound as a gas: at which pressure and temperature it is, and how heavy.

    density: the step to which it is told, in g/L. Otherwise `volume`, and `read`, the balance on which that much of the
    gas is weighed.
    """

    pressure: ValueDocument
    temperature: ValueDocument
    density: Number | None = None
    volume: ValueDocument | None = None
    read: Identifier | None = None


class UnknownDocument(Document):
    """A compound whose formula is asked: each student's is one of `formulas`, and is not printed.

    analysis: "masses" of the elements in a sample, "percent" of each element, "combustion" (carbon dioxide and water
    from a sample), or "heating" (the hydrates of one salt, weighed before and afterwards). `rest` is an element that is
    left to be found by difference. `molar_mass` tells it, to a step; `vapour` lets it be found from the compound as a
    gas.
    """

    formulas: tuple[Text, ...] = Field(min_length=1)
    analysis: Literal["masses", "percent", "combustion", "heating"]
    sample: ValueDocument | None = None
    read: Identifier | None = None
    rest: Text | None = None
    molar_mass: Number | None = None
    vapour: VapourDocument | None = None


class AskedDocument(Document):
    """What is asked; `role` is "" for a substance's own quantity, where it would be taken for another one."""

    quantity: Text
    """What is asked: amount, mass, volume, limiting_reagent, percent_yield, …"""

    of: Text | None = None
    """Of which substance; "each reagent" makes a part for each. Left out: the product."""

    source: Annotated[Text | None, Field(alias="from")] = None
    """From which reagent the product would be made; "each reagent" makes a part for each."""

    role: str | None = None
    """In which role: actual, theoretical, left, …"""

    stage: int = Field(default=0, ge=0)
    """Which dilution or portion."""

    unit: UnitText | None = None
    """The unit of the answer; left out, the usual one."""


class PartDocument(AskedDocument):
    """One asked part, or several where `of` or `from` says "each reagent"."""

    points: Number | None = None
    """Left out: one."""

    prompt: str = ""
    """The question in words; left out, the program writes it."""

    session: int = Field(default=1, ge=1, le=3)
    """On which session's sheet it stands."""


class TemplateDocument(Document):
    """A template. `story_as_in` names a template of the same folder whose story it has too.

    Which reagent limits varies over a class, unless `always_limits` names one, and `because` tells why. `may_hide`
    lists mistakes that a variant need not show; `problemgen check` tells their ids. `ions` names those of the dissolved
    salts: {"SO4^2-" = "sulfate ions"}.
    """

    title: Text
    """Printed above the problem."""

    topic: Text
    """What it is listed under."""

    difficulty: int = Field(ge=1, le=5)
    """1 to 5."""

    trains: str = ""
    """What it exercises, for `list`."""

    reaction: Identifier | None = None
    """A reaction of the bank."""

    then: tuple[Identifier, ...] = ()
    """Reactions that follow it, each on the product before."""

    beside: Identifier | None = None
    """A reaction beside it, of a mixture."""

    parallel: Identifier | None = None
    """A reaction that makes another product of the same reagent."""

    internal_standard: Identifier | None = None
    """A substance that takes no part."""

    driven_off: tuple[Identifier, ...] = ()
    """What leaves as a gas."""

    solvent: Identifier | None = None
    """The solvent of a solution."""

    contents: tuple[Text, ...] = ()
    """Elements, ions or groups that parts ask about."""

    ions: dict[Text, Text] = Field(default_factory=dict)
    """The ions of dissolved salts, with their names."""

    story: str = ""
    """A line or two before the data, 10,000 characters at most: CommonMark, and `{{ given.SUBSTANCE.QUANTITY }}` for
    given values as they are printed, the hyphens and dots of an id as underscores; `{{` and `{%` stand for nothing
    else."""

    story_as_in: Identifier | None = None
    """A template of the same folder whose story it has."""

    may_hide: tuple[Text, ...] = ()
    """Mistakes that its numbers need not show."""

    always_limits: Identifier | None = None
    """The reagent that always limits."""

    because: str = ""
    """Why it does."""

    given: dict[Identifier, GivenDocument] = Field(default_factory=dict)
    """How each substance is measured out."""

    unknown: UnknownDocument | None = None
    """A compound whose formula is asked."""

    part: tuple[PartDocument, ...] = Field(min_length=1)
    """What is asked."""
