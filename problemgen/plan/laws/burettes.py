"""Burette readings: the titre of each run, and the mean of those that agree."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from problemgen.language.messages import N_
from problemgen.model.expression import Expression
from problemgen.model.problem import Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law, difference
from problemgen.plan.table import Place, error, law

__all__ = ["LAWS", "mean_titre"]

_ORDINALS = ("first", "second", "third", "fourth")


def _runs(scene: Scene, titrant: str) -> tuple[int, ...]:
    """The numbers of the runs whose titres are averaged: both readings are told, or the titre itself."""

    def is_told(run: int) -> bool:
        readings = {_reading(titrant, role, run) for role in (Role.RUN_START, Role.RUN_END)}
        return readings <= scene.given or _reading(titrant, Role.RUN, run) in scene.given

    return tuple(run for run in Role.RUN.stages if is_told(run))


def mean_titre(scene: Scene, titrant: str) -> Quantity:
    """The volume that the titration goes on with; beside a blank, that of the titration with the sample."""
    blank = Quantity("volume", titrant, Role.BLANK) in scene.given
    return Quantity("volume", titrant, Role.WITH_SAMPLE if blank else Role.SOLUTION)


def _reading(titrant: str, role: Role, run: int = 0) -> Quantity:
    return Quantity("volume", titrant, role, stage=run)


def _read_runs(scene: Scene) -> Iterator[Place]:
    """The runs of which the burette was read at the end and at the start."""
    for titrant in scene.species:
        rough = {"end": Role.ROUGH_END, "start": Role.ROUGH_START, "used": Role.ROUGH}
        if scene.given.issuperset((_reading(titrant, Role.ROUGH_END), _reading(titrant, Role.ROUGH_START))):
            yield Place(titrant, words=rough)
        for run in Role.RUN.stages:
            last, first = (_reading(titrant, role, run) for role in (Role.RUN_END, Role.RUN_START))
            if not scene.told.isdisjoint((last, first)):
                used = _reading(titrant, Role.RUN, run)
                words = {"end": last.written_role, "start": first.written_role, "used": used.written_role}
                yield Place(titrant, words=words)


TITRE = law(
    "titre", N_("Titre of a run"), "titre = end - start",
    where={"end": "volume(X,{end})", "start": "volume(X,{start})", "titre": "volume(X,{used})"}, each=_read_runs,
    says={
        "titre := end - start": N_("The reading at the end less the reading at the start is the titre."),
        "end := start + titre": N_("The burette starts at its first reading and goes on by the titre."),
    },
    source="common-practice: a burette is read before and after each run",
    errors=[
        error("readings-added", "titre = end + start", N_("both readings of a run added"),
              N_("What did the burette show before the tap was opened, and how much ran out since?"), at="titre",
              everywhere=True),
        error("end-for-titre", "titre = end", N_("the reading at the end taken for the titre"),
              N_("Did the burette stand at zero when the run began?"), at="titre", everywhere=True),
    ],
)  # fmt: skip


def _means(law: Law, scene: Scene) -> Iterator[Instance]:
    for titrant in scene.species:
        runs = _runs(scene, titrant)
        mean = mean_titre(scene, titrant)
        if len(runs) > 1 and mean not in scene.given:
            titres = [_reading(titrant, Role.RUN, run).id for run in runs]
            direct: dict[str, Expression] = {"mean": _mean(titres)}
            yield Instance(law, {"mean": mean}, direct=direct, mistaken=_mistaken(scene, titrant, runs, titres))


def _mean(terms: Sequence[Expression]) -> Expression:
    return ("div", ("add", *terms), ("num", str(len(terms))))


def _mistaken(
    scene: Scene, titrant: str, runs: tuple[int, ...], titres: Sequence[Expression]
) -> dict[tuple[str, str], Expression]:
    """What is averaged wrongly; an error that looks up what the problem does not tell is left out by the plan."""
    mistaken: dict[tuple[str, str], Expression] = {("titres-added-up", "mean"): ("add", *titres)}
    mistaken |= {(f"{_ORDINALS[run - 1]}-titre-alone", "mean"): one for run, one in zip(runs, titres, strict=True)}
    readings = [_reading(titrant, role, run) for run in runs for role in (Role.RUN_END, Role.RUN_START)]
    if scene.given.issuperset(readings):
        mistaken["all-readings-averaged", "mean"] = _mean([reading.id for reading in readings])
    ends = [_reading(titrant, role) for role in (Role.ROUGH_END, Role.ROUGH_START)]
    if scene.given.issuperset(ends):
        rough: Expression = difference(*ends)
    elif _reading(titrant, Role.ROUGH) in scene.given:
        rough = _reading(titrant, Role.ROUGH).id
    else:
        return mistaken
    mistaken["rough-averaged-in", "mean"] = _mean([rough, *titres])
    mistaken["rough-titre-alone", "mean"] = rough
    return mistaken


# Titres that agree lie as near to their mean as an honest worker's rounding: the error may hide.
_ONE_ALONE = tuple(
    error(f"{which}-titre-alone", None, N_("one titre taken alone"),
          N_("The runs were repeated for a reason: which of the titres agree?"), harmless=True)
    for which in _ORDINALS
)  # fmt: skip

MEAN_TITRE = law(
    "mean-titre", N_("Mean of the concordant titres"),
    instances=_means,
    says={
        "mean": N_("The titres that agree are averaged. A rough one is left out: it only tells where the end "
                   "point lies."),
    },
    source="common-practice: the mean of the concordant titres, those that agree within 0.10 mL",
    errors=[
        error("rough-averaged-in", None, N_("the rough titre averaged in"),
              N_("Which run only served to find the end point, and ran past it?")),
        error("rough-titre-alone", None, N_("the rough titre taken"),
              N_("The first run only finds the end point: which runs were done with care?")),
        error("all-readings-averaged", None, N_("all readings of the burette averaged"),
              N_("A reading is where the burette stands: how much was used in each run?")),
        error("titres-added-up", None, N_("the titres added up and not divided"),
              N_("Each run titrated a portion of its own: how much did one of them take?")),
        *_ONE_ALONE,
    ],
)  # fmt: skip

LAWS = (TITRE, MEAN_TITRE)
