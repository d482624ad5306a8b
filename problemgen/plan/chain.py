"""Chaining the laws from what is given to what is asked.

Laws are tried in layers: whatever one step can reach from what is known, then what a further step can reach, and
so on. The first law to reach a quantity yields it, so chains are short, and the same for the same problem. What
the asked quantities do not need is dropped.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from problemgen.errors import UnderivableError
from problemgen.model.expression import Expression, names_in
from problemgen.model.plan import Plan, Rounding, Step
from problemgen.model.problem import Asked, Constant, Scene, Species
from problemgen.model.quantity import KINDS, Quantity, Role
from problemgen.plan.forms import form_of
from problemgen.plan.law import Instance, Law
from problemgen.plan.laws import AMONG_REAGENTS, BY_EQUATION, LAWS
from problemgen.plan.laws.formulas import HUNDRED, SAMPLE
from problemgen.plan.mistakes import find_mistakes
from problemgen.plan.recent import Recent
from problemgen.plan.routes import with_routes

__all__ = ["chain", "derivable", "describe"]

_COMPARING = ("excess", "equivalents")
"""Kinds that compare what is taken of a reagent with what another one asks for."""


_KEPT = 12
"""Scenes whose chains are kept: a template has some (its own, that of all that can be asked, one a reagent), and these
stay the same while its ranges are changed over and over.
"""


@dataclass(frozen=True)
class Derivation:
    """A step, with the instance of the law that yields it."""

    step: Step
    instance: Instance


def chain(scene: Scene, asked: Iterable[Asked], constants: Iterable[Constant] = ()) -> Plan:
    """The plan of a problem.

    `constants` are those beside the scene's atomic weights (the gas constant, the Avogadro constant).

    Raises:
        UnderivableError: for an asked quantity that no chain of laws reaches; the message says what is missing.
    """
    asked, constants = tuple(asked), tuple(constants)
    return _CHAINS.of((_ordered(scene), asked, constants), lambda: _chain(scene, asked, constants))


def _chain(scene: Scene, asked: tuple[Asked, ...], constants: tuple[Constant, ...]) -> Plan:
    planned = tuple(a for a in asked if form_of(a).rests_on_plan)
    reach = _reached(scene, planned, constants)
    _refuse_underivable(reach, asked)
    plan = _plan(reach.scene, asked, _needed(reach.scene, planned, reach.found), reach.fixed)
    return with_routes(plan, reach.instances, reach.fixed)


def derivable(
    scene: Scene, candidates: Iterable[Asked], constants: Iterable[Constant] = ()
) -> dict[Asked, frozenset[str]]:
    """Those of some questions that can be asked, in their order: each with the ids of the given values it rests on.

    All are looked at together: a law that one question brings in may help another, so a plan of some of them may be
    refused all the same.
    """
    candidates = tuple(one for one in candidates if form_of(one).rests_on_plan)
    reach = _reached(scene, candidates, tuple(constants))
    given = frozenset(quantity.id for quantity in scene.given)
    return {
        one: given & _names(d.step.expression for d in _needed(reach.scene, [one], reach.found))
        for one in candidates
        if one.quantity.id in reach.found
        and not form_of(one).lacking(reach.scene, one)
        and not _unmeasured(reach.scene, one.quantity, reach.measured)
    }


@dataclass(frozen=True)
class _Reach:
    """What the laws reach in a scene with all that is wanted of it; `measured` are the reagents with known amounts."""

    scene: Scene
    instances: Sequence[Instance]
    found: Mapping[str, Derivation]
    fixed: Mapping[str, Constant]
    measured: frozenset[str]

    @property
    def known(self) -> set[str]:
        """The ids of all quantities that are given, fixed or reached."""
        return {q.id for q in self.scene.given} | set(self.found) | set(self.fixed)


_CHAINS, _REACHES = Recent[Plan](_KEPT), Recent[_Reach](_KEPT)


def _ordered(scene: Scene) -> tuple[object, ...]:
    """A scene as scenes are compared: the order of species and weights is that of the steps, and dicts have none."""
    return scene, tuple(scene.species), tuple(scene.weights)


def _reached(scene: Scene, planned: tuple[Asked, ...], constants: tuple[Constant, ...]) -> _Reach:
    return _REACHES.of((_ordered(scene), planned, constants), lambda: _reach_of(scene, planned, constants))


def _reach_of(scene: Scene, planned: tuple[Asked, ...], constants: tuple[Constant, ...]) -> _Reach:
    basis = (HUNDRED,) if scene.unknown and SAMPLE not in scene.given else ()
    fixed = {c.quantity.id: c for c in (*scene.weights.values(), *constants, *basis)}
    scene = replace(scene, wanted=scene.wanted | {a.quantity for a in planned})
    bound = _bound(scene, _LOCAL)
    measured = _measured(scene, fixed, [one for instances in bound.values() for one in instances])
    scene = replace(scene, sources=_sources(scene, measured))
    bound |= _bound(scene, AMONG_REAGENTS)
    instances = [one for law in LAWS for one in bound[law]]
    return _Reach(scene, instances, _reach(scene, fixed, instances), fixed, measured)


def _plan(
    scene: Scene, asked: tuple[Asked, ...], derivations: Sequence[Derivation], fixed: Mapping[str, Constant]
) -> Plan:
    """The plan of these derivations, with the mistakes that can be made in it, and of what is given what it uses."""
    needed = _names(d.step.expression for d in derivations)
    # A mistake may look up what the plan rightly leaves aside: a rough titre, the crude product.
    reachable = needed.union(fixed, (d.step.quantity.id for d in derivations), (q.id for q in scene.given))
    mistakes = find_mistakes([(d.step, d.instance) for d in derivations], reachable)
    used = needed | _names(expression for mistake in mistakes for _, expression in mistake.rewrites)
    asked_for = {one.quantity for one in asked}
    return Plan(
        given=tuple(sorted(q for q in scene.given if q.id in used or q in asked_for)),
        constants=tuple(constant for name, constant in fixed.items() if name in used),
        steps=tuple(d.step for d in derivations),
        asked=asked,
        sources=scene.sources,
        mistakes=mistakes,
    )


def _names(expressions: Iterable[Expression]) -> frozenset[str]:
    """The ids of all quantities in some expressions."""
    return frozenset(name for expression in expressions for name in names_in(expression))


_LOCAL = tuple(law for law in LAWS if law not in BY_EQUATION)
"""The laws that stay with one substance or sample."""


def _measured(scene: Scene, fixed: Mapping[str, Constant], local: Sequence[Instance]) -> frozenset[str]:
    """The reagents whose amounts follow from what is given, without the equation: by the instances of local laws."""
    if not scene.reagents:
        return frozenset()
    known = {q.id for q in scene.given} | _reach(scene, fixed, local).keys()
    return frozenset(species.id for species in scene.reagents if Quantity("amount", species.id).id in known)


def _sources(scene: Scene, measured: frozenset[str]) -> tuple[str, ...]:
    """The reagents that compete, in the order of the equation; none do in a mixture."""
    if any(equation.beside for equation in scene.further):
        return ()
    return tuple(s.id for s in scene.reagents if s.id in measured and s.id not in scene.in_excess)


def _bound(scene: Scene, laws: Iterable[Law]) -> dict[Law, tuple[Instance, ...]]:
    """The laws, each bound to the quantities of the problem."""
    return {law: tuple(law.instances(law, scene)) for law in laws}


def _reach(scene: Scene, fixed: Mapping[str, Constant], instances: Sequence[Instance]) -> dict[str, Derivation]:
    """Everything that the laws reach, by quantity id, in the order reached."""
    known = {q.id for q in scene.given} | set(fixed)
    found: dict[str, Derivation] = {}
    waiting = _Waiting(instances, known)
    while True:
        layer: dict[str, Derivation] = {}
        for instance, letter in waiting.ready():
            quantity = instance.binding[letter]
            if quantity.id not in layer:
                step = _step(instance, letter, known)
                if step is not None:
                    layer[quantity.id] = Derivation(step, instance)
        if not layer:
            return found
        found |= layer
        known |= layer.keys()
        waiting.learn(layer)


class _Waiting:
    """Which instances lack what: each is looked at when all but one of its quantities are known, and not before."""

    def __init__(self, instances: Sequence[Instance], known: Container[str]) -> None:
        self._instances = instances
        self._lacking = [[pair for pair in instance.ids if pair[1] not in known] for instance in instances]
        self._ready = {place for place, lacking in enumerate(self._lacking) if len(lacking) == 1}
        self._places: dict[str, list[int]] = {}
        for place, lacking in enumerate(self._lacking):
            for _, name in lacking:
                self._places.setdefault(name, []).append(place)

    def ready(self) -> Iterator[tuple[Instance, str]]:
        """The instances that lack one quantity, in order, each with its letter."""
        return ((self._instances[place], self._lacking[place][0][0]) for place in sorted(self._ready))

    def learn(self, names: Iterable[str]) -> None:
        """Take in that some quantities have become known."""
        for name in names:
            for place in self._places.get(name, ()):
                self._lacking[place] = lacking = [pair for pair in self._lacking[place] if pair[1] != name]
                if len(lacking) == 1:
                    self._ready.add(place)
                else:
                    self._ready.discard(place)


def _step(instance: Instance, letter: str, known: Container[str]) -> Step | None:
    """The step to a letter's quantity; None where the law cannot be solved for it, or looks up what is not known."""
    expression = instance.solution(letter)
    if expression is None or any(name not in known for name in names_in(expression)):
        return None
    rounding: Rounding = "none" if _copies(expression) else instance.law.rounding
    return Step(instance.binding[letter], instance.law.id, letter, expression, rounding)


