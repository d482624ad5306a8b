"""Burette readings: the titre of each run, and the mean of those that agree."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from problemgen.model.expression import Expression
from problemgen.model.problem import Scene
from problemgen.model.quantity import Quantity, Role
from problemgen.plan.law import Instance, Law, Misuse, difference, letters

__all__ = ["LAWS", "mean_titre"]

end, start, titre = letters("end start titre")

_ORDINALS = ("first", "second", "third", "fourth")


def _runs(scene: Scene, titrant: str) -> tuple[int, ...]:
    """The numbers of the runs whose titres are averaged: both readings are told, or the titre itself."""
    told = scene.given

    def is_told(run: int) -> bool:
        readings = {_reading(titrant, role, run) for role in (Role.RUN_START, Role.RUN_END)}
        return readings <= told or _reading(titrant, Role.RUN, run) in told

    return tuple(run for run in Role.RUN.stages if is_told(run))


def mean_titre(scene: Scene, titrant: str) -> Quantity:
    """The volume that the titration goes on with; beside a blank, that of the titration with the sample."""
    blank = Quantity("volume", titrant, Role.BLANK) in scene.given
    return Quantity("volume", titrant, Role.WITH_SAMPLE if blank else Role.SOLUTION)


def _reading(titrant: str, role: Role, run: int = 0) -> Quantity:
    return Quantity("volume", titrant, role, stage=run)


def _read_runs(scene: Scene, titrant: str) -> Iterator[tuple[Quantity, Quantity, Quantity]]:
    """Of each run of which the burette was read: its reading at the end, at the start, and its titre."""
    last, first = (_reading(titrant, role) for role in (Role.ROUGH_END, Role.ROUGH_START))
    if scene.given.issuperset((last, first)):
        yield last, first, _reading(titrant, Role.ROUGH)
    for run in Role.RUN.stages:
        last, first = (_reading(titrant, role, run) for role in (Role.RUN_END, Role.RUN_START))
        if not (scene.given | scene.wanted).isdisjoint((last, first)):
            yield last, first, _reading(titrant, Role.RUN, run)


def _titres(law: Law, scene: Scene) -> Iterator[Instance]:
    for titrant in scene.species:
        for last, first, used in _read_runs(scene, titrant):
            direct: dict[str, Expression] = {"titre": difference(last, first), "end": ("add", first.id, used.id)}
            yield Instance(law, {"end": last, "start": first, "titre": used}, direct=direct)


TITRE = Law(
    id="titre",
    title="Titre of a run",
    relation=end - start - titre,
    instances=_titres,
    words={
        "titre": "The reading at the end less the reading at the start is the titre.",
        "end": "The burette starts at its first reading and goes on by the titre.",
    },
    source="common-practice: a burette is read before and after each run",
    misuses=(
        Misuse(
            "readings-added",
            "both readings of a run added",
            "What did the burette show before the tap was opened, and how much ran out since?",
            end + start - titre,
            everywhere=True,
            only_for=frozenset({"titre"}),
        ),
        Misuse(
            "end-for-titre",
            "the reading at the end taken for the titre",
            "Did the burette stand at zero when the run began?",
            end - titre,
            everywhere=True,
            only_for=frozenset({"titre"}),
        ),
    ),
)


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
    """What is averaged wrongly; a misuse that looks up what the problem does not tell is left out by the plan."""
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


MEAN_TITRE = Law(
    id="mean-titre",
    title="Mean of the concordant titres",
    relation=None,
    instances=_means,
    words={
        "mean": "The titres that agree are averaged. A rough one is left out: it only tells where the end point lies."
    },
    source="common-practice: the mean of the concordant titres, those that agree within 0.10 mL",
    misuses=(
        Misuse(
            "rough-averaged-in",
            "the rough titre averaged in",
            "Which run only served to find the end point, and ran past it?",
            None,
        ),
        Misuse(
            "rough-titre-alone",
            "the rough titre taken",
            "The first run only finds the end point: which runs were done with care?",
            None,
        ),
        Misuse(
            "all-readings-averaged",
            "all readings of the burette averaged",
            "A reading is where the burette stands: how much was used in each run?",
            None,
        ),
        Misuse(
            "titres-added-up",
            "the titres added up and not divided",
            "Each run titrated a portion of its own: how much did one of them take?",
            None,
        ),
        *(
            Misuse(
                f"{which}-titre-alone",
                "one titre taken alone",
                "The runs were repeated for a reason: which of the titres agree?",
                None,
                harmless=True,  # titres that agree lie as near to their mean as an honest worker's rounding
            )
            for which in _ORDINALS
        ),
    ),
)

LAWS = (TITRE, MEAN_TITRE)
