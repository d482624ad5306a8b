"""What a template gives: each substance's way of measuring out, turned into draws and fixed values."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field

from problemgen.chemistry.units import read_unit
from problemgen.exact.digits import Written, read_written, written_steps
from problemgen.load.fault_log import FaultLog
from problemgen.load.templates.calibrations import read_calibration
from problemgen.load.templates.document import GivenDocument, ObtainedDocument, RatioDocument, ValueDocument
from problemgen.load.templates.titres import read_titres
from problemgen.load.templates.values import read_value
from problemgen.model.banks import Banks
from problemgen.model.document import Document
from problemgen.model.quantity import KINDS, PROBLEM_KINDS, SOLUTION_AT, TEMPLATE_ROLES, Quantity, Role
from problemgen.model.template import Draw, Fixed, Obtained, Reading, Series
from problemgen.plan.constants import MOLAR_VOLUMES
from problemgen.plan.laws.contents import SAMPLE
from problemgen.plan.laws.heating import HEATED

__all__ = [
    "DISSOLVED",
    "MIXTURE",
    "SOLUTION",
    "Givens",
    "Purpose",
    "quantity_in_role",
    "read_givens",
    "stated_quantities",
]

MIXTURE, SOLUTION = "mixture", "solution"
"""The names under which a template gives the values of a mixture of gases as a whole, and of the one solution that
several substances are dissolved in."""

_OF_WHOLES = {Role.MIXED: ("volume", "pressure", "temperature", "amount"), Role.COMMON: ("volume",)}
"""What a whole has of its own."""

DISSOLVED = ("concentration", "mass_concentration", "hardness")
"""Kinds that tell, where they are asked of a substance, that its volumes are a solution's."""

_OF_SOLUTION = frozenset({"bottle", "concentration", "mass_fraction"})
"""Keys that tell that what is measured out is a solution."""

_OF_SAMPLE = {Role.SAMPLE: SAMPLE, Role.HEATED: HEATED}
"""Roles in which a mass is the whole sample's."""

_BEFORE_AND_AFTER = (Role.INITIAL, Role.FINAL)

_WEIGHED_ROLES = [name for name, role in TEMPLATE_ROLES.items() if not role.stages]


@dataclass(frozen=True)
class Purpose:
    """What the equation and the parts tell about given values: the ids of the products, of the substances whose
    concentration is asked (their volumes are solutions'), of those whose volume is asked, and the two products that
    are made of one reagent, each by the other's id.
    """

    products: frozenset[str] = frozenset()
    dissolved: frozenset[str] = frozenset()
    poured: frozenset[str] = frozenset()
    rivals: Mapping[str, str] = field(default_factory=dict)


@dataclass
class Givens:
    """What was read so far."""

    draws: list[Draw] = field(default_factory=list)
    obtained: list[Obtained] = field(default_factory=list)
    fixed: list[Fixed] = field(default_factory=list)
    hidden: list[Draw] = field(default_factory=list)
    readings: list[Reading] = field(default_factory=list)

    @property
    def quantities(self) -> frozenset[Quantity]:
        """All quantities that the template gives."""
        values: list[Draw | Obtained | Fixed | Reading] = [*self.draws, *self.obtained, *self.fixed, *self.readings]
        return frozenset(one.quantity for one in values)

    def take(self, value: Draw | Fixed | None) -> None:
        """Add a value, where there is one."""
        if isinstance(value, Draw):
            self.draws.append(value)
        elif value is not None:
            self.fixed.append(value)

    def take_list(self, series: Series | None) -> None:
        """Add values that hang together, where there are any."""
        if series is not None:
            self.draws.extend(series.draws)
            self.hidden.extend(series.hidden)
            self.readings.extend(series.readings)


def read_givens(
    faults: FaultLog, given: Mapping[str, GivenDocument], banks: Banks, purpose: Purpose = Purpose()
) -> Givens:
    """The draws and fixed values of a template."""
    givens = Givens()
    faults = faults.at("given")
    for name, document in given.items():
        if name == MIXTURE:
            _read_whole(faults.at(name), givens, document, banks, Role.MIXED)
        elif name == SOLUTION:
            _read_whole(faults.at(name), givens, document, banks, Role.COMMON)
        elif name not in banks.substances and document.called is None:
            faults.unknown(name, name, banks.substances, "the id of a substance in banks/substances.toml")
        else:
            _Substance(faults.at(name), name, document, banks, purpose, givens).read()
    return givens


