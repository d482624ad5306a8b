"""Kinds of quantity: each brings its symbol, its unit, its words, and its place in the table of given values."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from problemgen.chemistry.units import Dimension, read_unit
from problemgen.language.messages import _
from problemgen.model.quantity.roles import Role

__all__ = ["KINDS", "LAST_FACTOR", "PROBLEM_KINDS", "Kind"]

LAST_FACTOR = 99
"""Behind every factor that has a place of its own."""


@dataclass(frozen=True)
class Kind:
    """A kind of quantity, with everything that is said of it.

    Symbols are those of the IUPAC Green Book (Quantities, Units and Symbols in Physical Chemistry,
    3rd edition, 2007, chapter 2): n, m, V, M, c, w, ρ, ξ, ν, γ, b, x. No two kinds share one, unless they are one
    quantity in two units, so that a letter has one meaning on a page; trade abbreviations stand where no letter is
    free (eq, ee, exc, rec, AE, EF, PMI).

    name: in templates and in ids. unit: what the trade uses for it. words: as it is read aloud.
    sub: the upright index of its symbol (N_A, V_m).

    In the table of given values: `label` stands in front of a value (the words, where it is None) and `behind` it;
    `note` behind both, where the value has one. A `label` is empty only where something else tells the kind: `behind`,
    a unit of two parts (mol/L), or the column of what is measured out, where all stand that are `extensive`.

    In a prompt: `prompt` asks for it without a role, `prompts` in a role, where the role's own words do not fit.
    {kind} is its words, {name} the substance's; more in `problemgen.model.quantity.role_words.RoleWords`.

    All words are messages: they are said in the language spoken when they are shown.
    """

    name: str
    symbol: str
    unit: str
    words: str
    label: str | None = None
    behind: str = ""
    note: str = ""
    sub: str = ""
    prompt: str = "The {kind} of {name}"
    prompts: Mapping[Role, str] = field(default_factory=dict)
    before: Mapping[Role, str] = field(default_factory=dict)  # in front of a given value in a role, instead of its own
    extensive: bool = False  # how much there is of something
    by_formula: bool = False  # a formula leads to it: a prompt shows the formula
    of_solution: bool = False  # only a solution has it
    at_most_whole: bool = False  # a share: never more than 100 %
    factor: int = LAST_FACTOR  # its place among the factors of a product: c × V, V × ρ, n R T
    large_unit: str = ""  # for results of 1 engine unit and more
    unit_like: str = ""  # the kind whose asked unit a small result takes over
    printed: str = ""  # a constant, as a sheet prints it behind "R = "
    in_use: str = "the usual values"  # a constant's values that a worker may take
    most_figures: int | None = None  # of a reading that shows more digits than it is good for
    is_counted: bool = False  # a whole number that limits no figures
    has_own_scale: bool = False  # each instrument shows it on a scale of its own: no value is unusual
    of_products: bool = False  # it tells of what was formed: known when the reaction is over

    def __post_init__(self) -> None:
        """Refuse a kind that would be printed without words.

        Raises:
            ValueError: for no name, symbol or words; for a given value that nothing would tell the kind of.
            UnitError: for a unit that is not in the list.
        """
        for name in ("name", "symbol", "words"):
            if not getattr(self, name).strip():
                raise ValueError(f"the kind of quantity {self.name!r} has no {name}")
        if not (self.told or self.behind or self.extensive or "/" in self.unit):
            raise ValueError(
                f"the kind of quantity {self.name!r} has no label: a given value would stand without words"
            )
        read_unit(self.unit)

    @property
    def dimension(self) -> Dimension:
        """The dimension that every unit of this kind must have."""
        return read_unit(self.unit).dimension

    @property
    def told(self) -> str:
        """The words in front of a given value, as they are said; "" where something else tells the kind."""
        return _(self.words if self.label is None else self.label)

    def asked_in(self, role: Role) -> str:
        """How a prompt asks for it in a role: a message with places ({kind}, {name}, {source}, {nth}, {portions})."""
        if role in self.prompts:
            return self.prompts[role]
        return role.words.prompt if role else self.prompt

    def told_in(self, role: Role, *, of_gas: bool = False) -> str:
        """The message in front of a given value that tells its role; a gas is not diluted, it changes."""
        if of_gas and role.words.of_gas:
            return role.words.of_gas
        return self.before.get(role, role.words.before)


_OF_SOLUTION = "The {kind} of {name} in the solution"

_OF_A_PEAK = 3
"""Figures of a peak area or an integral: where a peak begins and ends is known to a few parts in a thousand at best.

