"""How laws are declared: one table a law, in the notation of a textbook, with its usual errors beside it.

    DENSITY = law(
        "density", N_("Density"), "m = rho V",
        where={"m": "mass(X)", "V": "volume(X)", "rho": "density(X)"},
        says={"m": N_("The volume times the density gives the mass."), …},
        source="green-book-2007 2.2: ρ = m/V",
        errors=[
            error("density-forgotten", "(m in g) = (V in mL)", N_("density left out"), N_("A volume is …"), at="m V"),
        ],
    )

`where` tells what each letter stands for, by the names that quantities have everywhere: `mass(X,actual)` is the mass
of X in the role "actual". X, Y and Z are substances, `*` and words in braces are filled in by the place that the law is
met in. `each` tells these places: substances or their ids (then X alone is filled in), quantities (X and `*`), or a
`Place` in full. A letter of which Y, Z or a word in braces is left empty is left out.

`says` has a sentence for each letter that the law is solved for. A formula in the letter's place, `net := more - less`,
is worked as written; then the law is solved for no other letter. Letters that stand neither in the law's relation nor
in front of a formula are looked up where a formula or an error needs them, and the law yields none of them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from types import MappingProxyType
from typing import Any, NamedTuple, TypeAlias

from problemgen.model.expression import Expression
from problemgen.model.plan import Rounding
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import KINDS, Quantity, read_quantity
from problemgen.plan.law import CommonError, Instance, Law
from problemgen.plan.notation import are_formulas, formulas_of, letters_of

__all__ = ["Bindings", "Each", "Place", "by", "error", "every_species", "law"]


_NONE: Mapping[str, Any] = MappingProxyType({})


class Place(NamedTuple):
    """Where a law is met: the substances, the role, and what else a table leaves open.

    `values` binds letters to expressions or numbers; `words` fills in what stands in braces; `nu` is the coefficient.
    """

    x: str = ""
    y: str = ""
    z: str = ""
    role: str = ""
    nu: int = 1
    words: Mapping[str, str] = _NONE
    values: Mapping[str, Expression | Fraction] = _NONE


Each: TypeAlias = Callable[[Scene], Iterable[str | Species | Quantity | Place]]
"""The places in a problem where a law is met, in order."""

Bindings: TypeAlias = Callable[[Law, Scene], Iterable[Instance]]
"""The instances of a law that no table can tell."""


def every_species(scene: Scene) -> Iterable[str]:
    """All species of a problem."""
    return scene.species


def error(
    id: str,  # noqa: A002 - what it is called everywhere
    relation: str | None,
    title: str,
    hint: str,
    *,
    at: str = "",
    everywhere: bool = False,
    harmless: bool = False,
) -> CommonError:
    """A usual error: what is worked in the law's place, what it is called, and what the student is told to look at.

    `relation` is an equation, solved for the letter sought, or formulas with ":="; None where the instances bring
    them. `at` are the letters that it is made in working out, "" for all. The rest is told by `CommonError`.
    """
    return CommonError(id, title, hint, relation, everywhere, harmless, frozenset(at.split()))


def by(one: CommonError, relation: str | None, *, at: str = "") -> CommonError:
    """The same error with another relation, in another law."""
    return replace(one, relation=relation, only_for=frozenset(at.split()))


def law(
    id: str,  # noqa: A002 - what it is called everywhere
    title: str,
    relation: str = "",
    *,
    where: Mapping[str, str] | None = None,
    each: Each = every_species,
    given: str = "",
    told: str = "",
    asked: str = "",
    instances: Bindings | None = None,
    says: Mapping[str, str],
    source: str,
    errors: Sequence[CommonError] = (),
    rounding: Rounding = "figures",
) -> Law:
    """A law of the plan; the module's docstring tells how it reads.

    `given`, `told`, `asked` name letters: the law is met only where the problem gives, gives or asks for, or asks for
    the quantities of all of them. `instances` is in the place of `where` for what no table can tell.

    Raises:
        ValueError: for a sentence about a letter that the relation does not have, and for a quantity of a kind or a
            role that there is not. NotationError: for a relation or a formula that cannot be read.
    """
    words: dict[str, str] = {}
    formulas: dict[str, Expression] = {}
    for key, sentence in says.items():
        found = formulas_of(key) if are_formulas(key) else {}
        formulas |= found
        words |= dict.fromkeys(found or (key,), sentence)
    if relation and not words.keys() <= set(letters_of(relation)):
        raise ValueError(f"{id}: sentences about {', '.join(words)}, where the relation is {relation}")
    if instances is None:
        conditions = {"given": given.split(), "told": told.split(), "asked": asked.split()}
        bound = (*letters_of(relation), *formulas) if relation else tuple(words)
        instances = _Table(where or {}, frozenset(bound), each, conditions)
    return Law(id, title, relation or None, instances, words, source, tuple(errors), rounding, formulas)


_quantity = lru_cache(maxsize=8192)(read_quantity)


class _Table:
    """The instances of a law by its table."""

    def __init__(
        self, where: Mapping[str, str], bound: frozenset[str], each: Each, conditions: Mapping[str, Sequence[str]]
    ) -> None:
        names = {letter: _read(text) for letter, text in where.items()}
        self._each = each
        self._bound = [(letter, name) for letter, name in names.items() if letter in bound]
        self._looked_up = [(letter, name) for letter, name in names.items() if letter not in bound]
        self._conditions = [(told, names[letter]) for told, letters in conditions.items() for letter in letters]

    def __call__(self, law: Law, scene: Scene) -> Iterator[Instance]:
        """The instances in a problem, in the order of the places."""
        for found in self._each(scene):
            place = _place(found)
            if all(_holds(scene, told, name.at(place)) for told, name in self._conditions):
                binding = {letter: one for letter, name in self._bound if (one := name.at(place)) is not None}
                extra = {letter: one.id for letter, name in self._looked_up if (one := name.at(place)) is not None}
                yield Instance(law, binding, place.nu, extra={**extra, **place.values})


def _holds(scene: Scene, told: str, quantity: Quantity | None) -> bool:
    """Whether a problem gives a quantity, or gives or asks for it ("told"), or asks for it."""
    is_given = told != "asked" and quantity in scene.given
    return is_given or (told != "given" and quantity in scene.wanted)


def _place(found: str | Species | Quantity | Place) -> Place:
    if isinstance(found, Place):
        return found
    if isinstance(found, str):
        return Place(found)
    if isinstance(found, Species):
        return Place(found.id, nu=found.nu)
    return Place(found.of, role=found.written_role)


@dataclass(frozen=True)
class _Name:
    """A quantity's name with places to fill in: `mass(X,*)`, `{kind}(Y,from:X)`."""

    kind: str
    of: str
    role: str

    def at(self, place: Place) -> Quantity | None:
        """The quantity at a place; None where something is left empty."""
        of, kind, role = self.of, self.kind, self.role
        if of in ("X", "Y", "Z"):
            of = place.x if of == "X" else place.y if of == "Y" else place.z
            if not of and self.of != "X":
                return None
        if kind.startswith("{"):
            kind = place.words.get(kind[1:-1], "")
        if role == "*":
            role = place.role
        elif role.startswith("{"):
            found = place.words.get(role[1:-1])
            if found is None:
                return None
            role = found
        elif role in ("from:Y", "from:Z"):
            role = f"from:{place.y if role == 'from:Y' else place.z}"
        return _quantity(kind, of, role) if kind else None


def _read(text: str) -> _Name:
    """A name of a table; what it leaves open is filled in later, all else is a kind and a role that there is."""
    kind, _, inside = text.partition("(")
    of, _, role = inside.removesuffix(")").partition(",")
    if not kind.startswith("{") and kind not in KINDS:
        raise ValueError(f"{text!r}: no kind of quantity {kind!r}")
    if not role.startswith(("{", "*", "from:")):
        _quantity("amount", of, role)  # raises for a role that there is not
    return _Name(kind, of, role)
