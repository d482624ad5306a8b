"""What a template gives: each substance's way of measuring out, turned into draws and fixed values."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction

from problemgen.chemistry.units import read_unit
from problemgen.errors import Fault
from problemgen.exact.digits import Written, read_written, written_steps
from problemgen.load.documents import Document, nearest
from problemgen.load.template_document import GivenDocument, ObtainedDocument, ValueDocument
from problemgen.model.banks import Banks
from problemgen.model.quantity import CONSTANT_KINDS, KINDS, ROLES, Quantity
from problemgen.model.template import Draw, Fixed, Obtained
from problemgen.plan.constants import MOLAR_VOLUMES
from problemgen.plan.laws.contents import SAMPLE
from problemgen.plan.laws.heating import HEATED

__all__ = ["MIXTURE", "Givens", "Purpose", "read_givens", "read_value"]

MIXTURE = "mixture"
"""The name under which a template gives the values of a mixture of gases as a whole."""


_MOST_VALUES = 1_000_000
_SHARES = ("mass_fraction", "percent_yield")
_OF_SAMPLE = {"sample": SAMPLE, "heated": HEATED}
"""Roles in which a mass is the whole sample's."""


@dataclass(frozen=True)
class Purpose:
    """What the equation and the parts tell about given values: the ids of the products, of the substances whose
    concentration is asked (their volumes are solutions'), and of those whose volume is asked.
    """

    products: frozenset[str] = frozenset()
    dissolved: frozenset[str] = frozenset()
    poured: frozenset[str] = frozenset()


@dataclass
class Givens:
    """What was read so far, and the faults."""

    file: str
    banks: Banks
    purpose: Purpose = Purpose()
    draws: list[Draw] = field(default_factory=list)
    obtained: list[Obtained] = field(default_factory=list)
    fixed: list[Fixed] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)

    def fault(self, key: str, found: str, expected: str, hint: str = "") -> None:
        """Keep a fault of the template."""
        self.faults.append(Fault(self.file, key, found, expected, hint))

    @property
    def quantities(self) -> frozenset[Quantity]:
        """All quantities that the template gives."""
        drawn = {draw.quantity for draw in self.draws} | {one.quantity for one in self.obtained}
        return frozenset(drawn | {one.quantity for one in self.fixed})


def read_givens(file: str, given: Mapping[str, GivenDocument], banks: Banks, purpose: Purpose = Purpose()) -> Givens:
    """The draws and fixed values of a template; faults are kept in the result."""
    givens = Givens(file, banks, purpose)
    for name, document in given.items():
        if name == MIXTURE:
            _read_mixture(givens, document)
        elif name not in banks.substances and document.called is None:
            hint = nearest(name, banks.substances)
            givens.fault(f"given.{name}", repr(name), "the id of a substance in banks/substances.toml", hint)
        else:
            _read_substance(givens, name, document)
    return givens


def _read_mixture(givens: Givens, document: GivenDocument) -> None:
    """The values of a mixture of gases as a whole: its volume, pressure, temperature, amount."""
    for kind in ("volume", "pressure", "temperature", "amount"):
        value = getattr(document, kind)
        if value is not None:
            read_value(givens, f"given.{MIXTURE}.{kind}", Quantity(kind, "", "mixed"), value)


def _read_substance(givens: Givens, name: str, document: GivenDocument) -> None:
    key = f"given.{name}"
    for quantity, label, value in _values(name, document, givens.purpose):
        read_value(givens, f"{key}.{label}", quantity, value)
    if document.bottle is not None:
        _read_bottle(givens, key, name, document.bottle)
    elif _needs_density(name, document, givens.purpose):
        _read_density(givens, key, name)
    several = document.obtained if isinstance(document.obtained, tuple) else (document.obtained,)
    for obtained in several:
        _read_obtained(givens, key, name, obtained)
    if document.vapour_pressure is not None:
        _read_vapour_pressure(givens, key, name, document.vapour_pressure)
    if document.conditions is not None:
        _read_conditions(givens, key, name, document.conditions)


