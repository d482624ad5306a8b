"""Reading a template: file to record, with its plan chained once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from problemgen.chemistry.elements import ELEMENTS
from problemgen.chemistry.formula import read_formula
from problemgen.errors import Fault, FaultsError, FormulaError, UnderivableError
from problemgen.load.documents import nearest, read_document
from problemgen.load.further import FurtherReactions, read_further
from problemgen.load.givens import MIXTURE, Givens, Purpose, read_givens, read_value
from problemgen.load.parts import read_parts
from problemgen.load.prose import prose_fault
from problemgen.load.template_document import GivenDocument, TemplateDocument
from problemgen.load.unknown import UnknownReader
from problemgen.model.banks import Banks, Reaction
from problemgen.model.plan import Plan
from problemgen.model.problem import Scene, Species
from problemgen.model.template import Template, Unknown
from problemgen.plan.chain import chain
from problemgen.plan.constants import constants
from problemgen.plan.laws.formulas import SAMPLE

__all__ = ["load_template", "nothing_drawn"]


def load_template(path: Path, template_id: str, banks: Banks) -> Template:
    """The template at `path`.

    Raises:
        FaultsError: all faults of the file: notation, unknown keys and ids, impossible ranges, units of the wrong
            dimension, parts that cannot be derived from what is given (with what is missing).
    """
    document = read_document(path, TemplateDocument, str(path))
    return _Builder(str(path), template_id, document, banks).template()


def nothing_drawn(template: Template, file: str) -> list[Fault]:
    """A fault for a template that would give everybody the same numbers: it can be solved, not handed out."""
    to_balance = all(part.asked.form == "equation" for part in template.parts)
    if template.is_drawn or to_balance:
        return []
    expected = "a value with a range or a choice, so that every student gets numbers of their own"
    return [Fault(file, "given", "no value that is drawn", expected)]


@dataclass(frozen=True)
class _Builder:
    """One template under construction."""

    file: str
    id: str
    document: TemplateDocument
    banks: Banks

    def template(self) -> Template:
        """The record; raises FaultsError with all faults."""
        reaction = self.reaction()
        further = read_further(self.file, self.document, reaction, self.banks)
        self.stop([*further.faults])
        givens = read_givens(self.file, self.document.given, self.banks, self.purpose(reaction, further))
        unknown = self.unknown(givens)
        self.stop(givens.faults)
        scene = self.scene(reaction, further, givens)
        if unknown is not None:
            scene = self.with_unknown(scene, unknown)
        faults: list[Fault] = [
            *self.outside(reaction, further),
            *prose_fault(self.file, self.document.story, scene.given),
        ]
        parts, part_faults = read_parts(self.file, self.document.part, scene, self.measured(reaction))
        self.stop([*faults, *part_faults])
        try:
            plan = chain(scene, [part.asked for part in parts], constants())
        except UnderivableError as error:
            expected = "parts that follow from what is given"
            raise FaultsError([Fault(self.file, "part", line, expected) for line in str(error).splitlines()]) from None
        self.stop([*self.idle(givens, {q.id for q in plan.given}), *self.unreached(givens, plan)])
        names = [name for name in scene.species if name in self.banks.substances]
        return Template(
            id=self.id,
            title=self.document.title,
            topic=self.document.topic,
            difficulty=self.document.difficulty,
            story=self.document.story,
            reaction=reaction,
            substances={name: self.banks.substances[name] for name in names},
            hazards={name: self.banks.hazards[name] for name in names if name in self.banks.hazards},
            scene=scene,
            draws=tuple(givens.draws),
            obtained=tuple(givens.obtained),
            fixed=tuple(givens.fixed),
            parts=parts,
            plan=plan,
            sessions=max(part.session for part in parts),
            session_of=self.sessions(reaction, further),
            unknown=unknown,
            further=further.all,
        )

    def unknown(self, givens: Givens) -> Unknown | None:
        """The unknown compound, its sample added to what is given; None for a template without one."""
        document = self.document.unknown
        if document is None:
            return None
        if document.sample is not None:
            read_value(givens, "unknown.sample", SAMPLE, document.sample)
        elif document.analysis != "percent":
            givens.fault("unknown.sample", "nothing", "the range of the sample's mass")
        try:
            return UnknownReader(self.file, document, self.banks).unknown()
        except FaultsError as error:
            givens.faults.extend(error.faults)
            return None

    def with_unknown(self, scene: Scene, unknown: Unknown) -> Scene:
        """The scene with the compound, its elements and their analysis."""
        document = self.document.unknown
        assert document is not None
        reader = UnknownReader(self.file, document, self.banks)
        given = scene.given | {one.quantity for one in unknown.analysed}
        if document.analysis == "heating":
            return replace(scene, species={**scene.species, **reader.hydrate_species()}, given=given)
        return replace(
            scene,
            species={**scene.species, **reader.species()},
            given=given,
            unknown=reader.elements(),
            unknown_rest=document.rest or "",
        )

    def stop(self, faults: list[Fault]) -> None:
        """Raise the faults, if there are any."""
        if faults:
            raise FaultsError(faults)

    def reaction(self) -> Reaction | None:
        """The bank's reaction; None for a template without one."""
        name = self.document.reaction
        if name is None or name in self.banks.reactions:
            return self.banks.reactions[name] if name else None
        hint = nearest(name, self.banks.reactions)
        raise FaultsError([Fault(self.file, "reaction", repr(name), "an id in banks/reactions.toml", hint)])

    def purpose(self, reaction: Reaction | None, further: FurtherReactions) -> Purpose:
        """What the equations and the parts tell about the given values."""
        reactions = (reaction, *further.all) if reaction else ()
        return Purpose(
            products=frozenset(name for one in reactions for name, nu in one.coefficients.items() if nu > 0),
            dissolved=self.asked(reaction, "concentration", "mass_concentration"),
            poured=self.asked(reaction, "volume"),
        )

    def asked(self, reaction: Reaction | None, *quantities: str) -> frozenset[str]:
        """The substances of which one of these quantities is asked, without a role."""
        sole = next(iter(self.document.given)) if len(self.document.given) == 1 else ""
        default = reaction.product if reaction else sole
        names = {"product": default, None: default}
        parts = (part for part in self.document.part if part.quantity in quantities and part.role is None)
        return frozenset(names.get(part.of) or part.of or "" for part in parts) - {""}

    def outside(self, reaction: Reaction | None, further: FurtherReactions) -> list[Fault]:
        """Faults for given substances that no reaction has."""
        if reaction is None:
            return []
        known = dict.fromkeys(name for one in (reaction, *further.all) for name in one.coefficients)
        return [
            Fault(self.file, f"given.{name}", "a substance outside the equation", f"one of {', '.join(known)}")
            for name in self.document.given
            if name not in known
        ]

    def measured(self, reaction: Reaction | None) -> tuple[str, ...]:
        """The reagents measured out, in the order of the equation: those that "each reagent" means."""
        given = self.document.given
        if reaction is None:
            return tuple(name for name in given if name != MIXTURE)
        return tuple(n for n, nu in reaction.coefficients.items() if nu < 0 and n in given and not given[n].in_excess)

    def scene(self, reaction: Reaction | None, further: FurtherReactions, givens: Givens) -> Scene:
        """The species and what is given of them."""
        species: dict[str, Species] = {}
        coefficients = reaction.coefficients if reaction else {}
        later = (name for one in further.all for name in one.coefficients)
        for name in dict.fromkeys((*coefficients, *later, *(n for n in self.document.given if n != MIXTURE))):
            substance = self.banks.substances.get(name)
            if substance is None:
                species[name] = Species(name, self.document.given[name].called or name)
            else:
                species[name] = Species(name, substance.name, substance.formula, coefficients.get(name, 0))
        for name, document in self.document.given.items():
            self.add_weighed(species, name, document)
        self.add_named(species)
        return Scene(
            species=species,
            given=givens.quantities,
            weights=self.banks.weights,
            product=reaction.product if reaction else "",
            in_excess=frozenset(name for name, document in self.document.given.items() if document.in_excess),
            solvent=self.document.solvent or "",
            further=further.equations,
            driven_off=frozenset(self.document.driven_off),
        )

    def add_named(self, species: dict[str, Species]) -> None:
        """Add the solvent, and the elements, ions or groups that parts ask about."""
        solvent = self.document.solvent
        if solvent is not None and solvent not in species:
            if solvent not in self.banks.substances:
                hint = nearest(solvent, self.banks.substances)
                fault = Fault(
                    self.file, "solvent", repr(solvent), "the id of a substance in banks/substances.toml", hint
                )
                raise FaultsError([fault])
            substance = self.banks.substances[solvent]
            species[solvent] = Species(solvent, substance.name, substance.formula)
        for text in self.document.contents:
            try:
                formula = read_formula(text)
            except FormulaError as error:
                raise FaultsError([Fault(self.file, "contents", repr(text), str(error))]) from None
            symbols = [symbol for symbol, _ in formula.counts]
            name = ELEMENTS[symbols[0]] if formula.text in ELEMENTS else formula.text
            species[formula.text] = Species(formula.text, name, formula)

    def add_weighed(self, species: dict[str, Species], name: str, document: GivenDocument) -> None:
        """Add the hydrate that is weighed in a reagent's place."""
        weighed = document.weighed_as
        if weighed is None:
            return
        substance = self.banks.substances.get(weighed)
        if substance is None or substance.hydrate_of != name:
            fitting = [s.id for s in self.banks.substances.values() if s.hydrate_of == name]
            expected = f"a hydrate of {name}: {', '.join(fitting) or 'none in banks/substances.toml'}"
            raise FaultsError([Fault(self.file, f"given.{name}.weighed_as", repr(weighed), expected)])
        species[weighed] = Species(weighed, substance.name, substance.formula, 0, stands_for=name)

    def idle(self, givens: Givens, used: set[str]) -> list[Fault]:
        """Faults for drawn values that no part needs: a student would look for their use in vain."""
        drawn = [*(draw.quantity for draw in givens.draws), *(one.quantity for one in givens.obtained)]
        return [
            Fault(self.file, f"given.{q.of}", f"{q.id}, which no part needs", "a part that needs it")
            for q in drawn
            if q.id not in used and q.of not in self.excess
        ]

    def unreached(self, givens: Givens, plan: Plan) -> list[Fault]:
        """Faults for shares that are to be obtained of a mass that the parts do not lead to."""
        known = {q.id for q in (*plan.given, *(step.quantity for step in plan.steps))}
        return [
            Fault(
                self.file,
                f"given.{one.quantity.of}.obtained",
                f"a share of {one.theoretical.id}",
                "a part that needs it",
            )
            for one in givens.obtained
            if one.theoretical.id not in known
        ]

    @property
    def excess(self) -> frozenset[str]:
        """The reagents in excess: their amounts are printed and need no part."""
        return frozenset(name for name, document in self.document.given.items() if document.in_excess)

    def sessions(self, reaction: Reaction | None, further: FurtherReactions) -> Mapping[str, int]:
        """The session in which each species of the reactions is used."""
        if reaction is None:
            return {}
        names = dict.fromkeys(name for one in (reaction, *further.all) for name in one.coefficients)
        return {name: reaction.sessions.get(name, 1) for name in names}