def _read_whole(faults: FaultLog, givens: Givens, document: GivenDocument, banks: Banks, role: Role) -> None:
    """The values of a mixture of gases, or of a common solution, as a whole: by its role."""
    kinds = _OF_WHOLES[role]
    for key in sorted(_told(document)):
        if key not in kinds:
            faults.add(key, "no value of the whole", f"one of {', '.join(kinds)}")
        else:
            value = getattr(document, key)
            givens.take(read_value(faults.at(key), Quantity(key, "", role), value, banks.glassware))


@dataclass(frozen=True)
class _Substance:
    """One substance of a template, with the log at its place."""

    faults: FaultLog
    name: str
    document: GivenDocument
    banks: Banks
    purpose: Purpose
    givens: Givens

    def read(self) -> None:
        """Take everything that is given of it."""
        document = self.document
        for quantity, label, value in _values(self.name, document, self.purpose):
            self.givens.take(read_value(self.faults.at(label), quantity, value, self.banks.glassware))
        if document.bottle is not None:
            self.read_bottle(document.bottle)
        elif self.name in self.banks.substances and _needs_density(self.name, document, self.purpose):
            self.read_density()
        if document.ratio is not None:
            self.read_ratio(document.ratio)
        self.read_lists()
        for obtained in document.obtained:
            self.read_obtained(obtained)
        if document.vapour_pressure is not None:
            self.read_vapour_pressure(document.vapour_pressure)
        if document.conditions is not None:
            self.read_conditions(document.conditions)

    def read_bottle(self, bottle_id: str) -> None:
        """What stands on a bottle's label: the mass percent and the density, or the concentration."""
        bottle = self.banks.bottles.get(bottle_id)
        if bottle is None or bottle.of != self.name:
            fitting = [b.id for b in self.banks.bottles.values() if b.of == self.name]
            expected = f"a bottle of this substance: {', '.join(fitting) or 'none in banks/bottles.toml'}"
            self.faults.unknown("bottle", bottle_id, fitting, expected)
            return
        label: list[Fixed] = []
        if bottle.mass_percent is not None and bottle.density is not None:
            density, of_solution = bottle.density, Quantity("density", self.name, Role.SOLUTION)
            label.append(Fixed(Quantity("mass_fraction", self.name), bottle.mass_percent, "%", bottle.name))
            label.append(Fixed(of_solution, density.value, density.unit, bottle.name))
        elif bottle.concentration is not None:
            sold = bottle.concentration
            label.append(Fixed(Quantity("concentration", self.name), sold.value, sold.unit, bottle.name))
        # A value given beside the bottle stands for the label's: the assay of the bottle at hand.
        self.givens.fixed.extend(fixed for fixed in label if fixed.quantity not in self.givens.quantities)

    def read_density(self) -> None:
        """The density of a neat liquid, from the bank."""
        density = self.banks.substances[self.name].density
        if density is None:
            expected = "a density in banks/substances.toml, or one given here"
            self.faults.add("volume", "a volume of a substance without a density", expected)
        else:
            self.givens.take(Fixed(Quantity("density", self.name), density.value, density.unit, density.at))

    def read_lists(self) -> None:
        """The burette readings of several runs, and the standards of a curve."""
        titre, calibration, glassware = self.document.titre, self.document.calibration, self.banks.glassware
        if titre is not None:
            self.givens.take_list(read_titres(self.faults.at("titre"), self.name, titre, glassware))
        if calibration is not None:
            self.givens.take_list(read_calibration(self.faults.at("calibration"), self.name, calibration, glassware))

    def read_vapour_pressure(self, liquid: str) -> None:
        """The vapour pressure of the water over which a gas is collected, at each temperature that it may have."""
        if liquid != "water":
            self.faults.add("vapour_pressure", repr(liquid), "'water': no other vapour pressures are in the banks")
            return
        table = self.banks.water_vapour
        temperature, vapour = Quantity("temperature", self.name), Quantity("pressure", self.name, Role.VAPOUR)
        values: list[Draw | Fixed] = [*self.givens.draws, *self.givens.fixed]
        given = next((one for one in values if one.quantity == temperature), None)
        read = _readings(given) if given is not None and given.unit == "°C" else ()
        pressures = tuple(table[int(one.value)] for one in read if one.value in table)
        if given is None or not pressures or len(pressures) < len(read):
            expected = f"whole degrees Celsius from {min(table)} to {max(table)}, those of banks/water_vapour.toml"
            self.faults.add("temperature", "no such temperature", expected)
        elif isinstance(given, Draw):
            self.givens.take(Draw(vapour, "kPa", pressures[0], 0, len(pressures), pressures, follows=temperature))
        else:
            self.givens.take(Fixed(vapour, pressures[0], "kPa"))

    def read_conditions(self, conditions: str) -> None:
        """The molar volume of a gas at conditions that have a name."""
        volume = MOLAR_VOLUMES.get(conditions)
        if volume is None:
            expected = f"one of {', '.join(map(repr, MOLAR_VOLUMES))}"
            self.faults.unknown("conditions", conditions, MOLAR_VOLUMES, expected)
        else:
            self.givens.take(Fixed(Quantity("molar_volume", self.name), read_written(volume), "L/mol", conditions))

    def read_ratio(self, ratio: RatioDocument) -> None:
        """The two numbers of a product ratio: the first is drawn, the second is the rest."""
        faults, step = self.faults.at("ratio"), ratio.step.value
        if self.name not in self.purpose.rivals:
            rivals = " or ".join(self.purpose.rivals) or "none, without `parallel`"
            faults.add("", f"a ratio of {self.name} to another product", f"a ratio of one of two products: {rivals}")
            return
        ends = [ratio.start.value, ratio.to.value, ratio.whole.value]
        found = f"from {ratio.start.text} to {ratio.to.text}, of {ratio.whole.text}"
        if step <= 0 or any((end / step).denominator != 1 for end in ends):
            faults.add("", found, "numbers that are multiples of a `step` above 0")
        elif not 0 < ends[0] < ends[1] < ends[2]:
            faults.add("", found, "a range that rises, above 0 and below the whole")
        else:
            first, last, whole = (int(end / step) for end in ends)
            mine, other = (Quantity("relative_amount", name) for name in (self.name, self.purpose.rivals[self.name]))
            self.givens.take(Draw(mine, "1", ratio.step, first, last - first + 1))
            rest = tuple(written_steps(whole - number, ratio.step) for number in range(first, last + 1))
            self.givens.take(Draw(other, "1", rest[0], 0, len(rest), rest, follows=mine))

    def read_obtained(self, obtained: ObtainedDocument) -> None:
        """A mass that is drawn as a share of another one."""
        faults = self.faults.at("obtained")
        glass = self.banks.glassware.get(obtained.read)
        low, high = obtained.percent_yield
        mass, whole = (_mass(self.name, role) for role in (obtained.role, obtained.share_of))
        if glass is None or glass.kind != "balance":
            known = [g.id for g in self.banks.glassware.values() if g.kind == "balance"]
            faults.add("read", repr(obtained.read), f"a balance: {', '.join(known)}")
        elif read_unit(obtained.unit) != read_unit(glass.unit):
            faults.add("unit", repr(obtained.unit), f"the unit of the {glass.name}: {glass.unit}")
        elif not 0 < low.value < high.value <= 100:
            faults.add("percent_yield", f"{low.text} to {high.text}", "a range within 0 to 100")
        elif mass is None or mass.role is Role.PLAIN:
            faults.add("role", repr(obtained.role), f"one of {', '.join(_WEIGHED_ROLES)}")
        elif whole is None or (whole.role is not Role.THEORETICAL and whole not in self.givens.quantities):
            faults.add("share_of", repr(obtained.share_of), "the role of a mass that is given before")
        else:
            self.givens.obtained.append(Obtained(mass, obtained.unit, glass.step, low, high, whole, glass.name))


