"""Whether the parts of an answers.json fit each other: what a step looks up, which template a problem is of, and so on.

Each record's own reader has seen to its fields. Here stands what one of them says of another, so that marking finds
whatever it looks for, also in a file that somebody has written by hand.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from problemgen.chemistry.units import read_unit
from problemgen.errors import UnitError
from problemgen.load.fault_log import FaultLog, nearest
from problemgen.model.answers import KeyHead, ProblemKey, StudentKey, TemplateKey
from problemgen.model.expression import names_in
from problemgen.model.own_data import OwnKey
from problemgen.model.plan import Step
from problemgen.model.problem import Asked
from problemgen.model.quantity import KINDS, Quantity
from problemgen.model.truths import ChoiceTruth, NumberTruth, TextTruth, Truth
from problemgen.plan.arithmetic import EXACT_FIGURES
from problemgen.plan.forms import FORMS
from problemgen.plan.forms.form import TextForm
from problemgen.plan.forms.species import SPECIES

__all__ = ["check_head", "check_student"]


_MOST_POINTS = 1_000_000
"""Of a part: more than any gradebook has, and few enough that sums and squares of them stay numbers."""


def check_head(faults: FaultLog, head: KeyHead) -> None:
    """Keep a fault for each thing that is named and not there."""
    for name, template in head.templates.items():
        _Template(faults.at("head", "templates", name), template).check()
    known = faults.at("head")
    for problem, names in head.problems.items():
        for name in names:
            _known(known, f"problems.{problem}", name, head.templates)
    for problem, own in head.own.items():
        for number, key in enumerate(own, start=1):
            _check_own(known.at("own", problem, number), problem, key)


def check_student(faults: FaultLog, head: KeyHead, key: StudentKey, names: Mapping[tuple[str, str], str]) -> None:
    """Keep a fault for each thing of a student's line that does not fit the head; `names` are templates' other names.

    Where the template is not there, nothing else of a problem can be looked at.
    """
    met: set[str] = set()
    for number, problem in enumerate(key.problems, start=1):
        here = faults.at("problems", number)
        name = names.get((problem.problem, problem.template), problem.template)
        if problem.problem in met:
            here.add("problem", repr(problem.problem), "each problem once")
        met.add(problem.problem)
        if _known(here, "template", name, head.templates):
            _check_problem(here, head, problem, head.templates[name])


def _check_problem(faults: FaultLog, head: KeyHead, problem: ProblemKey, template: TemplateKey) -> None:
    given = {quantity.id: quantity for quantity in template.plan.given}
    for name, datum in problem.given.items():
        if _known(faults, "given", name, given):
            _check_unit(faults.at("given", name), given[name], datum.unit)
    own = {quantity.id for one in head.own.get(problem.problem, ()) for quantity in one.value.quantities}
    for name in sorted(given.keys() - problem.given.keys() - own):
        faults.add(f"given.{name}", "nothing", "a value: the plan begins with it")
    parts = {part.id: part for part in template.parts}
    for part, truth in problem.truths.items():
        if _known(faults, "truths", part, parts) and parts[part].asked.form in FORMS:
            _check_truth(faults.at("truths", part), template, parts[part].asked, truth)
    if not own:
        for part in sorted(parts.keys() - problem.truths.keys()):
            faults.add(f"truths.{part}", "nothing", "what is right")


def _check_truth(faults: FaultLog, template: TemplateKey, asked: Asked, truth: Truth) -> None:
    form = FORMS[asked.form]
    wanted: type[NumberTruth | ChoiceTruth | TextTruth] = NumberTruth
    if not form.has_window:
        wanted = TextTruth if isinstance(form, TextForm) else ChoiceTruth
    if not isinstance(truth, wanted):
        faults.add("", "another kind of answer", f"what is right for the form {asked.form!r}")
    elif isinstance(truth, NumberTruth):
        if not truth.low <= truth.value <= truth.high:
            faults.add("", "a value outside its window", "low, value and high in this order")
        if truth.figures > EXACT_FIGURES:
            faults.add("figures", str(truth.figures), f"at most {EXACT_FIGURES}")
    elif isinstance(truth, ChoiceTruth):
        _known(faults, "choice", truth.choice, template.scene.species)


class _Template:
    """Looks a template through."""

    def __init__(self, faults: FaultLog, template: TemplateKey) -> None:
        self._faults, self._template = faults, template
        plan = template.plan
        self._begin = {one.id for one in plan.given} | {one.quantity.id for one in plan.constants}
        self._reached = self._begin | {step.quantity.id for step in plan.steps}

    def check(self) -> None:
        plan, faults = self._template.plan, self._faults
        for quantity in plan.given:
            _check_kind(faults.at("plan", "given"), quantity)
        self._check_steps(faults.at("plan", "steps"), plan.steps, self._begin)
        for number, route in enumerate(plan.routes, start=1):
            here = faults.at("plan", "routes", number)
            self._check_steps(here, route.steps, self._reached)
            if not route.steps:
                here.add("steps", "an empty list", "one step or more")
        for mistake in plan.mistakes:
            names = (one for name, wrong in mistake.rewrites for one in (name, *names_in(wrong)))
            for name in names:
                _known(faults.at("plan", "mistakes", mistake.id), "rewrites", name, self._reached)
        self._check_species()
        self._check_parts()
        told = (quantity for one in self._template.told for quantity in (one.quantity, one.second))
        for quantity in filter(None, told):
            _check_kind(faults.at("told"), quantity)

    def _check_steps(self, faults: FaultLog, steps: Iterable[Step], known: Collection[str]) -> None:
        """Each step looks up what is there before it."""
        before = set(known)
        for number, step in enumerate(steps, start=1):
            _check_kind(faults.at(number), step.quantity)
            for name in step.needs:
                _known(faults.at(number), "expression", name, before)
            before.add(step.quantity.id)

    def _check_species(self) -> None:
        scene, faults = self._template.scene, self._faults.at("scene")
        for name, species in scene.species.items():
            if species.id != name:
                faults.add(f"species.{name}.id", repr(species.id), repr(name))
        for name in self._template.plan.sources:
            _known(self._faults, "plan.sources", name, scene.species)
        for name in (scene.product, scene.solvent, scene.standard, *scene.in_excess, *scene.driven_off):
            if name:
                _known(faults, "species", name, scene.species)
        for equation in scene.further:
            for name in (*equation.coefficients, *filter(None, [equation.product])):
                _known(faults, "further", name, scene.species)

    def _check_parts(self) -> None:
        ids = [part.id for part in self._template.parts]
        labels = [part.label for part in self._template.parts]
        for part in self._template.parts:
            here = self._faults.at("parts", part.id)
            if ids.count(part.id) > 1 or labels.count(part.label) > 1:
                here.add("", "an id or a letter twice", "each once")
            if not 0 <= part.points <= _MOST_POINTS:
                here.add("points", str(part.points)[:60], f"from 0 to {_MOST_POINTS:,}")
            if _known(here, "form", part.asked.form, FORMS) and _check_kind(here, part.asked.quantity):
                self._check_asked(here, part.asked)

    def _check_asked(self, faults: FaultLog, asked: Asked) -> None:
        form = FORMS[asked.form]
        if form.has_window:
            _known(faults, "asked", asked.quantity.id, self._reached)
            _check_unit(faults, asked.quantity, asked.unit)
        elif form is SPECIES and not self._template.plan.sources:
            faults.add("asked", "a choice among no substances", "sources of the plan")


def _check_own(faults: FaultLog, problem: str, key: OwnKey) -> None:
    if key.column.partition(".")[0] != problem.removeprefix("p"):
        faults.add("column", repr(key.column), f"a column of the problem {problem}")
    for quantity in key.value.quantities:
        if _check_kind(faults, quantity) and key.value.share_of is None and key.value.second is None:
            _check_unit(faults, quantity, key.value.unit)
    if key.value.share_of is not None:
        _check_kind(faults, key.value.share_of)
    if key.value.low > key.value.high:
        faults.add("value", "a least value above the greatest", "low and high in this order")


def _known(faults: FaultLog, key: str, name: str, known: Collection[str]) -> bool:
    """Whether a name is among the known; a fault where it is not."""
    if name in known:
        return True
    faults.add(key, repr(name[:60]), "the name of something in this file", nearest(name[:60], known))
    return False


def _check_kind(faults: FaultLog, quantity: Quantity) -> bool:
    return _known(faults, "quantity", quantity.kind, KINDS)


def _check_unit(faults: FaultLog, quantity: Quantity, unit: str) -> None:
    try:
        found = read_unit(unit)
    except UnitError as error:
        faults.add("unit", repr(unit[:60]), f"a unit of the list: {error}")
        return
    wanted = KINDS[quantity.kind].unit if quantity.kind in KINDS else unit
    if found.dimension != read_unit(wanted).dimension:
        faults.add("unit", repr(unit), f"a unit of {quantity.kind}")