Common practice, no source: integrators print six digits.
"""

_KINDS = (
    Kind(
        name="mass", symbol="m", unit="g", words="mass", label="", extensive=True, by_formula=True, factor=4,
    ),
    Kind(
        name="volume", symbol="V", unit="mL", words="volume", label="", extensive=True, factor=7, large_unit="L",
        prompts={
            Role.SOLUTION: "The volume of {name}",
            Role.INITIAL: "The volume of the stock solution of {name} to take",
            Role.FINAL: "The volume of the solution of {name} after diluting",
            Role.ADDED: "The volume of water to add to the solution of {name}",
            Role.DRY: "The volume of {name} when dried, at the same total pressure",
            Role.VESSEL: "The smallest of 10, 25, 50, 100, 250 and 500 mL that the liquids fill to two thirds at most",
            Role.NET: "The difference of blank and sample in the titration with {name}",
        },
    ),
    Kind(
        name="amount", symbol="n", unit="mol", words="amount", label="", extensive=True, by_formula=True, factor=1,
        prompts={
            Role.INITIAL: "The {kind} of {name} before diluting",
            Role.FINAL: "The {kind} of {name} in the dilute solution",
            Role.MIXED: "The amount of all gases together",
            Role.NET: "The amount of {name} that the sample accounts for in the titration",
            Role.WHOLE: "The amount of {name} that the sample would hold if it were nothing else",
        },
    ),
    Kind(
        name="molar_mass", symbol="M", unit="g/mol", words="molar mass", by_formula=True, factor=9,
        prompts={Role.BOTH: "The mean {kind} of the mixture of both products"},
    ),
    Kind(
        name="atomic_weight", symbol="M", unit="g/mol", words="molar mass of the element", factor=10,
        in_use="tables in use, two decimals or more",
    ),
    Kind("density", "ρ", "g/mL", "density", note=" ({note})", factor=8),
    Kind(
        name="concentration", symbol="c", unit="mol/L", words="amount concentration", label="", prompt=_OF_SOLUTION,
        of_solution=True, factor=5,
        prompts={
            Role.INITIAL: "The {kind} of {name} before diluting",
            Role.FINAL: "The {kind} of {name} after diluting",
            Role.MIXED: "The {kind} of {name} in the mixture",
        },
    ),
    Kind(
        name="mass_concentration", symbol="γ", unit="g/L", words="mass concentration", label="", prompt=_OF_SOLUTION,
        of_solution=True, factor=6,
    ),
    Kind(
        name="hardness", symbol="H", unit="mg/L", words="water hardness", label="hardness",
        prompt="The {kind}, counted as {name}",
    ),
    Kind(
        name="water_equivalent", symbol="T", unit="mg/mL", words="water equivalent", label="water equivalent",
        prompt="The {kind} of the {name}",
    ),
    Kind("mass_fraction", "w", "%", "mass percent", label="", behind=" by mass", at_most_whole=True),
    Kind(
        name="volume_fraction", symbol="φ", unit="%", words="volume percent", label="", behind=" by volume",
        of_solution=True, at_most_whole=True,
    ),
    Kind("mole_fraction", "x", "1", "mole fraction", at_most_whole=True),
    Kind(
        name="trace_fraction", symbol="w", unit="ppm", words="mass fraction in parts per million or billion", label="",
        behind=" by mass", prompt="The mass fraction of {name}", of_solution=True,
    ),
    Kind(
        name="mass_volume_percent", symbol="γ", unit="g/dL", words="mass-per-volume percent (grams in 100 mL)",
        label="", behind=" (grams in 100 mL)", prompt="The grams of {name} in 100 mL of the solution", of_solution=True,
    ),
    Kind("molality", "b", "mol/kg", "molality", label="", prompt=_OF_SOLUTION, of_solution=True),
    Kind("extent", "ξ", "mol", "extent of reaction", prompt="The extent of the reaction", factor=2, unit_like="amount"),
    Kind(
        name="percent_yield", symbol="Y", unit="%", words="percent yield", label="expected yield", at_most_whole=True,
        prompts={Role.BOTH: "The total {kind}: both products together, on the limiting reagent"},
    ),
    Kind(
        name="pressure", symbol="p", unit="kPa", words="pressure", factor=0,
        prompts={Role.MIXED: "The total pressure of the mixture"},
    ),
    Kind("temperature", "T", "K", "temperature", factor=13),
    Kind("molar_volume", "V", "L/mol", "molar volume", note=" (at {note})", sub="m"),
    Kind(
        name="gas_constant", symbol="R", unit="kPa L/(mol K)", words="gas constant", factor=12,
        printed="8.3145 kPa·L/(mol·K), and 0 °C is 273.15 K", in_use="the usual roundings of the constant",
    ),
    Kind(
        name="avogadro", symbol="N", sub="A", unit="molecules/mol", words="Avogadro constant", factor=11,
        printed="6.0221 × 10²³ per mole", in_use="the usual roundings of the constant",
    ),
    Kind(
        name="count", symbol="N", unit="molecules", words="number of particles", label="", extensive=True, factor=3,
        prompts={Role.THEORETICAL: "The {kind} of {name}"},
    ),
    Kind("subscript", "s", "1", "subscript in the formula"),
    Kind(
        name="crystal_water", symbol="h", unit="1", words="water of crystallisation per formula unit",
        prompt="The number of waters in one formula unit of the hydrate of {name}",
    ),
    Kind("multiple", "k", "1", "number of empirical formulas in the molecule"),
    Kind("portions", "z", "1", "number of whole units", prompt="The number of portions of {name}"),
    Kind(
        name="equivalents", symbol="eq", unit="1", words="equivalents",
        prompt="The {kind} of {name}: its amount over that of the other reagent",
        prompts={Role.FROM: "The {kind} of {name}: its amount over that of {source}"},
    ),
    Kind(
        name="scale_factor", symbol="f", unit="1", words="scale factor",
        prompt="The {kind} from the published batch to yours",
    ),
    Kind(
        name="loading", symbol="L", unit="%", words="catalyst loading", label="loading", behind=" (mol %)",
        prompt="The {kind} of {name}, in mole percent",
    ),
    Kind(
        name="excess", symbol="exc", unit="%", words="percent excess",
        prompt="The {kind} of {name} over what the equation asks for",
    ),
    Kind("atom_economy", "AE", "%", "atom economy", prompt="The {kind} of making {name}"),
    Kind("e_factor", "EF", "1", "E-factor", prompt="The {kind} of making {name}: waste over product"),
    Kind(
        name="mass_intensity", symbol="PMI", unit="1", words="process mass intensity",
        prompt="The {kind} of making {name}: all that was put in over product",
    ),
    Kind(
        name="recovery", symbol="rec", unit="%", words="percent recovery", at_most_whole=True,
        prompt="The {kind} of {name} from crude to pure product",
        prompts={
            Role.FIRST: "The {kind} of {name} in the first purification",
            Role.SECOND: "The {kind} of {name} in the second purification",
        },
    ),
    Kind(
        name="solubility", symbol="S", unit="g/dL", words="solubility", behind=" (grams in 100 mL)",
        prompt="The {kind} of {name}",
    ),
    Kind("conversion", "X", "%", "conversion", at_most_whole=True),
    Kind(
        name="selectivity", symbol="S", unit="%", words="selectivity", at_most_whole=True,
        prompt="The {kind} for {name}: the percentage of the converted reagent that became this product",
    ),
    Kind(
        name="share", symbol="f", unit="%", words="share", at_most_whole=True,
        prompt="The {kind} of {name} among the products",
        prompts={Role.MINOR: "The {kind} of the minor enantiomer of {name}"},
    ),
    Kind("product_ratio", "r", "1", "product ratio"),
    Kind("peak_area", "A", "1", "peak area", most_figures=_OF_A_PEAK, has_own_scale=True, of_products=True),
    Kind(
        name="distribution_ratio", symbol="D", unit="1", words="distribution ratio",
        prompt="The {kind} of {name}, organic over aqueous layer",
    ),
    Kind(
        name="fraction_left", symbol="q", unit="%", words="percent left",
        prompts={Role.UNEXTRACTED: "The percent of {name} left in the water after {portions}"},
    ),
    Kind(
        name="fraction_extracted", symbol="E", unit="%", words="percent extracted",
        prompts={Role.EXTRACTED: "The percent of {name} extracted by {portions}"},
    ),
    Kind(
        name="distance", symbol="d", unit="mm", words="distance", prompt="The {kind} that {name} travelled",
        prompts={Role.FRONT: "The {kind} that the solvent front travelled"},
    ),
    Kind("retention_factor", "Rf", "1", "retention factor"),
    Kind("rotation", "α", "°", "optical rotation"),
    Kind(
        name="specific_rotation", symbol="[α]", unit="° cm3 g^-1 dm^-1", words="specific rotation",
        before={Role.PURE: "pure enantiomer"},
    ),
    Kind("path_length", "l", "dm", "path length"),
    Kind("absorbance", "A", "1", "absorbance", prompt="The {kind} of the solution of {name}"),
    Kind(
        name="molar_absorption", symbol="ε", unit="L/(mol cm)", words="molar absorption coefficient",
        prompt="The {kind} of {name}", note=" (at {note})",
    ),
    Kind("slope", "k", "L/mol", "slope of the standard curve", prompt="The {kind} of {name}"),
    Kind("intercept", "A₀", "1", "intercept of the standard curve", prompt="The {kind} of {name}"),
    Kind("enantiomeric_excess", "ee", "%", "enantiomeric excess"),
    Kind("relative_amount", "a", "1", "relative amount", of_products=True),
    Kind("response_factor", "f", "1", "response factor", of_products=True),
    Kind("integral", "I", "1", "integral", most_figures=_OF_A_PEAK, has_own_scale=True, of_products=True),
    Kind(
        name="protons", symbol="N", unit="1", words="number of protons behind the signal", label="signal of",
        behind=" H", is_counted=True, of_products=True,
    ),
)  # fmt: skip

KINDS: Mapping[str, Kind] = MappingProxyType({kind.name: kind for kind in _KINDS})

_CONSTANT = frozenset({"atomic_weight", "gas_constant", "avogadro"})

PROBLEM_KINDS = tuple(name for name in KINDS if name not in _CONSTANT)
"""The kinds that problems give and ask for: all but those whose values are constants."""
