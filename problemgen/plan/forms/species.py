"""A choice of species: which reagent limits the reaction. The quantity behind it is the extent of the reaction."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import lru_cache
from typing import Any, ClassVar

import numpy as np
import numpy.typing as npt

from problemgen.language.messages import N_, _
from problemgen.language.numbers import listed
from problemgen.model.blocks import Line, Prose
from problemgen.model.plan import Plan
from problemgen.model.problem import Asked, Scene
from problemgen.model.quantity import OVERALL_EXTENT, Quantity
from problemgen.model.truths import ChoiceTruth
from problemgen.plan.forms.form import Clear, Ending, Form, Hints, Option, Spread, Tally, Values, ValueWindows

__all__ = ["SPECIES", "SpeciesForm", "chosen_source", "undecided"]

_ASKED = Asked(OVERALL_EXTENT, "mol", "species")
_SAME = 1e-12
"""How far apart, relatively, one extent may come out in floats when it is worked twice: far above their rounding."""

_TOO_FEW = "the limiting reagent cannot be told; missing: the amounts of two reagents or more"
_COMPARE = N_("Compare how much product each reagent could give: the one that gives least is the limiting reagent.")
_BESIDE = N_(
    "Write what could form from each reagent side by side, in one unit. The smallest is all that can form: its reagent "
    "is used up first."
)


@lru_cache(maxsize=1024)
def _extent(source: str) -> str:
    """The id of how far the reaction could go by one reagent."""
    return Quantity("extent", source).id


def undecided(plan: Plan, windows: ValueWindows) -> tuple[str, ...]:
    """The reagents beside the limiting one that honest rounding may find to limit: their windows overlap."""
    extents = {source: windows[_extent(source)] for source in plan.sources}
    least = min(extents.values(), key=lambda window: window.value)
    return tuple(source for source, window in extents.items() if window is not least and window.low <= least.high)


def chosen_source(plan: Plan, values: Values) -> npt.NDArray[np.int64]:
    """Which source a worker names, by its place: the one whose extent was taken for the reaction's."""
    overall = values.get(OVERALL_EXTENT.id)
    if overall is None:
        return np.zeros(1, dtype=np.int64)
    extents = [values[_extent(source)] for source in plan.sources]
    return np.asarray(np.argmin(np.abs(np.stack(np.broadcast_arrays(*extents)) - overall), axis=0), dtype=np.int64)


def _named(plan: Plan, values: Values) -> str:
    """The same for one worker alone: the reagent's id."""
    return plan.sources[int(chosen_source(plan, values))]


class SpeciesForm(Form[ChoiceTruth]):
    """Which reagent limits, one of those that are measured out."""

    name = "species"
    asks: ClassVar[Mapping[str, Asked]] = {"limiting_reagent": _ASKED}
    to_tick = N_("Tick one reagent where there are boxes.")
    rests_on_plan = True
    hints = Hints(relation=_COMPARE, setup=_BESIDE)

    def called(self, _asked: Asked) -> str:
        """What templates call it."""
        return "limiting_reagent"

    def lacking(self, scene: Scene, _asked: Asked) -> str:
        """That there are fewer than two reagents to compare."""
        return _TOO_FEW if len(scene.sources) < 2 else ""

    def options(self, scene: Scene, plan: Plan, _asked: Asked) -> Sequence[Option]:
        """The reagents whose amounts compete."""
        return tuple(Option(source, scene.species[source].line) for source in plan.sources)

    def answer(self, plan: Plan, _scene: Scene, _asked: Asked, windows: ValueWindows) -> ChoiceTruth:
        """The reagent with the least extent."""
        least = min(plan.sources, key=lambda source: windows[_extent(source)].value)
        return ChoiceTruth(least, undecided(plan, windows))

    def leads_elsewhere(self, plan: Plan, wrong: ValueWindows, right: ValueWindows, clear: Clear) -> Any:
        """Whether what was gone on with is surely another reagent's extent, not the right one's.

        Who goes on with something between them may tick either.
        """
        overall = wrong.get(OVERALL_EXTENT.id)
        if overall is None:
            return np.zeros(1, dtype=np.bool_)
        chosen = chosen_source(plan, {name: window.value for name, window in right.items()})
        otherwise = np.zeros(chosen.shape, dtype=np.bool_)
        taken = np.zeros(chosen.shape, dtype=np.bool_)
        for index, source in enumerate(plan.sources):
            extent = wrong[_extent(source)]
            otherwise |= (chosen == index) & clear(overall, extent)
            taken |= np.abs(extent.value - overall.value) <= _SAME * np.abs(extent.value)
        return otherwise & taken

    def names_the_same(self, plan: Plan, values: Values, others: Values) -> Any:
        """Whether both go on with the same reagent."""
        return chosen_source(plan, values) == chosen_source(plan, others)

    def accepts(self, plan: Plan, _asked: Asked, written: Values, right: Values, _inside: Callable[[], Any]) -> Any:
        """Whether a worker goes on with the right reagent."""
        return self.names_the_same(plan, written, right)

    def shows(self, plan: Plan, _asked: Asked, truth: ChoiceTruth, _right: ValueWindows, wrong: ValueWindows) -> bool:
        """Whether another reagent is gone on with than is accepted."""
        values = {name: window.value for name, window in wrong.items()}
        return OVERALL_EXTENT.id in wrong and _named(plan, values) not in (truth.choice, *truth.also)

    def handed_in(self, scene: Scene, plan: Plan, _asked: Asked, written: Values, _number: Callable[[], str]) -> str:
        """The name of the reagent that was gone on with."""
        return scene.species[_named(plan, written)].name

    def prompt(self, _asked: Asked) -> Line:
        """The question, and what to do."""
        return (Prose(_("Which reagent is the limiting reagent? Tick one.")),)

    def short_prompt(self, _asked: Asked) -> Line:
        """The question alone."""
        return (Prose(_("Which reagent is the limiting reagent?")),)

    def text(self, scene: Scene, _asked: Asked, truth: ChoiceTruth) -> str:
        """The reagent's name."""
        return scene.species[truth.choice].name

    def notes(self, scene: Scene, truth: ChoiceTruth) -> Iterator[str]:
        """That several reagents are accepted, where they are."""
        if truth.also:
            names = listed([scene.species[name].name for name in (truth.choice, *truth.also)], either=True)
            yield _("These data do not decide which reagent limits: {names} is accepted.").format(names=names)

    def is_worked_out(self, plan: Plan, asked: Asked) -> bool:
        """Whether reagents have to be compared: a single one limits without a comparison."""
        step = plan.step(asked.quantity)
        return step is not None and not isinstance(step.expression, str) and step.expression[0] == "min"

    def ending(self, _asked: Asked, _truth: ChoiceTruth) -> Ending:
        """The comparison is the end."""
        return Ending()

    def spread(self, scene: Scene, _asked: Asked) -> Spread:
        """How often each reagent is the limiting one."""
        return Tally(self.kind, {name: species.name for name, species in scene.species.items()})

    def kind(self, truth: ChoiceTruth) -> str:
        """The id of the limiting reagent."""
        return truth.choice


SPECIES = SpeciesForm()