def _copies(expression: Expression) -> bool:
    """Whether a step only carries a value over, so that nothing is rounded."""
    return isinstance(expression, str)


def _needed(scene: Scene, asked: Iterable[Asked], found: Mapping[str, Derivation]) -> list[Derivation]:
    """The derivations that the asked quantities need, in an order in which a person would work them."""
    ordered: dict[str, Derivation] = {}

    def visit(name: str) -> None:
        if name in found and name not in ordered:
            for needed in names_in(found[name].step.expression):
                visit(needed)
            ordered[name] = found[name]

    for one in asked:
        if one.quantity not in scene.given:
            visit(one.quantity.id)
    return list(ordered.values())


def _refuse_underivable(reach: _Reach, asked: Iterable[Asked]) -> None:
    scene, known, measured = reach.scene, reach.known, reach.measured
    messages = []
    for one in asked:
        lacking = form_of(one).lacking(scene, one)
        if lacking:
            messages.append(lacking)
        elif not form_of(one).rests_on_plan:
            continue
        elif (one.quantity.kind in _COMPARING or one.quantity.id not in known) and (
            unmeasured := _unmeasured(scene, one.quantity, measured)
        ):
            need = " or ".join(f"the amount of {species.name}" for species in unmeasured)
            messages.append(f"{describe(scene, one.quantity)} cannot be told from the equation; missing: {need}")
        elif one.quantity.id not in known:
            options = _missing(scene, one.quantity, known)
            need = " or ".join(" and ".join(describe(scene, q) for q in option) for option in options)
            missing = f"missing: {need}" if need else "no law leads to it"
            messages.append(f"{describe(scene, one.quantity)} cannot be derived from what is given; {missing}")
    if messages:
        raise UnderivableError("\n".join(messages))