def _needs_density(name: str, document: GivenDocument, purpose: Purpose) -> bool:
    """Whether the bank's density is wanted: for a volume of the substance itself, given or asked."""
    measured = document.volume is not None or document.volume_fraction is not None or name in purpose.poured
    return measured and document.density is None and not _is_gas(document) and not _in_solution(name, document, purpose)


def _is_gas(document: GivenDocument) -> bool:
    """Whether a volume is a gas': its pressure or the conditions of its molar volume are told."""
    told = (document.pressure, document.conditions, document.molar_volume, document.called)
    staged = (document.initial, document.final)
    return any(one is not None for one in (*told, *(s.pressure or s.temperature for s in staged if s is not None)))


def _in_solution(name: str, document: GivenDocument, purpose: Purpose) -> bool:
    """Whether what is measured out is a solution of the substance."""
    told = (document.bottle, document.concentration, document.mass_fraction)
    return name in purpose.dissolved or any(one is not None for one in told)


def _stated_role(name: str, document: GivenDocument, purpose: Purpose) -> str:
    """The role of a plain mass, volume or amount: a product's is what is to be obtained.

    Where its percent yield is given too, that is what is really obtained; else the theoretical yield.
    """
    if name not in purpose.products:
        return ""
    return "actual" if document.percent_yield else "theoretical"


def _values(name: str, document: GivenDocument, purpose: Purpose) -> Iterator[tuple[Quantity, str, ValueDocument]]:
    """The values given for a substance, with the quantity that each is."""
    weighed = document.weighed_as or name
    in_solution = _in_solution(name, document, purpose)
    stated = _stated_role(name, document, purpose)
    of_mass = "impure" if document.purity else ("solution" if document.bottle or document.mass_fraction else stated)
    shorthand = {
        "mass": Quantity("mass", weighed, of_mass),
        "volume": Quantity("volume", name, "solution" if in_solution else stated),
        "amount": Quantity("amount", name, stated),
        "purity": Quantity("mass_fraction", weighed),
        "density": Quantity("density", name, "solution" if in_solution else ""),
        "pressure": Quantity("pressure", name, "total" if document.vapour_pressure else ""),
    }
    plain = {kind: Quantity(kind, name) for kind in KINDS if kind not in CONSTANT_KINDS}
    for label, quantity in {**plain, **shorthand}.items():
        value = getattr(document, label)
        if value is not None:
            yield quantity, label, value
    for role in ROLES:
        yield from _role_values(name, role, getattr(document, role))


def _role_values(name: str, role: str, values: Document | None) -> Iterator[tuple[Quantity, str, ValueDocument]]:
    is_gas = getattr(values, "pressure", None) is not None or getattr(values, "temperature", None) is not None
    for kind in KINDS if values is not None else ():
        value = getattr(values, kind, None)
        if value is not None and kind == "mass" and role in _OF_SAMPLE:  # one sample, whatever is found in it
            yield _OF_SAMPLE[role], f"{role}.{kind}", value
        elif value is not None:
            # The mass of a stage of a dilution is its solution's; a gas has none.
            of_solution = kind == "mass" and role in ("initial", "final") and not is_gas
            yield Quantity(kind, name, f"{role} solution" if of_solution else role), f"{role}.{kind}", value


def read_value(givens: Givens, key: str, quantity: Quantity, value: ValueDocument) -> None:
    """Add one given value: fixed, chosen from a list, or drawn from a range; faults are kept."""
    kind = KINDS[quantity.kind]
    if read_unit(value.unit).dimension != kind.dimension:
        givens.fault(f"{key}.unit", repr(value.unit), f"a unit of {kind.words}, such as {kind.unit}")
        return
    drawn = value.start is not None or value.to is not None
    if drawn + bool(value.choose) + (value.value is not None) != 1:
        givens.fault(key, "no single way to get a value", "either `from` and `to`, or `choose`, or `value`")
    elif not _possible(givens, key, quantity, value):
        return
    elif value.value is not None:
        givens.fixed.append(Fixed(quantity, value.value, value.unit))
    elif value.choose:
        chosen = Draw(quantity, value.unit, value.choose[0], 0, len(value.choose), value.choose)
        givens.draws.append(chosen)
    else:
        _read_range(givens, key, quantity, value)


