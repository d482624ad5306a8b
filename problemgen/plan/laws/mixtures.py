"""What a solution or mixture is made of: mole fraction and molality, and the portion that such sums start from.

`scene.solvent` names the solvent; its mass and amount carry the solute's id and the role `SOLVENT`.
"""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.model.expression import Expression
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import KINDS, Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, letters
from problemgen.plan.laws.amounts import AMOUNT, has_mass

__all__ = ["LAWS"]

n, m, V, M, x, b, w, solvent, solution, total, other, solute, rho = letters(
    "n m V M x b w solvent solution total other solute rho"
)

BY_AMOUNT = frozenset({"mole_fraction", "molality"})
PER_VOLUME = frozenset(
    {"trace_fraction", "volume_fraction", "mass_volume_percent", "concentration", "mass_concentration"}
)
CONTENTS = BY_AMOUNT | {"trace_fraction", "volume_fraction", "mass_volume_percent"}
EXTENSIVE = frozenset(kind.name for kind in KINDS.values() if kind.extensive)


def _told(scene: Scene) -> frozenset[Quantity]:
    return scene.given | scene.wanted


def _is_gaseous(scene: Scene) -> bool:
    """Whether a problem is about gases: their mixtures have laws of their own."""
    return any(q.kind in ("pressure", "temperature") for q in _told(scene))


def _solutes(scene: Scene) -> Iterator[Species]:
    """The species whose place in a solution the problem is about."""
    told = _told(scene)
    named = {q.of for q in told if q.kind in BY_AMOUNT or q.role is Role.SOLVENT} if scene.solvent else set()
    yield from (s for s in scene.species.values() if s.id in named and s.id != scene.solvent)


def _amounts_of_solvent(law: Law, scene: Scene) -> Iterator[Instance]:
    if scene.solvent not in scene.species or not has_mass(scene.species[scene.solvent]):
        return
    for species in _solutes(scene):
        binding = {
            "m": Quantity("mass", species.id, Role.SOLVENT),
            "n": Quantity("amount", species.id, Role.SOLVENT),
            "M": Quantity("molar_mass", scene.solvent),
        }
        yield Instance(law, binding, extra={"other": Quantity("molar_mass", species.id).id})


AMOUNT_OF_SOLVENT = Law(
    id="amount-of-solvent",
    title="Amount of the solvent",
    relation=n * M - m,
    instances=_amounts_of_solvent,
    words={
        "n": "The mass of the solvent divided by its molar mass gives its amount.",
        "m": "The amount of the solvent times its molar mass gives its mass.",
    },
    source="green-book-2007 2.10: M = m/n",
    misuses=tuple(misuse for misuse in AMOUNT.misuses if misuse.id == "other-molar-mass"),
)