def _unmeasured(scene: Scene, quantity: Quantity, measured: frozenset[str]) -> list[Species]:
    """The reagents one of which has to be measured too, where a reagent is compared with what the others need.

    What reacts of a reagent, by the equation, is never beyond what is needed: that would make every excess 0.
    """
    compares = quantity.kind in _COMPARING or quantity.role is Role.LEFT
    own = scene.species.get(quantity.of)
    if not compares or own is None or own.coefficient >= 0 or scene.further:
        return []
    if any((q.of, q.role) == (own.id, Role.PUBLISHED) for q in scene.given):
        return []  # a published batch is compared within itself
    if own.id not in measured:
        return [own]
    others = [species for species in scene.reagents if species.id != own.id]
    return others if scene.sources == (own.id,) else []


def _missing(scene: Scene, quantity: Quantity, known: set[str]) -> list[list[Quantity]]:
    """What would have to be known, one list a law that yields the quantity; the shortest lists, at most three."""
    options: list[list[Quantity]] = []
    for instance in (i for law in LAWS for i in law.instances(law, scene)):
        if quantity in instance.binding.values():
            lacking = [q for q in instance.binding.values() if q != quantity and q.id not in known]
            if lacking and lacking not in options:
                options.append(lacking)
    options.sort(key=len)
    return options[:3]


def describe(scene: Scene, quantity: Quantity) -> str:
    """A quantity in words: "the density of acetic anhydride"."""
    words = KINDS[quantity.kind].words
    told = f"{quantity.role}, stage {quantity.stage}" if quantity.stage else quantity.written_role
    role = f" ({told})" if quantity.role else ""
    if not quantity.of:
        return f"the {words}{role}"
    species = scene.species.get(quantity.of)
    return f"the {words} of {species.name if species else quantity.of}{role}"
