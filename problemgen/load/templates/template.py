"""Reading a template: file to record, with its plan chained once."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace
from pathlib import Path

from problemgen.chemistry.elements import ELEMENTS
from problemgen.chemistry.formula import read_formula
from problemgen.errors import FormulaError, UnderivableError
from problemgen.load.banks.sources import check_document
from problemgen.load.documents import read_document
from problemgen.load.fault_log import FaultLog
from problemgen.load.resources import templates_folder
from problemgen.load.templates.document import TemplateDocument
from problemgen.load.templates.givens import DISSOLVED, MIXTURE, SOLUTION, Givens, Purpose, read_givens
from problemgen.load.templates.ions import read_ions
from problemgen.load.templates.parts import read_parts
from problemgen.load.templates.prose import check_prose
from problemgen.load.templates.reactions import Reactions, read_reactions
from problemgen.load.templates.unknown import UnknownReader
from problemgen.load.templates.values import read_value
from problemgen.model.banks import Banks, Substance
from problemgen.model.plan import Plan
from problemgen.model.problem import Scene, Species
from problemgen.model.quantity import Role
from problemgen.model.template import Draw, Obtained, Part, Reading, Template, Unknown
from problemgen.plan.chain import chain
from problemgen.plan.constants import constants
from problemgen.plan.forms import form_of
from problemgen.plan.laws.formulas import SAMPLE
from problemgen.plan.missteps import commonest

__all__ = ["check_drawn", "load_template"]


def load_template(path: Path, template_id: str, banks: Banks) -> Template:
    """The template at `path`.

    Raises:
        FaultsError: all faults of the file: notation, unknown keys and ids, impossible ranges, units of the wrong
            dimension, parts that cannot be derived from what is given (with what is missing).
    """
    document = read_document(path, TemplateDocument)
    faults = FaultLog(str(path))
    if document.story_as_in is not None:
        beside = path.with_name(f"{document.story_as_in}.toml")
        if not beside.is_file():  # an own copy of one of ours
            beside = (templates_folder() / template_id).with_name(beside.name)
        story = _story_of(faults, document, beside)
        document = document.model_copy(update={"story": story})
    return _Builder(faults, document, banks).template(template_id)


def _story_of(faults: FaultLog, document: TemplateDocument, path: Path) -> str:
    """The story of the template beside this one; raises FaultsError for one that has none, or faults of its own."""
    if document.story:
        faults.add("story_as_in", "a story as well", "one of the two")
    if not path.is_file():
        faults.add("story_as_in", repr(document.story_as_in), "the name of a template in the same folder")
    faults.stop()
    story: str = read_document(path, TemplateDocument).story
    if not story:
        faults.add("story_as_in", f"{document.story_as_in!r}, which has no story", "a template with a story of its own")
    faults.stop()
    return story


def check_drawn(faults: FaultLog, template: Template) -> None:
    """Keep a fault for a template that would give everybody the same numbers: it can be solved, not handed out."""
    if not template.is_drawn and not all(form_of(part.asked).is_same_for_all for part in template.parts):
        expected = "a value with a range or a choice, so that every student gets numbers of their own"
        faults.add("given", "no value that is drawn", expected)


@dataclass(frozen=True)
class _Builder:
    """One template under construction. It stops behind each stage whose faults would bring others."""

    faults: FaultLog
    document: TemplateDocument
    banks: Banks

    def template(self, template_id: str) -> Template:
        """The record; raises FaultsError."""
        check_document(self.faults, self.document, self.banks.sources)
        reactions = read_reactions(self.faults, self.document, self.banks)
        self.faults.stop()
        givens = read_givens(self.faults, self.document.given, self.banks, self.purpose(reactions))
        reader = self.unknown_reader(givens)
        unknown = reader.unknown() if reader is not None else None
        self.faults.stop()
        scene = self.scene(reactions, givens)
        if reader is not None and unknown is not None:
            scene = self.with_unknown(scene, reader, unknown)
        self.check_outside(reactions)
        check_prose(self.faults, self.document.story, scene.given)
        parts = read_parts(self.faults, self.document.part, scene, self.measured(reactions))
        self.faults.stop()
        plan = self.plan(scene, parts)
        self.check_use(givens, plan)
        self.check_waivers(plan)
        self.faults.stop()
        names = [name for name in scene.species if name in self.banks.substances]
        auxiliaries = dict.fromkeys((*(name for one in reactions.all for name in one.auxiliaries), *self.solvents()))
        return Template(
            id=template_id,
            title=self.document.title,
            topic=self.document.topic,
            difficulty=self.document.difficulty,
            story=self.document.story,
            reaction=reactions.main,
            substances={name: self.banks.substances[name] for name in names},
            auxiliaries={name: self.banks.substances[name] for name in auxiliaries},
            hazards={n: self.banks.hazards[n] for n in (*names, *auxiliaries) if n in self.banks.hazards},
            hazard_statements=self.banks.hazard_statements,
            scene=scene,
            draws=tuple(givens.draws),
            obtained=tuple(givens.obtained),
            fixed=tuple(givens.fixed),
            parts=parts,
            plan=plan,
            sessions=max(part.session for part in parts),
            session_of={n: reactions.main.sessions.get(n, 1) for n in reactions.species} if reactions.main else {},
            unknown=unknown,
            samples={n: d.called for n, d in self.document.given.items() if d.called and n in self.banks.substances},
            further=reactions.further,
            may_hide=frozenset(self.document.may_hide),
            always_limits=self.document.always_limits or "",
            because=self.document.because,
            hidden=tuple(givens.hidden),
            readings=tuple(givens.readings),
        )

    def solvents(self) -> Iterable[str]:
        """The solvents of the bottles, where they are not water."""
        bottles = (self.banks.bottles[one.bottle] for one in self.document.given.values() if one.bottle is not None)
        return (one.solvent for one in bottles if one.solvent is not None)

    def unknown_reader(self, givens: Givens) -> UnknownReader | None:
        """What reads the unknown compound, its sample added to what is given; None for a template without one."""
        document, faults = self.document.unknown, self.faults.at("unknown")
        if document is None:
            return None
        if document.sample is not None:
            givens.take(read_value(faults.at("sample"), SAMPLE, document.sample, self.banks.glassware))
        elif document.analysis != "percent":
            faults.add("sample", "nothing", "the range of the sample's mass")
        reader = UnknownReader(faults, document, self.banks)
        for quantity, key, value in reader.conditions():
            givens.take(read_value(faults.at(key), quantity, value, self.banks.glassware))
        return reader

    def with_unknown(self, scene: Scene, reader: UnknownReader, unknown: Unknown) -> Scene:
        """The scene with the compound, its elements and their analysis."""
        given = scene.given | {one.quantity for one in unknown.analysed}
        if reader.document.analysis == "heating":
            return replace(scene, species={**scene.species, **reader.hydrate_species()}, given=given)
        return replace(
            scene,
            species={**scene.species, **reader.species()},
            given=given,
            unknown=reader.elements(),
            unknown_rest=reader.document.rest or "",
        )

    def purpose(self, reactions: Reactions) -> Purpose:
        """What the equations and the parts tell about the given values."""
        return Purpose(
            products=frozenset(reactions.products),
            dissolved=self.asked(reactions, *DISSOLVED) | (set(self.document.given) if self.document.ions else set()),
            rivals=reactions.rivals,
            poured=self.asked(reactions, "volume", roles=(None, Role.TAKEN)) - self.scaled_volumes(),
        )

    def asked(self, reactions: Reactions, *quantities: str, roles: Collection[str | None] = (None,)) -> frozenset[str]:
        """The substances of which one of these quantities is asked, in one of these roles, None for no role."""
        sole = next(iter(self.document.given)) if len(self.document.given) == 1 else ""
        default = reactions.main.product if reactions.main else sole
        names = {"product": default, None: default}
        parts = (part for part in self.document.part if part.quantity in quantities and part.role in roles)
        return frozenset(names.get(part.of) or part.of or "" for part in parts) - {""}

    def scaled_volumes(self) -> frozenset[str]:
        """The substances whose volume in a published batch is told: that is scaled, and needs no density."""
        told = {name: document.published for name, document in self.document.given.items()}
        return frozenset(name for name, batch in told.items() if batch is not None and batch.volume is not None)

    def check_outside(self, reactions: Reactions) -> None:
        """Every substance that is given stands in one of the equations, where there are any, or is the standard."""
        for name, document in self.document.given.items() if reactions.main else ():
            # A catalyst and a solvent stand over the arrow, and a standard beside it; a gas was there before.
            beside = document.loading is not None or document.published is not None or MIXTURE in self.document.given
            if name not in reactions.species and name != self.document.internal_standard and not beside:
                expected = f"one of {', '.join(reactions.species)}"
                self.faults.add(f"given.{name}", "a substance outside the equation", expected)

    def measured(self, reactions: Reactions) -> tuple[str, ...]:
        """The reagents measured out, in the order of the equation: those that "each reagent" means."""
        given = self.document.given
        if reactions.main is None:
            return tuple(name for name in given if name not in (MIXTURE, SOLUTION))
        reagents = (name for name, nu in reactions.main.coefficients.items() if nu < 0)
        return tuple(name for name in reagents if name in given and not given[name].in_excess)

    def scene(self, reactions: Reactions, givens: Givens) -> Scene:
        """The species and what is given of them."""
        given = self.document.given
        species = {one.id: one for one in (*self.substances(reactions), *self.weighed())}
        for one in self.solvent():
            species.setdefault(one.id, one)
        species |= {one.id: one for one in self.contents()}
        species |= {one.id: one for one in read_ions(self.faults.at("ions"), self.document.ions, species)}
        self.faults.stop()
        return Scene(
            species=species,
            given=givens.quantities,
            weights=self.banks.weights,
            product=reactions.main.product if reactions.main else "",
            in_excess=frozenset(name for name, document in given.items() if document.in_excess),
            solvent=self.document.solvent or "",
            further=reactions.equations,
            standard=self.standard(reactions),
            driven_off=frozenset(self.document.driven_off),
        )

    def substances(self, reactions: Reactions) -> Iterable[Species]:
        """The substances of the equations, and what is given beside them."""
        coefficients = reactions.main.coefficients if reactions.main else {}
        beside = (name for name in self.document.given if name not in (MIXTURE, SOLUTION))
        for name in dict.fromkeys((*reactions.species, *beside)):
            substance = self.banks.substances.get(name)
            if substance is None:
                yield Species(name, self.document.given[name].called or name)
            else:
                yield self.species(substance, coefficients.get(name, 0))

    def species(self, substance: Substance, coefficient: int = 0, stands_for: str = "") -> Species:
        """A substance of the bank as a species, with all its names."""
        called = self.banks.also_called(substance)
        return Species(substance.id, substance.name, substance.formula, coefficient, stands_for, called)

    def weighed(self) -> Iterable[Species]:
        """The hydrates that are weighed in a reagent's place."""
        for name, document in self.document.given.items():
            weighed = document.weighed_as
            substance = self.banks.substances.get(weighed or "")
            if weighed is not None and (substance is None or substance.hydrate_of != name):
                fitting = [s.id for s in self.banks.substances.values() if s.hydrate_of == name]
                expected = f"a hydrate of {name}: {', '.join(fitting) or 'none in banks/substances.toml'}"
                self.faults.add(f"given.{name}.weighed_as", repr(weighed), expected)
            elif substance is not None:
                yield self.species(substance, stands_for=name)

    def solvent(self) -> Iterable[Species]:
        """The solvent, where one is named."""
        name = self.document.solvent
        if name is None:
            return
        if name in self.banks.substances:
            yield self.species(self.banks.substances[name])
        else:
            expected = "the id of a substance in banks/substances.toml"
            self.faults.unknown("solvent", name, self.banks.substances, expected)

    def standard(self, reactions: Reactions) -> str:
        """The internal standard: given, and in none of the equations; "" where none is named."""
        name = self.document.internal_standard
        if name is not None and (name not in self.document.given or name in reactions.species):
            expected = "a substance of `given` that takes no part in the reaction"
            self.faults.add("internal_standard", repr(name), expected)
        return name or ""

    def contents(self) -> Iterable[Species]:
        """The elements, ions or groups that parts ask about."""
        for text in self.document.contents:
            try:
                formula = read_formula(text)
            except FormulaError as error:
                self.faults.add("contents", repr(text), str(error))
                continue
            symbol, _ = formula.counts[0]
            yield Species(formula.text, ELEMENTS[symbol] if formula.text in ELEMENTS else formula.text, formula)

    def plan(self, scene: Scene, parts: Iterable[Part]) -> Plan:
        """The plan from the given to the asked."""
        try:
            return chain(scene, [part.asked for part in parts], constants())
        except UnderivableError as error:
            for line in str(error).splitlines():
                self.faults.add("part", line, "parts that follow from what is given")
            self.faults.stop()
            raise

    def check_use(self, givens: Givens, plan: Plan) -> None:
        """No drawn value is without use, and no share is taken of a mass that the parts do not lead to.

        A student would look for its use in vain. The amounts of what is in excess are printed and need no part.
        """
        used = {quantity.id for quantity in plan.given}
        reached = used | {step.quantity.id for step in plan.steps}
        drawn: list[Draw | Obtained | Reading] = [*givens.draws, *givens.obtained, *givens.readings]
        for quantity in (one.quantity for one in drawn):
            given = self.document.given.get(quantity.of)
            if quantity.id not in used and not (given is not None and given.in_excess):
                self.faults.add(f"given.{quantity.of}", f"{quantity.id}, which no part needs", "a part that needs it")
        for share in givens.obtained:
            if share.theoretical.id not in reached:
                found = f"a share of {share.theoretical.id}"
                self.faults.add(f"given.{share.quantity.of}.obtained", found, "a part that needs it")

    def check_waivers(self, plan: Plan) -> None:
        """What is waived is a mistake that can be made, and what always limits is a reagent that competes."""
        mistakes = [one.id for one in (*plan.mistakes, *commonest(plan))]
        for name in self.document.may_hide:
            if name not in mistakes:
                self.faults.unknown("may_hide", name, mistakes, "the id of a mistake that can be made in this template")
        always, because = self.document.always_limits, self.document.because.strip()
        if always is not None and (always not in plan.sources or len(plan.sources) < 2):
            expected = f"one of the reagents that compete: {', '.join(plan.sources)}"
            nobody = "no `always_limits`: fewer than two reagents compete"
            self.faults.add("always_limits", repr(always), expected if len(plan.sources) > 1 else nobody)
        if bool(because) != (always is not None):
            expected = "why this reagent always limits" if always else "`always_limits`, which it is the reason of"
            self.faults.add("because", repr(because) if because else "nothing", expected)