def _possible(givens: Givens, key: str, quantity: Quantity, value: ValueDocument) -> bool:
    """Whether every number written can be a value of its kind: above 0, and a share at most the whole."""
    unit = read_unit(value.unit)
    written = [one for one in (value.start, value.to, value.value, *value.choose) if one is not None]
    least, most = (pick(written, key=lambda one: one.value) for pick in (min, max))
    if unit.to_engine(least.value) <= 0:
        givens.fault(key, f"{least.text} {value.unit}", "a number above 0")
    elif quantity.kind in _SHARES and unit.to_engine(most.value) > 1:
        givens.fault(key, f"{most.text} {value.unit}", "at most 100 %")
    else:
        return True
    return False


def _read_range(givens: Givens, key: str, quantity: Quantity, value: ValueDocument) -> None:
    if value.start is None or value.to is None:
        lacking = "to" if value.to is None else "from"
        givens.fault(f"{key}.{lacking}", "nothing", "both ends of the range")
        return
    scale = _scale(givens, key, value)
    if scale is None:
        return
    step, instrument, capacity = scale
    low, high = value.start.value, value.to.value
    if not low < high:
        givens.fault(key, f"from {value.start.text} to {value.to.text}", "a range that rises")
        return
    if capacity is not None and high > capacity:
        givens.fault(f"{key}.to", value.to.text, f"no more than the {instrument} holds", "Take a larger one.")
        return
    first, last = low / step.value, high / step.value
    if first.denominator != 1 or last.denominator != 1:
        found = f"from {value.start.text} to {value.to.text}"
        givens.fault(key, found, f"ends that stand on the scale: multiples of {step.text} {value.unit}")
        return
    count = int(last - first) + 1
    if count > _MOST_VALUES:
        givens.fault(key, f"{count} values", f"no more than {_MOST_VALUES}", "Take a coarser scale.")
        return
    givens.draws.append(Draw(quantity, value.unit, step, int(first), count, (), instrument))


def _scale(givens: Givens, key: str, value: ValueDocument) -> tuple[Written, str, Fraction | None] | None:
    """The reading step, the instrument's name, and its capacity in the value's unit."""
    if (value.read is None) == (value.step is None):
        givens.fault(key, "no single scale", "either `read` (a piece of glassware or a balance) or `step`")
        return None
    if value.step is not None and value.step.value <= 0:
        givens.fault(f"{key}.step", value.step.text, "a step above 0")
        return None
    if value.step is not None:
        return value.step, "", None
    glass = givens.banks.glassware.get(value.read or "")
    if glass is None:
        hint = nearest(value.read or "", givens.banks.glassware)
        givens.fault(f"{key}.read", repr(value.read), "an id in banks/glassware.toml", hint)
        return None
    ours, theirs = read_unit(value.unit), read_unit(glass.unit)
    if ours.dimension != theirs.dimension or ours.factor != theirs.factor:
        givens.fault(f"{key}.unit", repr(value.unit), f"the unit of the {glass.name}: {glass.unit}")
        return None
    return glass.step, glass.name, glass.capacity.value


def _read_bottle(givens: Givens, key: str, name: str, bottle_id: str) -> None:
    bottle = givens.banks.bottles.get(bottle_id)
    if bottle is None or bottle.of != name:
        fitting = [b.id for b in givens.banks.bottles.values() if b.of == name]
        expected = f"a bottle of this substance: {', '.join(fitting) or 'none in banks/bottles.toml'}"
        givens.fault(f"{key}.bottle", repr(bottle_id), expected, nearest(bottle_id, fitting))
        return
    percent, density = bottle.mass_percent, bottle.density
    label = (
        Fixed(Quantity("mass_fraction", name), percent, "%", bottle.name),
        Fixed(Quantity("density", name, "solution"), density.value, density.unit, bottle.name),
    )
    # A value given beside the bottle stands for the label's: the assay of the bottle at hand.
    givens.fixed.extend(fixed for fixed in label if fixed.quantity not in givens.quantities)