def _mass(name: str, role: str) -> Quantity | None:
    """A substance's mass in the role that a template names, in some roles the whole sample's; None for no such role."""
    if role and role not in _WEIGHED_ROLES:
        return None
    return _OF_SAMPLE.get(Role(role), Quantity("mass", name, Role(role)))


def _readings(given: Draw | Fixed) -> tuple[Written, ...]:
    """All values that a given one may have, in order."""
    if isinstance(given, Fixed):
        return (given.written,)
    return given.choices or tuple(written_steps(given.first + index, given.step) for index in range(given.count))


def _needs_density(name: str, document: GivenDocument, purpose: Purpose) -> bool:
    """Whether the bank's density is wanted: for a volume of the substance itself, given or asked."""
    measured = document.volume is not None or document.volume_fraction is not None or name in purpose.poured
    return (
        measured
        and document.density is None
        and not _is_gas(document)
        and not _in_solution(name, _told(document), purpose)
    )


def _is_gas(document: GivenDocument) -> bool:
    """Whether a volume is a gas': its pressure or the conditions of its molar volume are told."""
    told = (document.pressure, document.conditions, document.molar_volume)
    staged = (document.initial, document.final)
    return any(one is not None for one in (*told, *(s.pressure or s.temperature for s in staged if s is not None)))


