"""How laws are declared: one table a law, in the notation of a textbook, with its usual errors beside it.

    DENSITY = law(
        "density",
        N_("Density"),
        "m = rho V",
        where={"m": "mass(X)", "V": "volume(X)", "rho": "density(X)"},
        says={"m": N_("The volume times the density gives the mass."), …},
        source="green-book-2007 2.2: ρ = m/V",
        errors=(
            error("density-forgotten", "(m in g) = (V in mL)", N_("density left out"), N_("A volume is …"), at="m V"),
        ),
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
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import lru_cache
from typing import TypeAlias

from problemgen.model.expression import Expression
from problemgen.model.plan import Rounding
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import Quantity, read_quantity
from problemgen.plan.law import Instance, Law, Misuse
from problemgen.plan.notation import are_formulas, formulas_of, letters_of

__all__ = ["Bindings", "Each", "Place", "by", "error", "every_species", "law", "told"]


@dataclass(frozen=True)
class Place:
    """Where a law is met: the substances, the role, and what else a table leaves open.

    `values` binds letters to expressions or numbers; `words` fills in what stands in braces; `nu` is the coefficient.
    """

    x: str = ""
    y: str = ""
    z: str = ""
    role: str = ""
    nu: int = 1
    words: Mapping[str, str] = field(default_factory=dict)
    values: Mapping[str, Expression | Fraction] = field(default_factory=dict)


Each: TypeAlias = Callable[[Scene], Iterable[str | Species | Quantity | Place]]
"""The places in a problem where a law is met, in order."""

Bindings: TypeAlias = Callable[[Law, Scene], Iterable[Instance]]
"""The instances of a law that no table can tell."""


def every_species(scene: Scene) -> Iterable[str]:
    """All species of a problem."""
    return scene.species


def told(scene: Scene) -> frozenset[Quantity]:
    """All quantities that a problem speaks of: what is given, and what is asked."""
    return scene.given | scene.wanted


def error(
    id: str,  # noqa: A002 - what it is called everywhere
    relation: str | None,
    title: str,
    hint: str,
    *,
    at: str = "",
    everywhere: bool = False,
    harmless: bool = False,
) -> Misuse:
    """A usual error: what is worked in the law's place, what it is called, and what the student is told to look at.

    `relation` is an equation, solved for the letter sought, or formulas with ":="; None where the instances bring
    them. `at` are the letters that it is made in working out, "" for all. The rest is told by `Misuse`.
    """
    return Misuse(id, title, hint, relation, everywhere, harmless, frozenset(at.split()))


def by(one: Misuse, relation: str | None, *, at: str = "") -> Misuse:
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
    errors: Sequence[Misuse] = (),
    rounding: Rounding = "figures",
) -> Law:
    """A law of the plan; the module's docstring tells how it reads.

    `given`, `told`, `asked` name letters: the law is met only where the problem gives, gives or asks for, or asks for
    the quantities of all of them. `instances` is in the place of `where` for what no table can tell.
    """
    words: dict[str, str] = {}
    formulas: dict[str, Expression] = {}
    for key, sentence in says.items():
        found = formulas_of(key) if are_formulas(key) else {}
        formulas |= found
        words |= dict.fromkeys(found or (key,), sentence)
    if instances is None:
        conditions = tuple(tuple(letters.split()) for letters in (given, told, asked))
        bound = (*letters_of(relation), *formulas) if relation else tuple(words)
        instances = _Table(where or {}, frozenset(bound), each, *conditions)
    return Law(id, title, relation or None, instances, words, source, tuple(errors), rounding, formulas)


class _Table:
    """The instances of a law by its table."""

    def __init__(
        self,
        where: Mapping[str, str],
        bound: frozenset[str],
        each: Each,
        given: Sequence[str],
        told: Sequence[str],
        asked: Sequence[str],
    ) -> None:
        self._each, self._bound = each, bound
        self._where = tuple((letter, _read(text)) for letter, text in where.items())
        self._given, self._told, self._asked = given, told, asked

    def __call__(self, law: Law, scene: Scene) -> Iterator[Instance]:
        """The instances in a problem, in the order of the places."""
        for found in self._each(scene):
            place = _place(found)
            letters = {letter: quantity for letter, name in self._where if (quantity := name.at(place)) is not None}
            if self._is_met(scene, letters):
                binding = {letter: quantity for letter, quantity in letters.items() if letter in self._bound}
                looked_up = {letter: quantity.id for letter, quantity in letters.items() if letter not in self._bound}
                yield Instance(law, binding, place.nu, extra={**looked_up, **place.values})

    def _is_met(self, scene: Scene, letters: Mapping[str, Quantity]) -> bool:
        return (
            all(letters[one] in scene.given for one in self._given)
            and all(letters[one] in scene.given or letters[one] in scene.wanted for one in self._told)
            and all(letters[one] in scene.wanted for one in self._asked)
        )


def _place(found: str | Species | Quantity | Place) -> Place:
    match found:
        case Place():
            return found
        case Species():
            return Place(found.id, nu=found.nu)
        case Quantity():
            return Place(found.of, role=found.written_role)
    return Place(found)


@dataclass(frozen=True)
class _Name:
    """A quantity's name with places to fill in: `mass(X,*)`."""

    kind: str
    of: str
    role: str

    def at(self, place: Place) -> Quantity | None:
        """The quantity at a place; None where a substance is left empty."""
        of = {"X": place.x, "Y": place.y, "Z": place.z}.get(self.of, self.of)
        if not of and self.of in ("Y", "Z"):
            return None
        others = {"*": place.role, "from:Y": f"from:{place.y}", "from:Z": f"from:{place.z}"}
        kind, role = self.kind, others.get(self.role, self.role)
        if "{" in kind or "{" in role:
            for word, text in place.words.items():
                kind, role = (one.replace(f"{{{word}}}", text) for one in (kind, role))
        return None if "{" in kind or "{" in role else _quantity(kind, of, role)


def _read(text: str) -> _Name:
    kind, _, inside = text.partition("(")
    of, _, role = inside.removesuffix(")").partition(",")
    return _Name(kind, of, role)


_quantity = lru_cache(maxsize=8192)(read_quantity)
