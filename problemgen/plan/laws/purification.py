"""After the reaction: losses on purification, and spots on a plate."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.model.problem import Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, letters

__all__ = ["LAWS"]

R, before, after, lost, pure, actual = letters("R before after lost pure actual")
F, spot, front, edge, start = letters("F spot front edge start")

_STAGES = {
    Role.PLAIN: (Role.CRUDE, Role.PURE),
    Role.FIRST: (Role.CRUDE, Role.PURIFIED),
    Role.SECOND: (Role.PURIFIED, Role.PURE),
}
"""A recovery's role, and the stages that it compares."""


def _told_roles(scene: Scene, *roles: Role) -> Iterator[str]:
    """The species of which a quantity in one of these roles is given or asked for."""
    told = {(quantity.of, quantity.role) for quantity in scene.given | scene.wanted}
    yield from (species for species in scene.species if any((species, role) in told for role in roles))


def _recoveries(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in _told_roles(scene, Role.CRUDE, Role.PURIFIED, Role.PURE):
        for role, (first, second) in _STAGES.items():
            binding = {
                "R": Quantity("recovery", species, role),
                "before": Quantity("mass", species, first),
                "after": Quantity("mass", species, second),
            }
            yield Instance(law, binding)


RECOVERY = Law(
    id="recovery",
    title="Recovery on purification",
    relation=R * before - after,
    instances=_recoveries,
    words={
        "R": "What is left after purification over what went into it is the recovery.",
        "after": "The recovery times what goes into the purification is what comes out of it.",
        "before": "What comes out of the purification over the recovery is what has to go in.",
    },
    source="common-practice: recovery, what comes out of a purification over what went in",
    misuses=(
        Misuse(
            "recovery-inverted",
            "recovery upside down",
            "Does purifying give more than went into it? What belongs below the line?",
            R * after - before,
        ),
        Misuse(
            "loss-for-recovery",
            "the loss taken for the recovery",
            "Was the question what is kept, or what is lost?",
            (1 - R) * before - after,
        ),
    ),
)


def _overall(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in _told_roles(scene, Role.CRUDE, Role.PURIFIED, Role.PURE, Role.FIRST, Role.SECOND):
        binding = {
            "R": Quantity("recovery", species),
            "before": Quantity("recovery", species, Role.FIRST),
            "after": Quantity("recovery", species, Role.SECOND),
        }
        yield Instance(law, binding)


OVERALL_RECOVERY = Law(
    id="overall-recovery",
    title="Recovery over both purifications",
    relation=before * after - R,
    instances=_overall,
    words={
        "R": "The second purification works on what the first has left: the recoveries multiply.",
        "before": "The overall recovery over that of the second purification is that of the first.",
        "after": "The overall recovery over that of the first purification is that of the second.",
    },
    source="derived: a share of a share is their product",
    misuses=(
        Misuse(
            "losses-added",
            "the losses added",
            "The second purification loses a part of what the first has left, not of what went into the first.",
            before + after - 1 - R,
        ),
    ),
)


def _losses(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in _told_roles(scene, Role.LOST):
        names = {"before": Role.CRUDE, "after": Role.PURE, "lost": Role.LOST}
        yield Instance(law, {letter: Quantity("mass", species, role) for letter, role in names.items()})


LOSS = Law(
    id="loss",
    title="Loss on purification",
    relation=before - after - lost,
    instances=_losses,
    words={
        "lost": "What went into the purification and did not come out of it is lost.",
        "after": "What is not lost is left.",
    },
    source="derived: masses add up",
)


def _pure_products(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in _told_roles(scene, Role.PURE):
        obtained = Quantity("mass", species, Role.ACTUAL)
        if obtained not in scene.given:
            binding = {"actual": obtained, "pure": Quantity("mass", species, Role.PURE)}
            yield Instance(law, binding, extra={"before": Quantity("mass", species, Role.CRUDE).id})


PURE_PRODUCT = Law(
    id="pure-product",
    title="What counts as obtained",
    relation=actual - pure,
    instances=_pure_products,
    words={
        "actual": "The pure product counts as what is obtained.",
        "pure": "The pure product counts as what is obtained.",
    },
    source="common-practice: the pure product counts as what is obtained",
    misuses=(
        Misuse(
            "crude-for-pure",
            "the crude product taken for the pure one",
            "A yield counts the pure product: which of the weighings is that?",
            actual - before,
            only_for=frozenset({"actual"}),
        ),
    ),
)


def _plate(scene: Scene, species: str, *roles: Role) -> str:
    """The species whose distances in one of these roles hold for a spot's plate: itself, or another on the plate."""
    given = [name for name in scene.species if any(Quantity("distance", name, role) in scene.given for role in roles)]
    return species if species in given or not given else given[0]


def _fronts(scene: Scene, species: str) -> str:
    return _plate(scene, species, Role.FRONT, Role.FRONT_EDGE)


def _from_start(law: Law, scene: Scene) -> Iterator[Instance]:
    for species in _told_roles(scene, Role.EDGE, Role.FRONT_EDGE):
        start_line = Quantity("distance", _plate(scene, species, Role.START), Role.START)
        for whole, part in ((Role.EDGE, Role.PLAIN), (Role.FRONT_EDGE, Role.FRONT)):
            owner = species if part == "" else _fronts(scene, species)
            binding = {"edge": Quantity("distance", owner, whole), "spot": Quantity("distance", owner, part)}
            if owner == species:
                yield Instance(law, {**binding, "start": start_line})


FROM_START = Law(
    id="from-starting-line",
    title="Distance from the starting line",
    relation=edge - start - spot,
    instances=_from_start,
    words={"spot": "The distance from the edge less the height of the starting line is the distance travelled."},
    source="ettre-1993: retardation factor, the way of the spot over that of the solvent front",
    misuses=(
        Misuse(
            "measured-from-edge",
            "measured from the edge of the plate",
            "From which line do spot and front start?",
            edge - spot,
            everywhere=True,
        ),
    ),
)


def _retentions(law: Law, scene: Scene) -> Iterator[Instance]:
    told = scene.given | scene.wanted
    fronts = any(quantity.role in (Role.FRONT, Role.FRONT_EDGE) for quantity in told)
    for species in scene.species if fronts else ():
        binding = {
            "F": Quantity("retention_factor", species),
            "spot": Quantity("distance", species),
            "front": Quantity("distance", _fronts(scene, species), Role.FRONT),
        }
        yield Instance(law, binding)


RETENTION = Law(
    id="retention",
    title="Retention factor",
    relation=F * front - spot,
    instances=_retentions,
    words={
        "F": "The distance of the spot over that of the solvent front is the retention factor.",
        "spot": "The retention factor times the distance of the front gives the distance of the spot.",
        "front": "The distance of the spot over the retention factor gives that of the front.",
    },
    source="ettre-1993: retardation factor, the way of the spot over that of the solvent front",
    misuses=(
        Misuse(
            "retention-inverted",
            "retention factor upside down",
            "Can a spot travel further than the solvent?",
            F * spot - front,
        ),
        Misuse(
            "rest-of-the-way",
            "the way from spot to front taken for that of the spot",
            "From where to where did the spot travel?",
            F * front - (front - spot),
        ),
    ),
)


LAWS = (RECOVERY, OVERALL_RECOVERY, LOSS, PURE_PRODUCT, FROM_START, RETENTION)