def _in_solution(name: str, told: Collection[str], purpose: Purpose) -> bool:
    """Whether what is measured out is a solution of the substance."""
    return name in purpose.dissolved or not _OF_SOLUTION.isdisjoint(told)


def stated_quantities(
    name: str, told: Collection[str], purpose: Purpose, weighed: str | None = None
) -> Mapping[str, Quantity]:
    """What each key of a substance means where no role is named, by all keys that are told of it in that way.

    A product's mass, volume or amount is what is to be obtained: where its percent yield is given too, what is really
    obtained, else the theoretical yield. `weighed` is the hydrate that is weighed in the substance's place.
    """
    weighed = weighed or name
    in_solution = _in_solution(name, told, purpose)
    of_product = Role.ACTUAL if "percent_yield" in told else Role.THEORETICAL
    stated = of_product if name in purpose.products else Role.PLAIN
    of_mass = Role.SOLUTION if {"bottle", "mass_fraction"} & set(told) else stated
    return {
        **{kind: Quantity(kind, name) for kind in PROBLEM_KINDS},
        "mass": Quantity("mass", weighed, Role.IMPURE if "purity" in told else of_mass),
        "volume": Quantity("volume", name, Role.SOLUTION if in_solution else stated),
        "amount": Quantity("amount", name, stated),
        "purity": Quantity("mass_fraction", weighed, Role.PURITY if "mass_fraction" in told else Role.PLAIN),
        "density": Quantity("density", name, Role.SOLUTION if in_solution else Role.PLAIN),
        "pressure": Quantity("pressure", name, Role.TOTAL if "vapour_pressure" in told else Role.PLAIN),
    }


def quantity_in_role(kind: str, name: str, role: Role, stage: int, told: Collection[str]) -> Quantity:
    """A substance's quantity in a role; `told` are the kinds that are given in that role."""
    if kind == "mass" and role in _OF_SAMPLE:  # one sample, whatever is found in it
        return _OF_SAMPLE[role]
    if kind == "mass" and role in _BEFORE_AND_AFTER and {"pressure", "temperature"}.isdisjoint(told):
        return Quantity(kind, name, SOLUTION_AT[role])  # the mass before or after a dilution; a gas has none
    return Quantity(kind, name, role, stage=stage)


def _told(document: Document) -> frozenset[str]:
    """The keys that are filled in."""
    return frozenset(key for key in document.model_fields_set if getattr(document, key) is not None)


def _values(name: str, document: GivenDocument, purpose: Purpose) -> Iterator[tuple[Quantity, str, ValueDocument]]:
    """The values given for a substance, with the quantity that each is."""
    for label, quantity in stated_quantities(name, _told(document), purpose, document.weighed_as).items():
        value = getattr(document, label)
        if value is not None:
            yield quantity, label, value
    for label, role in TEMPLATE_ROLES.items():
        told = getattr(document, label)
        tables = told.items() if role.stages else [(0, told)] if told is not None else []
        for stage, values in tables:
            kinds = _told(values)
            for kind in KINDS:
                if kind in kinds:
                    key = f"{label}.{stage}.{kind}" if stage else f"{label}.{kind}"
                    yield quantity_in_role(kind, name, role, stage, kinds), key, getattr(values, kind)