def _volumes_of_solvent(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        volume = Quantity("volume", species.id, Role.SOLVENT)
        if scene.solvent and volume in _told(scene):
            binding = {
                "m": Quantity("mass", species.id, Role.SOLVENT),
                "V": volume,
                "rho": Quantity("density", scene.solvent),
            }
            yield Instance(law, binding)


MASS_OF_SOLVENT = Law(
    id="mass-of-solvent",
    title="Mass of the solvent",
    relation=rho * V - m,
    instances=_volumes_of_solvent,
    words={
        "m": "The volume of the solvent times its density gives its mass.",
        "V": "The mass of the solvent divided by its density gives its volume.",
    },
    source="green-book-2007 2.2: ρ = m/V",
)


def _totals(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in _solutes(scene):
        binding = {
            "n": Quantity("amount", species.id),
            "solvent": Quantity("amount", species.id, Role.SOLVENT),
            "total": Quantity("amount", species.id, Role.SOLUTION),
        }
        yield Instance(law, binding)


TOTAL_AMOUNT = Law(
    id="amount-of-solution",
    title="All amounts together",
    relation=n + solvent - total,
    instances=_totals,
    words={
        "total": "The amounts of solute and solvent together are the whole.",
        "solvent": "What is not solute is solvent.",
        "n": "What is not solvent is solute.",
    },
    source="derived: amounts add up",
    misuses=(
        Misuse(
            "solute-left-out",
            "the solute left out of the total amount",
            "A mole fraction compares with all amounts together: is the solute in your total?",
            solvent - total,
            only_for=frozenset({"total"}),
        ),
    ),
)


def _mole_fractions(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in _solutes(scene):
        whole = Quantity("amount", species.id, Role.SOLUTION)
        masses: dict[str, Expression] = {
            "solute": Quantity("mass", species.id).id,
            "solvent": Quantity("mass", species.id, Role.SOLVENT).id,
        }
        for one, role in ((species.id, Role.PLAIN), (scene.solvent, Role.SOLVENT)):
            turned = masses if not role else {"solute": masses["solvent"], "solvent": masses["solute"]}
            amount = Quantity("amount", species.id, role)
            yield Instance(law, {"x": Quantity("mole_fraction", one), "n": amount, "total": whole}, extra=turned)
    for species in _mixed(scene):
        binding = {"x": Quantity("mole_fraction", species.id), "n": Quantity("amount", species.id), "total": MIXTURE}
        yield Instance(law, binding)


MOLE_FRACTION = Law(
    id="mole-fraction",
    title="Mole fraction",
    relation=x * total - n,
    instances=_mole_fractions,
    words={
        "x": "The amount divided by all amounts together gives the mole fraction.",
        "n": "The mole fraction times all amounts together gives the amount.",
        "total": "The amount divided by the mole fraction gives all amounts together.",
    },
    source="green-book-2007 2.10: amount fraction x",
    misuses=(
        Misuse(
            "fraction-of-masses",
            "masses in the place of amounts in a mole fraction",
            "A mole fraction counts particles: in which unit were the parts compared?",
            x * (solute + solvent) - solute,
            only_for=frozenset({"x"}),
        ),
    ),
)

MIXTURE = Quantity("amount", "", Role.MIXED)
"""All amounts of a mixture without a solvent."""


def _mixed(scene: Scene) -> tuple[Species, ...]:
    """The parts of a mixture that names no solvent: all that is measured out; gases under a pressure are elsewhere."""
    told = _told(scene)
    wanted = any(q.kind == "mole_fraction" for q in told)
    if scene.solvent or not wanted or _is_gaseous(scene):
        return ()
    measured = {q.of for q in scene.given if q.kind in EXTENSIVE and q.of and not q.role}
    parts = tuple(s for s in scene.species.values() if s.id in measured and not s.coefficient)
    return parts if len(parts) > 1 else ()


def _mixture_totals(law: Law, scene: Scene) -> Iterator[Instance]:
    parts = _mixed(scene)
    if parts:
        amounts = [Quantity("amount", species.id).id for species in parts]
        yield Instance(law, {"total": MIXTURE}, direct={"total": ("add", *amounts)})


MIXTURE_AMOUNT = Law(
    id="mixture-amount",
    title="All amounts of the mixture",
    relation=None,
    instances=_mixture_totals,
    words={"total": "The amounts of all parts together are the whole."},
    source="derived: amounts add up",
)


def _molalities(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        molality = Quantity("molality", species.id)
        if molality in _told(scene):
            binding = {
                "b": molality,
                "n": Quantity("amount", species.id),
                "solvent": Quantity("mass", species.id, Role.SOLVENT),
            }
            extra: dict[str, Expression] = {
                "solution": Quantity("mass", species.id, Role.SOLUTION).id,
                "solute": Quantity("mass", species.id).id,
                "V": Quantity("volume", species.id, Role.SOLUTION).id,
            }
            yield Instance(law, binding, extra=extra)


MOLALITY = Law(
    id="molality",
    title="Molality",
    relation=b * solvent - n,
    instances=_molalities,
    words={
        "b": "The amount of the solute divided by the mass of the solvent gives the molality.",
        "n": "The molality times the mass of the solvent gives the amount of the solute.",
        "solvent": "The amount of the solute divided by the molality gives the mass of the solvent.",
    },
    source="green-book-2007 2.10: molality b",
    misuses=(
        Misuse(
            "solution-for-solvent",
            "the solution taken for the solvent",
            "Molality counts per kilogram of only one part of the solution: of which?",
            b * (solute + solvent) - n,
            only_for=frozenset({"b"}),
        ),
        Misuse(
            "litres-for-kilograms",
            "litres of solution taken for kilograms of solvent",
            "Molality is not amount concentration: what stands below the line?",
            1000 * b * V - n,
            only_for=frozenset({"b"}),
        ),
        Misuse(
            "grams-as-kilograms",
            "grams taken as kilograms",
            "Molality is per kilogram: in which unit did the mass enter?",
            1000 * b * solvent - n,
        ),
    ),
)


def _bases(law: Law, scene: Scene) -> Iterator[Instance]:
    """A handy portion where only contents are told: whatever its size, the contents are the same."""
    for species in scene.species.values():
        basis = _basis_of(scene, species)
        if basis is not None:
            letter, quantity, size = basis
            yield Instance(law, {letter: quantity}, direct={letter: ("num", size)})


def _basis_of(scene: Scene, species: Species) -> tuple[str, Quantity, str] | None:
    """The letter, the quantity and the size of a species' portion; None where one is told, or none is needed."""
    if species.id == scene.solvent or _is_gaseous(scene):
        return None
    own = {q for q in _told(scene) if q.of == species.id or (scene.solvent and q.of == scene.solvent)}
    told, given = {q.kind for q in own}, {q.kind for q in own & scene.given}
    return None if told & EXTENSIVE or not told & CONTENTS else _basis(species.id, given)


def _basis(solute_id: str, given: set[str]) -> tuple[str, Quantity, str] | None:
    if "mass_fraction" in given:
        return "solution", Quantity("mass", solute_id, Role.SOLUTION), "100"
    if "molality" in given:
        return "solvent", Quantity("mass", solute_id, Role.SOLVENT), "1000"
    if "mole_fraction" in given:
        return "total", Quantity("amount", solute_id, Role.SOLUTION), "1"
    return ("V", Quantity("volume", solute_id, Role.SOLUTION), "1") if given & PER_VOLUME else None


BASIS = Law(
    id="basis",
    title="A portion to work with",
    relation=None,
    instances=_bases,
    words={
        "solution": "Any portion has the same contents: take 100 g of the solution.",
        "solvent": "Any portion has the same contents: take the solution that holds 1 kg of the solvent.",
        "total": "Any portion has the same contents: take one mole in all.",
        "V": "Any portion has the same contents: take 1 L of the solution.",
    },
    source="common-practice: contents do not depend on the size of the portion",
    rounding="none",
)


def _shares_of_portion(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in scene.species.values():
        basis = _basis_of(scene, species)
        if basis is not None and basis[0] == "solution":
            binding = {
                "m": Quantity("mass", species.id),
                "w": Quantity("mass_fraction", species.id),
                "solution": basis[1],
            }
            yield Instance(law, binding)


SHARE_OF_PORTION = Law(
    id="share-of-portion",
    title="Grams in a hundred grams",
    relation=w * solution - m,
    instances=_shares_of_portion,
    words={"m": "In 100 g of the solution the percentages are grams."},
    source="green-book-2007 2.10: mass fraction w",
)


LAWS = (
    BASIS,
    SHARE_OF_PORTION,
    MASS_OF_SOLVENT,
    AMOUNT_OF_SOLVENT,
    TOTAL_AMOUNT,
    MIXTURE_AMOUNT,
    MOLE_FRACTION,
    MOLALITY,
)
