"""A published procedure on another scale: the factor, equivalents and catalyst, the solvent, the flask."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from problemgen.model.expression import Expression
from problemgen.model.problem import Scene
from problemgen.model.quantity import KINDS, TAKEN_ROLES, Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, letters

__all__ = ["FLASKS", "FLASK_SHARE", "LAWS", "published_ratio"]

f, before, after, taken, loading, n, other, total, vessel = letters("f before after taken loading n other total vessel")

FLASKS = (10, 25, 50, 100, 250, 500, 1000, 2000)
"""Capacities of round-bottom flasks in mL: common practice, no source."""

FLASK_SHARE = Fraction(2, 3)
"""How full a reaction flask may be: common practice, no source."""

_TOO_SMALL = Fraction(10**6)
"""What a flask is put back by for each litre that it lacks: more than any flask is large."""

SCALE_FACTOR = Quantity("scale_factor", "")
LIQUIDS = Quantity("volume", "", Role.LIQUIDS)
VESSEL = Quantity("volume", "", Role.VESSEL)

_KINDS = ("amount", "mass", "volume")


def _substrate(scene: Scene) -> str:
    """The substance whose own scale is told beside the published one; "" for none."""
    extensive = {(q.of, q.role) for q in scene.given if KINDS[q.kind].extensive}
    published = (name for name in scene.species if (name, Role.PUBLISHED) in extensive)
    own = (name for name in published if any((name, role) in extensive for role in TAKEN_ROLES))
    return next(own, "")


def _factors(law: Law, scene: Scene) -> Iterator[Instance]:
    name = _substrate(scene)
    for kind in _KINDS if name else ():
        pair = {"after": Quantity(kind, name), "before": Quantity(kind, name, Role.PUBLISHED)}
        if kind == "amount" or scene.given.issuperset(pair.values()):
            yield Instance(law, {"f": SCALE_FACTOR, **pair})


FACTOR = Law(
    id="scale-factor",
    title="Scale factor",
    relation=f * before - after,
    instances=_factors,
    words={
        "f": "Your scale over the published one is the factor by which everything grows.",
        "after": "The factor times the published scale is yours.",
    },
    source="common-practice: a procedure is scaled by one factor, the ratio of the amounts of the limiting reagent",
    misuses=(
        Misuse(
            "factor-upside-down",
            "the scale factor upside down",
            "Is your batch larger than the published one, or smaller? What does your factor say?",
            f * after - before,
        ),
    ),
)


def _scaled(law: Law, scene: Scene) -> Iterator[Instance]:
    reference = _substrate(scene)
    for quantity in sorted(scene.given) if reference else ():
        if quantity.role is Role.PUBLISHED and quantity.of != reference and quantity.kind in _KINDS:
            target = Quantity(quantity.kind, quantity.of, Role.TAKEN)
            is_solvent = quantity.kind == "volume" and not scene.species[quantity.of].coefficient
            mistaken: dict[tuple[str, str], Expression] = (
                {("solvent-not-scaled", "taken"): quantity.id} if is_solvent else {}
            )
            yield Instance(law, {"f": SCALE_FACTOR, "before": quantity, "taken": target}, mistaken=mistaken)


SCALED = Law(
    id="scaled",
    title="What to take on the new scale",
    relation=f * before - taken,
    instances=_scaled,
    words={"taken": "The factor times what the procedure takes: so nothing changes but the size of the batch."},
    source="common-practice: amounts, masses and volumes of a batch grow alike, so that concentrations stay",
    misuses=(
        Misuse(
            "solvent-not-scaled",
            "the solvent not scaled",
            "How concentrated would your mixture be beside the published one?",
            None,
        ),
        Misuse(
            "factor-left-out",
            "the scale factor left out",
            "That is what the published batch takes: how large is yours?",
            before - taken,
            everywhere=True,
        ),
        Misuse(
            "factor-divided",
            "divided by the scale factor",
            "Does a larger batch take more of it, or less?",
            before / f - taken,
            everywhere=True,
        ),
    ),
)


def _by_loading(law: Law, scene: Scene) -> Iterator[Instance]:
    reference = _substrate(scene)
    for quantity in sorted(scene.given) if reference else ():
        if quantity.kind == "loading":
            others = (q.of for q in sorted(scene.given) if q.kind == "equivalents" and q.of != quantity.of)
            beside = next((Quantity("amount", name, Role.TAKEN) for name in others), None)
            binding = {
                "taken": Quantity("amount", quantity.of, Role.TAKEN),
                "loading": quantity,
                "n": Quantity("amount", reference),
            }
            yield Instance(law, binding, extra={"other": beside.id} if beside else {})


BY_LOADING = Law(
    id="by-loading",
    title="Amount of catalyst",
    relation=loading * n - taken,
    instances=_by_loading,
    words={"taken": "The loading in mole percent is counted on the substrate: so many hundredths of its amount."},
    source="common-practice: a catalyst's loading is given in percent of the amount of the substrate",
    misuses=(
        Misuse(
            "loading-of-another",
            "the loading counted on another reagent",
            "The loading is counted on the substrate: which of the reagents is that?",
            loading * other - taken,
        ),
        Misuse(
            "percent-not-divided",
            "percent taken for equivalents",
            "Is the catalyst taken in a larger amount than the substrate?",
            100 * loading * n - taken,
        ),
    ),
)


def published_ratio(scene: Scene, asked: Quantity) -> Iterator[tuple[Quantity, Quantity]]:
    """What is asked of a published procedure: the amount of the reagent, and that of the substrate; else nothing."""
    reference = _substrate(scene)
    is_of_it = asked in scene.wanted and asked.of != reference and asked.source in ("", reference)
    if reference and is_of_it and any((q.of, q.role) == (asked.of, Role.PUBLISHED) for q in scene.given):
        yield Quantity("amount", asked.of, Role.PUBLISHED), Quantity("amount", reference, Role.PUBLISHED)


def _loadings(law: Law, scene: Scene) -> Iterator[Instance]:
    asked_for = ((q, pair) for q in sorted(scene.wanted) if q.kind == "loading" for pair in published_ratio(scene, q))
    for asked, (own, against) in asked_for:
        given = (q for q in sorted(scene.given) if q.role is Role.PUBLISHED and scene.species[q.of].coefficient)
        beside = next((Quantity("amount", q.of, Role.PUBLISHED) for q in given if q.of != against.of), None)
        binding = {"loading": asked, "taken": own, "n": against}
        yield Instance(law, binding, extra={"other": beside.id} if beside else {})


LOADING = Law(
    id="loading",
    title="Catalyst loading",
    relation=loading * n - taken,
    instances=_loadings,
    words={"loading": "The amount of the catalyst over that of the substrate is its loading, in mole percent."},
    source=BY_LOADING.source,
    misuses=(
        BY_LOADING.misuses[0],
        Misuse(
            "loading-upside-down",
            "the loading upside down",
            "Which of the two is there in the smaller amount?",
            loading * taken - n,
        ),
    ),
)


def _liquids(scene: Scene) -> list[Quantity]:
    """The volumes that share the flask: what is scaled or asked of each liquid."""
    told = scene.given | scene.wanted
    found = []
    for name in scene.species:
        scaled = Quantity("volume", name, Role.PUBLISHED) in scene.given and name != _substrate(scene)
        target = Quantity("volume", name, Role.TAKEN)
        found += [target] if scaled or target in told else []
        found += [own for role in (Role.PLAIN, Role.SOLUTION) if (own := Quantity("volume", name, role)) in told]
    return found


def _totals(law: Law, scene: Scene) -> Iterator[Instance]:
    volumes = _liquids(scene)
    if VESSEL in scene.wanted and volumes:
        ids: list[Expression] = [volume.id for volume in volumes]
        direct: dict[str, Expression] = {"total": ("add", *ids) if len(ids) > 1 else ids[0]}
        yield Instance(law, {"total": LIQUIDS}, direct=direct)


TOTAL = Law(
    id="liquids",
    title="All liquids together",
    relation=None,
    instances=_totals,
    words={"total": "All liquids share the flask: their volumes very nearly add up."},
    source="common-practice: volumes of liquids taken as additive",
)


def _vessels(law: Law, scene: Scene) -> Iterator[Instance]:
    if VESSEL in scene.wanted:
        published = [one for one in sorted(scene.given) if one.role is Role.PUBLISHED and one.kind == "volume"]
        needs: Expression = ("div", LIQUIDS.id, ("num", str(FLASK_SHARE)))
        mistaken: dict[tuple[str, str], Expression] = {("filled-to-the-brim", "vessel"): _smallest(LIQUIDS.id)}
        if len(published) == 1:
            small: Expression = ("div", published[0].id, ("num", str(FLASK_SHARE)))
            mistaken["flask-not-scaled", "vessel"] = _smallest(small)
        yield Instance(law, {"vessel": VESSEL}, direct={"vessel": _smallest(needs)}, mistaken=mistaken)


def _smallest(need: Expression) -> Expression:
    """The smallest flask that holds a volume: each one is put back by what it lacks."""
    pairs = []
    for millilitres in FLASKS:
        size: Expression = ("num", str(Fraction(millilitres, 1000)))
        lack: Expression = ("max", ("num", "0"), ("add", need, ("neg", size)))
        pairs.append((("add", size, ("mul", ("num", str(_TOO_SMALL)), lack)), size))
    return ("least", *pairs)


FLASK = Law(
    id="vessel",
    title="The flask that fits",
    relation=None,
    instances=_vessels,
    words={"vessel": "A reaction flask is filled to two thirds at most: the next size that holds half as much again."},
    source="common-practice: a reaction flask is filled to two thirds at most",
    misuses=(
        Misuse(
            "filled-to-the-brim",
            "the flask filled to the brim",
            "Is there room for stirring and boiling?",
            None,
            harmless=True,  # the next size is often the same
        ),
        Misuse(
            "flask-not-scaled",
            "the flask of the published batch",
            "Which batch has to go into the flask?",
            None,
            harmless=True,
        ),
    ),
    rounding="whole",
)

LAWS = (FACTOR, SCALED, BY_LOADING, LOADING, TOTAL, FLASK)
