"""Differences of two titrations: a sample beside its blank, the total base of an organometallic beside the residual."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.language.messages import N_
from problemgen.model.problem import Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.laws.back_titrations import titrated_back
from problemgen.plan.table import Place, error, law

__all__ = ["LAWS"]


def _titrants(scene: Scene) -> Iterator[tuple[str, bool]]:
    """The titrants of which a blank is told, and whether they titrate back: then the blank takes more."""
    back = {one.titrant for one in titrated_back(scene)}
    for name in scene.species:
        if Quantity("volume", name, Role.BLANK) in scene.given:
            yield name, name in back


def _beside_blank(scene: Scene) -> Iterator[Place]:
    for name, back in _titrants(scene):
        larger, smaller = (Role.BLANK, Role.WITH_SAMPLE) if back else (Role.WITH_SAMPLE, Role.BLANK)
        yield Place(name, words={"larger": larger, "smaller": smaller})


NET_VOLUME = law(
    "blank", N_("Blank titration"),
    where={"more": "volume(X,{larger})", "less": "volume(X,{smaller})", "net": "volume(X,net)",
           "sample": "volume(X,with_sample)", "blank": "volume(X,blank)"},
    each=_beside_blank,
    says={
        "net := more - less": N_("The difference of the two volumes is what the sample accounts for."),
        "more := less + net": N_("The smaller volume and what the sample accounts for make the larger one."),
        "less := more - net": N_("What the sample accounts for is taken from the larger volume."),
    },
    source="orange-book-1998 6: blank titration",
    errors=[
        error("blank-added", "net := less + more", N_("blank and sample added"),
              N_("The blank shows what the titration takes without the sample: does the sample account for the sum?")),
        error("blank-left-out", "net := sample", N_("the blank left out"),
              N_("The blank was titrated too: what would the burette show without any sample?")),
        error("blank-alone", "net := blank", N_("the blank alone"),
              N_("The blank was titrated without any sample: where does the sample come in?")),
    ],
)  # fmt: skip


def _double(scene: Scene) -> Iterator[str]:
    """The acids that titrate both the total and the residual base."""
    both = (Role.TOTAL_BASE, Role.RESIDUAL_BASE)
    yield from (name for name in scene.species if {Quantity("volume", name, role) for role in both} <= scene.given)


RESIDUAL_BASE = law(
    "residual-base", N_("Total and residual base"), "net = more - less",
    where={"more": "volume(X,total_base)", "less": "volume(X,residual_base)", "net": "volume(X,net)"}, each=_double,
    says={
        "net := more - less": N_("Hydroxide and alkoxide are titrated both times: only the difference is the "
                                 "organometallic compound."),
    },
    source="common-practice: double titration of an organometallic reagent, the total base less the residual base",
    errors=[
        error("residual-left-out", "net = more", N_("the total base taken for the organometallic compound"),
              N_("What else in an old bottle takes up acid?")),
        error("residual-added", "net = more + less", N_("total and residual base added"),
              N_("Is the residual base a part of the total, or beside it?")),
        error("residual-alone", "net = less", N_("the residual base taken for the organometallic compound"),
              N_("Which of the two aliquots was rid of the organometallic compound before it was titrated?")),
    ],
)  # fmt: skip


def _accounted_for(scene: Scene) -> Iterator[Place]:
    yield from (Place(name, role=Role.NET if back else Role.PLAIN) for name, back in _titrants(scene))
    yield from map(Place, _double(scene))


NET_AMOUNT = law(
    "blank-amount", N_("Amount that the sample accounts for"), "n = c net",
    where={"n": "amount(X,*)", "c": "concentration(X)", "net": "volume(X,net)"}, each=_accounted_for,
    says={
        "n": N_("The amount concentration times the difference of the volumes gives the amount."),
        "c": N_("The amount divided by the difference of the volumes gives the amount concentration."),
        "net": N_("The amount divided by the amount concentration gives the difference of the volumes."),
    },
    source="green-book-2007 2.10: c = n/V",
)  # fmt: skip

LAWS = (NET_VOLUME, RESIDUAL_BASE, NET_AMOUNT)
