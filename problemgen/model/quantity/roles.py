"""Roles: what tells apart several quantities of one kind and one substance, with everything that is said of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from enum import StrEnum
from types import MappingProxyType
from typing import Self

from problemgen.model.quantity.role_words import RoleWords, engine_words, run_words

__all__ = ["SOLUTION_AT", "TAKEN_ROLES", "TEMPLATE_ROLES", "Role"]


_TWO_TO_FOUR = range(2, 5)
_PORTIONS = range(1, 5)  # more than four portions of solvent bring nothing at the bench
_DILUTIONS = range(1, 7)
_STANDARDS = range(1, 7)
_RUNS = range(1, 5)  # a rough one and three that agree are usual


class Role(StrEnum):
    """A role: its name in templates, its words, how an id writes it, and the stages that it counts."""

    words: RoleWords
    pattern: str
    stages: Sequence[int]

    def __new__(cls, name: str, words: RoleWords | None = None, pattern: str = "", stages: Sequence[int] = ()) -> Self:
        """A role; `pattern` is how an id writes it where that is not its name. ValueError for one without words."""
        if words is None:
            raise ValueError(f"the role {name!r} has no words")
        role = str.__new__(cls, name)
        role._value_ = name
        role.words, role.pattern, role.stages = words, pattern or name, stages
        return role

    PLAIN = "", engine_words("{kind} of {name}")
    FROM = (
        "from",
        engine_words(
            "{kind} of {name} from {source}",
            prompt="The {kind} of {name} that could form if {source} were used up completely",
        ),
        "from:{source}",
    )
    SOLUTION = (
        "solution",
        RoleWords(
            "of the solution",
            aloud="{kind} of the solution of {name}",
            prompt="The {kind} of the solution of {name}",
            whole="solution",
            before="",
            behind=" of solution",
        ),
    )
    COMMON = (
        "common",
        engine_words(
            "{kind} of the solution",
            alone="{kind} of the solution",
            prompt="The {kind} of the solution",
            index="solution",
            row="solution",
            thing="solution",
        ),
    )
    SOLVENT = (
        "solvent",
        RoleWords(
            "of the solvent",
            aloud="{kind} of the solvent",
            prompt="The {kind} of the solvent for {name}",
            whole="solvent",
            before="solvent",
        ),
    )
    IMPURE = (
        "impure",
        RoleWords(
            "with its impurities",
            aloud="{kind} of the sample of {name}",
            prompt="The {kind} of impure {name} to weigh",
            index="sample",
            whole="sample",
            before="",
            behind=" of the impure sample",
        ),
    )
    ACTUAL = (
        "actual",
        RoleWords(
            "as obtained",
            aloud="{kind} of {name} obtained",
            prompt="The {kind} of {name} that is obtained",
            index="obtained",
            before="wanted",
            weighed="Obtained",
        ),
    )
    THEORETICAL = (
        "theoretical",
        RoleWords(
            "in theory",
            aloud="theoretical {kind} of {name}",
            prompt="The theoretical yield of {name}",
            before="wanted",
        ),
    )
    LEFT = "left", RoleWords("left over", prompt="The {kind} of {name} that is left over")
    UNUSED = (
        "unused",
        RoleWords(
            "left over of the reagent in excess",
            aloud="{kind} of {name} left over in excess",
            alone="{kind} left over of the reagent in excess",
            prompt="The {kind} of the reagent in excess that is left over",
            index="left over",
            thing="reagent in excess",
        ),
    )
    CONSUMED = "consumed", RoleWords("used up", prompt="The {kind} of {name} that is used up", index="used up")
    INITIAL = (
        "initial",
        RoleWords(
            "before",
            aloud="initial {kind} of {name}",
            prompt="The {kind} of {name} before the change",
            before="before diluting",
            of_gas="before",
        ),
    )
    FINAL = (
        "final",
        RoleWords(
            "afterwards",
            aloud="final {kind} of {name}",
            prompt="The {kind} of {name} after the change",
            before="after diluting",
            of_gas="afterwards",
            later=True,
        ),
    )
    INITIAL_SOLUTION = "initial solution", engine_words("{kind} of the initial solution of {name}", whole="solution")
    FINAL_SOLUTION = "final solution", engine_words("{kind} of the final solution of {name}", whole="solution")
    ADDED = "added", RoleWords("added", aloud="{kind} added", owned=False)
    MIXED = (
        "mixed",
        RoleWords(
            "in the mixture",
            alone="{kind} of the mixture",
            prompt="The {kind} of the mixture",
            index="mixture",
            before="",
            row="mixture of gases",
            thing="mixture",
        ),
    )
    TAKEN = "taken", RoleWords("taken, excess included", prompt="The {kind} of {name} to take")
    PUBLISHED = (
        "published",
        RoleWords(
            "in the published batch", prompt="The {kind} of {name} in the published batch", before="published batch"
        ),
    )
    LIQUIDS = (
        "liquids",
        RoleWords(
            "of all liquids together",
            alone="{kind} of all liquids together",
            prompt="The {kind} of all liquids together",
            thing="mixture",
        ),
    )
    VESSEL = (
        "vessel",
        RoleWords(
            "of the flask that fits",
            alone="{kind} of the flask that fits",
            prompt="The {kind} of the flask that fits",
            index="flask",
            thing="mixture",
        ),
    )
    NEEDED = "needed", RoleWords("needed by the equation")
    SURPLUS = "surplus", RoleWords("beyond what is needed")
    RECOVERED = "recovered", RoleWords("recovered unchanged")
    CONVERTED = "converted", RoleWords("converted")
    CRUDE = "crude", RoleWords("before purification")
    PURIFIED = "purified", RoleWords("after the first purification")
    PURE = "pure", RoleWords("when pure")
    HOT = "hot", RoleWords("in the hot solvent")
    COLD = "cold", RoleWords("in the cold solvent", later=True)
    LOST = "lost", RoleWords("lost on purification")
    FIRST = "first", RoleWords("of the first purification", aloud="{kind} of {name} in the first purification")
    SECOND = "second", RoleWords("of the second purification", aloud="{kind} of {name} in the second purification")
    ISOMERS = (
        "isomers",
        RoleWords(
            "all isomers together",
            aloud="{kind} of all isomers together",
            prompt="The {kind} of all isomers together",
            before="",
            row="all isomers together",
        ),
    )
    OTHER = (
        "other",
        RoleWords(
            "other isomers",
            aloud="{kind} of the other isomers",
            prompt="The {kind} of the isomers other than {name}",
            before="",
            row="other isomers",
        ),
    )
    INPUT = "input", RoleWords("put in altogether", prompt="The {kind} of all that was put in to make {name}")
    AUXILIARIES = (
        "auxiliaries",
        RoleWords("solvents and auxiliaries", prompt="The {kind} of solvents and auxiliaries for {name}"),
    )
    WASTE = "waste", RoleWords("of waste", prompt="The {kind} of waste from making {name}")
    ORGANIC = "organic", RoleWords("in the organic layer")
    AQUEOUS = "aqueous", RoleWords("in the aqueous layer")
    PORTION = "portion", RoleWords("of one portion of solvent", prompt="The {kind} of one portion of solvent")
    EQUAL_PORTION = (
        "equal_portion",
        engine_words("{kind} of each of {n} portions of solvent"),
        "{stage}_portions",
        _TWO_TO_FOUR,
    )
    UNEXTRACTED = "unextracted", RoleWords("left after {portions}"), "after_{stage}", _PORTIONS
    UNEXTRACTED_BY_EACH = (
        *("unextracted_by_each", engine_words("{kind} of {name} by each of {n} portions")),
        *("each_of_{stage}", _TWO_TO_FOUR),
    )
    EXTRACTED = "extracted", RoleWords("extracted by {portions}"), "by_{stage}", _PORTIONS
    FRONT = (
        "front",
        RoleWords(
            "solvent front",
            aloud="{kind} of the solvent front",
            before="solvent front, from the starting line",
            owned=False,
            row="the plate",
        ),
    )
    EDGE = "edge", RoleWords("from the edge")
    FRONT_EDGE = (
        "front_edge",
        RoleWords(
            "solvent front, from the edge",
            aloud="{kind} of the solvent front from the edge",
            prompt="The {kind} of the solvent front from the edge",
            owned=False,
            row="the plate",
        ),
    )
    START = (
        "start",
        RoleWords(
            "starting line, from the edge",
            aloud="{kind} of the starting line from the edge",
            prompt="The {kind} of the starting line from the edge",
            owned=False,
            row="the plate",
        ),
    )
    MAJOR = "major", RoleWords("of the major enantiomer", prompt="The {kind} of the major enantiomer of {name}")
    MINOR = "minor", RoleWords("of the minor enantiomer", prompt="The {kind} of the minor enantiomer of {name}")
    SAMPLE = (
        "sample",
        RoleWords(
            "of the sample",
            aloud="{kind} of the sample of {name}",
            prompt="The {kind} of the sample",
            whole="sample",
            before="",
        ),
    )
    SERVING = (
        "serving",
        RoleWords("in each serving", prompt="The {kind} of {name} in each portion", before="each portion"),
    )
    FLASK = "flask", RoleWords("in the volumetric flask", before="volumetric flask")
    ALIQUOT = "aliquot", RoleWords("in the aliquot", before="aliquot")
    DILUTED = (
        "diluted",
        RoleWords("after {dilutions}", prompt="The {kind} of {name} after the {nth} dilution"),
        "step_{stage}",
        _DILUTIONS,
    )
    TOTAL = (
        "total",
        RoleWords(
            "with its water vapour",
            aloud="total {kind}",
            prompt="The total {kind} of {name} and water vapour",
            owned=False,
            before="",
            label="total pressure",
        ),
    )
    VAPOUR = (
        "vapour",
        RoleWords(
            "of the water vapour above it",
            aloud="{kind} of the water vapour",
            prompt="The {kind} of the water vapour in {name}",
            index="water",
            owned=False,
            before="",
            label="vapour pressure of water",
        ),
    )
    DRY = "dry", RoleWords("when dried")
    ONWARD = (
        "onward",
        RoleWords(
            "taken on to the next step",
            prompt="The {kind} of {name} that is taken on to the next step",
            before="taken on",
        ),
    )
    OVERALL = "overall", RoleWords("over all steps")
    BLANK = "blank", RoleWords("in the blank titration", before="blank", later=True)
    STANDARD = (
        "standard",
        RoleWords(
            "in standard {n}",
            index="{number}",
            before="",
            listing="Standard solutions",
            each="Standard",
        ),
        "standard_{stage}",
        _STANDARDS,
    )
    RUN_START = (
        "run_start",
        run_words("at the start of run {n}", "initial {number}", "initial reading"),
        "start_{stage}",
        _RUNS,
    )
    RUN_END = "run_end", run_words("at the end of run {n}", "final {number}", "final reading"), "end_{stage}", _RUNS
    RUN = "run", run_words("in run {n}", "run {number}", "titre", burette=False), "run_{stage}", _RUNS
    ROUGH_START = "rough_start", run_words("at the start of the rough run", "initial rough", "initial reading", "rough")
    ROUGH_END = "rough_end", run_words("at the end of the rough run", "final rough", "final reading", "rough")
    ROUGH = "rough", run_words("in the rough run", "rough", "titre", "rough", burette=False)
    WITH_SAMPLE = "with_sample", RoleWords("in the titration of the sample", before="with the sample")
    TOTAL_BASE = (
        "total_base",
        RoleWords("in the titration of the total base", before="total base", index="total"),
    )
    RESIDUAL_BASE = (
        "residual_base",
        RoleWords("in the titration of the residual base", before="residual base", index="residual", later=True),
    )
    STANDARDISING = "standardising", RoleWords("in the standardisation")
    NET = "net", RoleWords("with the blank taken into account")
    WHOLE = "whole", RoleWords("if the sample were nothing else")
    HEATED = "heated", RoleWords("after heating", later=True, thing="sample after heating")
    DRIVEN_OFF = "driven_off", RoleWords("driven off by heating", prompt="The {kind} that heating drives off")
    BOTH = (
        "both",
        RoleWords(
            "both products together",
            aloud="{kind} of both products together",
            owned=False,
            prompt="The {kind} of both products together",
            before="",
            row="both products together",
        ),
    )
    UNCONVERTED = "unconverted", RoleWords("not converted", prompt="The {kind} of {name} that was not converted")
    PURITY = "purity", engine_words("purity {kind} of {name}")
    DILUTE = "dilute", engine_words("dilute {kind} of {name}")
    EMPIRICAL = "empirical", engine_words("empirical {kind} of {name}")
    MOLECULAR = "molecular", engine_words("molecular {kind} of {name}")
    BALANCED = "balanced", engine_words("balanced {kind} of {name}")

    def has_stage(self, stage: int) -> bool:
        """Whether a quantity in this role can be at a stage: one of its own, or 0 where it counts none."""
        return stage in (self.stages or (0,))


TEMPLATE_ROLES: Mapping[str, Role] = MappingProxyType({role.value: role for role in Role if role.words.phrase})
"""The roles that a template can name: those with a phrase; the others are the engine's own."""

TAKEN_ROLES = (Role.PLAIN, Role.SOLUTION, Role.IMPURE)
"""The roles in which a reagent is measured out."""

SOLUTION_AT: Mapping[Role, Role] = MappingProxyType(
    {Role.PLAIN: Role.SOLUTION, Role.INITIAL: Role.INITIAL_SOLUTION, Role.FINAL: Role.FINAL_SOLUTION}
)
"""The role of a whole solution, by that of its solute."""
