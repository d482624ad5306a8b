"""After the reaction: losses on purification, and spots on a plate."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.language.messages import N_
from problemgen.model.problem import Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.table import Place, error, law

__all__ = ["LAWS"]


def _told_roles(scene: Scene, *roles: Role) -> Iterator[str]:
    """The species of which a quantity in one of these roles is given or asked for."""
    named = {(quantity.of, quantity.role) for quantity in scene.told}
    yield from (species for species in scene.species if any((species, role) in named for role in roles))


def _stages(scene: Scene) -> Iterator[Place]:
    """A recovery's role, and the stages that it compares."""
    for species in _told_roles(scene, Role.CRUDE, Role.PURIFIED, Role.PURE):
        yield Place(species, role=Role.PLAIN, words={"before": Role.CRUDE, "after": Role.PURE})
        yield Place(species, role=Role.FIRST, words={"before": Role.CRUDE, "after": Role.PURIFIED})
        yield Place(species, role=Role.SECOND, words={"before": Role.PURIFIED, "after": Role.PURE})


RECOVERY = law(
    "recovery", N_("Recovery on purification"), "R = after / before",
    where={"R": "recovery(X,*)", "before": "mass(X,{before})", "after": "mass(X,{after})"}, each=_stages,
    says={
        "R": N_("What is left after purification over what went into it is the recovery."),
        "after": N_("The recovery times what goes into the purification is what comes out of it."),
        "before": N_("What comes out of the purification over the recovery is what has to go in."),
    },
    source="common-practice: recovery, what comes out of a purification over what went in",
    errors=[
        error("recovery-inverted", "R = before / after", N_("recovery upside down"),
              N_("Does purifying give more than went into it? What belongs below the line?")),
        error("loss-for-recovery", "1 - R = after / before", N_("the loss taken for the recovery"),
              N_("Was the question what is kept, or what is lost?")),
    ],
)  # fmt: skip


def _twice_purified(scene: Scene) -> Iterator[str]:
    return _told_roles(scene, Role.CRUDE, Role.PURIFIED, Role.PURE, Role.FIRST, Role.SECOND)


OVERALL_RECOVERY = law(
    "overall-recovery", N_("Recovery over both purifications"), "R = before after",
    where={"R": "recovery(X)", "before": "recovery(X,first)", "after": "recovery(X,second)"}, each=_twice_purified,
    says={
        "R": N_("The second purification works on what the first has left: the recoveries multiply."),
        "before": N_("The overall recovery over that of the second purification is that of the first."),
        "after": N_("The overall recovery over that of the first purification is that of the second."),
    },
    source="derived: a share of a share is their product",
    errors=[
        error("losses-added", "R = before + after - 1", N_("the losses added"),
              N_("The second purification loses a part of what the first has left, not of what went into the first.")),
    ],
)  # fmt: skip

LOSS = law(
    "loss", N_("Loss on purification"), "lost = before - after",
    where={"before": "mass(X,crude)", "after": "mass(X,pure)", "lost": "mass(X,lost)"},
    each=lambda scene: _told_roles(scene, Role.LOST, Role.COLD),
    says={
        "lost": N_("What went into the purification and did not come out of it is lost."),
        "after": N_("What is not lost is left."),
    },
    source="derived: masses add up",
)  # fmt: skip


def _weighed_pure(scene: Scene) -> Iterator[str]:
    for species in _told_roles(scene, Role.PURE):
        if Quantity("mass", species, Role.ACTUAL) not in scene.given:
            yield species


PURE_PRODUCT = law(
    "pure-product", N_("What counts as obtained"), "actual = pure",
    where={"actual": "mass(X,actual)", "pure": "mass(X,pure)", "crude": "mass(X,crude)"}, each=_weighed_pure,
    says={
        "actual": N_("The pure product counts as what is obtained."),
        "pure": N_("The pure product counts as what is obtained."),
    },
    source="common-practice: the pure product counts as what is obtained",
    errors=[
        error("crude-for-pure", "actual = crude", N_("the crude product taken for the pure one"),
              N_("A yield counts the pure product: which of the weighings is that?"), at="actual"),
    ],
)  # fmt: skip


def _plate(scene: Scene, species: str, *roles: Role) -> str:
    """The species whose distances in one of these roles hold for a spot's plate: itself, or another on the plate."""
    given = [name for name in scene.species if any(Quantity("distance", name, role) in scene.given for role in roles)]
    return species if species in given or not given else given[0]


def _fronts(scene: Scene, species: str) -> str:
    return _plate(scene, species, Role.FRONT, Role.FRONT_EDGE)


def _from_edge(scene: Scene) -> Iterator[Place]:
    """Y is what the starting line of the plate is told for."""
    for species in _told_roles(scene, Role.EDGE, Role.FRONT_EDGE):
        line = _plate(scene, species, Role.START)
        yield Place(species, line, words={"edge": Role.EDGE, "way": Role.PLAIN})
        if species == _fronts(scene, species):
            yield Place(species, line, words={"edge": Role.FRONT_EDGE, "way": Role.FRONT})


FROM_START = law(
    "from-starting-line", N_("Distance from the starting line"), "spot = edge - start",
    where={"edge": "distance(X,{edge})", "spot": "distance(X,{way})", "start": "distance(Y,start)"}, each=_from_edge,
    says={"spot": N_("The distance from the edge less the height of the starting line is the distance travelled.")},
    source="ettre-1993: retardation factor, the way of the spot over that of the solvent front",
    errors=[
        error("measured-from-edge", "spot = edge", N_("measured from the edge of the plate"),
              N_("From which line do spot and front start?"), everywhere=True),
    ],
)  # fmt: skip


def _spots(scene: Scene) -> Iterator[Place]:
    """Y is what the solvent front of the plate is told for."""
    if any(quantity.role in (Role.FRONT, Role.FRONT_EDGE) for quantity in scene.told):
        yield from (Place(species, _fronts(scene, species)) for species in scene.species)


RETENTION = law(
    "retention", N_("Retention factor"), "F = spot / front",
    where={"F": "retention_factor(X)", "spot": "distance(X)", "front": "distance(Y,front)"}, each=_spots,
    says={
        "F": N_("The distance of the spot over that of the solvent front is the retention factor."),
        "spot": N_("The retention factor times the distance of the front gives the distance of the spot."),
        "front": N_("The distance of the spot over the retention factor gives that of the front."),
    },
    source="ettre-1993: retardation factor, the way of the spot over that of the solvent front",
    errors=[
        error("retention-inverted", "F = front / spot", N_("retention factor upside down"),
              N_("Can a spot travel further than the solvent?")),
        error("rest-of-the-way", "F = (front - spot) / front",
              N_("the way from spot to front taken for that of the spot"),
              N_("From where to where did the spot travel?")),
    ],
)  # fmt: skip

LAWS = (RECOVERY, OVERALL_RECOVERY, LOSS, PURE_PRODUCT, FROM_START, RETENTION)
