"""A published procedure on another scale: the factor, equivalents and catalyst, the solvent, the flask."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from problemgen.language.messages import N_
from problemgen.model.expression import Expression
from problemgen.model.problem import Scene
from problemgen.model.quantity import KINDS, TAKEN_ROLES, Quantity, Role
from problemgen.plan.law import Instance, Law
from problemgen.plan.table import Place, error, law

__all__ = ["FLASKS", "FLASK_SHARE", "LAWS", "published_ratio"]

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


def _factors(scene: Scene) -> Iterator[Place]:
    name = _substrate(scene)
    for kind in _KINDS if name else ():
        pair = {Quantity(kind, name), Quantity(kind, name, Role.PUBLISHED)}
        if kind == "amount" or pair <= scene.given:
            yield Place(name, words={"kind": kind})


FACTOR = law(
    "scale-factor", N_("Scale factor"), "f = after / before",
    where={"f": "scale_factor()", "after": "{kind}(X)", "before": "{kind}(X,published)"}, each=_factors,
    says={
        "f": N_("Your scale over the published one is the factor by which everything grows."),
        "after": N_("The factor times the published scale is yours."),
    },
    source="common-practice: a procedure is scaled by one factor, the ratio of the amounts of the limiting reagent",
    errors=[
        error("factor-upside-down", "f = before / after", N_("the scale factor upside down"),
              N_("Is your batch larger than the published one, or smaller? What does your factor say?")),
    ],
)  # fmt: skip


def _published(scene: Scene) -> Iterator[Place]:
    """What is told of the published batch, but for the substance whose own scale is told. Y is a solvent."""
    reference = _substrate(scene)
    for quantity in sorted(scene.given) if reference else ():
        if quantity.role is Role.PUBLISHED and quantity.of != reference and quantity.kind in _KINDS:
            is_solvent = quantity.kind == "volume" and not scene.species[quantity.of].coefficient
            yield Place(quantity.of, quantity.of if is_solvent else "", words={"kind": quantity.kind})


SCALED = law(
    "scaled", N_("What to take on the new scale"), "taken = f before",
    where={"f": "scale_factor()", "before": "{kind}(X,published)", "taken": "{kind}(X,taken)",
           "solvent": "volume(Y,published)"},
    each=_published,
    says={"taken": N_("The factor times what the procedure takes: so nothing changes but the size of the batch.")},
    source="common-practice: amounts, masses and volumes of a batch grow alike, so that concentrations stay",
    errors=[
        error("solvent-not-scaled", "taken := solvent", N_("the solvent not scaled"),
              N_("How concentrated would your mixture be beside the published one?")),
        error("factor-left-out", "taken = before", N_("the scale factor left out"),
              N_("That is what the published batch takes: how large is yours?"), everywhere=True),
        error("factor-divided", "taken = before / f", N_("divided by the scale factor"),
              N_("Does a larger batch take more of it, or less?"), everywhere=True),
    ],
)  # fmt: skip


def _loaded(scene: Scene) -> Iterator[Place]:
    """X is the catalyst, Y the substrate, Z another reagent that is told in equivalents."""
    reference = _substrate(scene)
    for quantity in sorted(scene.given) if reference else ():
        if quantity.kind == "loading":
            others = (q.of for q in sorted(scene.given) if q.kind == "equivalents" and q.of != quantity.of)
            yield Place(quantity.of, reference, next(others, ""), role=quantity.written_role)


BY_LOADING = law(
    "by-loading", N_("Amount of catalyst"), "taken = loading n",
    where={"taken": "amount(X,taken)", "loading": "loading(X,*)", "n": "amount(Y)", "other": "amount(Z,taken)"},
    each=_loaded,
    says={"taken": N_("The loading in mole percent is counted on the substrate: so many hundredths of its amount.")},
    source="common-practice: a catalyst's loading is given in percent of the amount of the substrate",
    errors=[
        error("loading-of-another", "taken = loading other", N_("the loading counted on another reagent"),
              N_("The loading is counted on the substrate: which of the reagents is that?")),
        error("percent-not-divided", "taken = (loading in %) n", N_("percent taken for equivalents"),
              N_("Is the catalyst taken in a larger amount than the substrate?")),
    ],
)  # fmt: skip


def published_ratio(scene: Scene, asked: Quantity) -> Iterator[tuple[Quantity, Quantity]]:
    """What is asked of a published procedure: the amount of the reagent, and that of the substrate; else nothing."""
    reference = _substrate(scene)
    is_of_it = asked in scene.wanted and asked.of != reference and asked.source in ("", reference)
    if reference and is_of_it and any((q.of, q.role) == (asked.of, Role.PUBLISHED) for q in scene.given):
        yield Quantity("amount", asked.of, Role.PUBLISHED), Quantity("amount", reference, Role.PUBLISHED)


def _loadings(scene: Scene) -> Iterator[Place]:
    """X is the catalyst, Y the substrate, Z another reagent of the published batch."""
    for asked in sorted(quantity for quantity in scene.wanted if quantity.kind == "loading"):
        for _, against in published_ratio(scene, asked):
            given = (q.of for q in sorted(scene.given) if q.role is Role.PUBLISHED and scene.species[q.of].coefficient)
            other = next((name for name in given if name != against.of), "")
            yield Place(asked.of, against.of, other, role=asked.written_role)


LOADING = law(
    "loading", N_("Catalyst loading"), "loading = taken / n",
    where={"loading": "loading(X,*)", "taken": "amount(X,published)", "n": "amount(Y,published)",
           "other": "amount(Z,published)"},
    each=_loadings,
    says={"loading": N_("The amount of the catalyst over that of the substrate is its loading, in mole percent.")},
    source=BY_LOADING.source,
    errors=[
        BY_LOADING.errors[0],
        error("loading-upside-down", "loading = n / taken", N_("the loading upside down"),
              N_("Which of the two is there in the smaller amount?")),
    ],
)  # fmt: skip


def _liquids(scene: Scene) -> list[Quantity]:
    """The volumes that share the flask: what is scaled or asked of each liquid."""
    found = []
    for name in scene.species:
        scaled = Quantity("volume", name, Role.PUBLISHED) in scene.given and name != _substrate(scene)
        target = Quantity("volume", name, Role.TAKEN)
        found += [target] if scaled or target in scene.told else []
        found += [own for role in (Role.PLAIN, Role.SOLUTION) if (own := Quantity("volume", name, role)) in scene.told]
    return found


def _totals(law: Law, scene: Scene) -> Iterator[Instance]:
    volumes = _liquids(scene)
    if VESSEL in scene.wanted and volumes:
        ids: list[Expression] = [volume.id for volume in volumes]
        direct: dict[str, Expression] = {"total": ("add", *ids) if len(ids) > 1 else ids[0]}
        yield Instance(law, {"total": LIQUIDS}, direct=direct)


TOTAL = law(
    "liquids", N_("All liquids together"),
    instances=_totals,
    says={"total": N_("All liquids share the flask: their volumes very nearly add up.")},
    source="common-practice: volumes of liquids taken as additive",
)  # fmt: skip


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


FLASK = law(
    "vessel", N_("The flask that fits"),
    instances=_vessels,
    says={
        "vessel": N_("A reaction flask is filled to two thirds at most: the next size that holds half as much again."),
    },
    source="common-practice: a reaction flask is filled to two thirds at most",
    errors=[
        error("filled-to-the-brim", None, N_("the flask filled to the brim"),
              N_("Is there room for stirring and boiling?"), harmless=True),  # the next size is often the same
        error("flask-not-scaled", None, N_("the flask of the published batch"),
              N_("Which batch has to go into the flask?"), harmless=True),
    ],
    rounding="whole",
)  # fmt: skip

LAWS = (FACTOR, SCALED, BY_LOADING, LOADING, TOTAL, FLASK)