def _read_density(givens: Givens, key: str, name: str) -> None:
    density = givens.banks.substances[name].density
    if density is None:
        expected = "a density in banks/substances.toml, or one given here"
        givens.fault(f"{key}.volume", "a volume of a substance without a density", expected)
        return
    givens.fixed.append(Fixed(Quantity("density", name), density.value, density.unit, density.at))


def _read_vapour_pressure(givens: Givens, key: str, name: str, liquid: str) -> None:
    """The vapour pressure of the water over which a gas is collected, at each temperature that the gas may have."""
    if liquid != "water":
        givens.fault(f"{key}.vapour_pressure", repr(liquid), "'water': no other vapour pressures are in the banks")
        return
    temperature, vapour = Quantity("temperature", name), Quantity("pressure", name, "vapour")
    drawn = next((draw for draw in givens.draws if draw.quantity == temperature), None)
    fixed = next((one for one in givens.fixed if one.quantity == temperature), None)
    readings = _readings(drawn) if drawn else ((fixed.written,) if fixed else ())
    unit = drawn.unit if drawn else (fixed.unit if fixed else "")
    table = givens.banks.water_vapour
    found = [table.get(int(one.value)) if one.value.denominator == 1 else None for one in readings]
    values = tuple(one for one in found if one is not None)
    if unit != "°C" or not values or len(values) < len(found):
        expected = f"whole degrees Celsius from {min(table)} to {max(table)}, those of banks/water_vapour.toml"
        givens.fault(f"{key}.temperature", "no such temperature", expected)
    elif drawn is not None:
        followed = Draw(vapour, "kPa", values[0], 0, len(values), values, follows=temperature)
        givens.draws.append(followed)
    else:
        givens.fixed.append(Fixed(vapour, values[0], "kPa"))


def _readings(draw: Draw) -> tuple[Written, ...]:
    """All values that a draw may take, in order."""
    return draw.choices or tuple(written_steps(draw.first + index, draw.step) for index in range(draw.count))


def _read_conditions(givens: Givens, key: str, name: str, conditions: str) -> None:
    volume = MOLAR_VOLUMES.get(conditions)
    if volume is None:
        expected = f"one of {', '.join(map(repr, MOLAR_VOLUMES))}"
        givens.fault(f"{key}.conditions", repr(conditions), expected, nearest(conditions, MOLAR_VOLUMES))
        return
    givens.fixed.append(Fixed(Quantity("molar_volume", name), read_written(volume), "L/mol", conditions))


def _read_obtained(givens: Givens, key: str, name: str, obtained: ObtainedDocument) -> None:
    glass = givens.banks.glassware.get(obtained.read)
    low, high = obtained.percent_yield
    roles = (obtained.role, obtained.share_of)
    mass, whole = (_OF_SAMPLE.get(role, Quantity("mass", name, role)) for role in roles)
    if glass is None or glass.kind != "balance":
        known = [g.id for g in givens.banks.glassware.values() if g.kind == "balance"]
        givens.fault(f"{key}.obtained.read", repr(obtained.read), f"a balance: {', '.join(known)}")
    elif read_unit(obtained.unit) != read_unit(glass.unit):
        givens.fault(f"{key}.obtained.unit", repr(obtained.unit), f"the unit of the {glass.name}: {glass.unit}")
    elif not 0 < low.value < high.value <= 100:
        givens.fault(f"{key}.obtained.percent_yield", f"{low.text} to {high.text}", "a range within 0 to 100")
    elif obtained.role not in ROLES:
        givens.fault(f"{key}.obtained.role", repr(obtained.role), f"one of {', '.join(ROLES)}")
    elif obtained.share_of != "theoretical" and whole not in givens.quantities:
        givens.fault(f"{key}.obtained.share_of", repr(obtained.share_of), "the role of a mass that is given before")
    else:
        givens.obtained.append(Obtained(mass, obtained.unit, glass.step, low, high, whole, glass.name))
