"""The words of a role: patterns that `Quantity.said` fills."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["RoleWords", "engine_words", "run_words"]


@dataclass(frozen=True)
class RoleWords:
    """The words of a role, in patterns that `Quantity.said` fills.

    Places in them: {kind} for the kind of quantity ("mass"), {name} for the substance, {source} for the reagent of
    `FROM`, {phrase} for the role's own phrase; for a stage {n} "two", {nth} "second", {number} "2", {portions} "two
    portions", {dilutions} "two dilutions". All are messages: they are said in the language spoken when they are filled.

    phrase: as it stands behind a quantity ("mass of aspirin *in theory*"). aloud: how a quantity is read aloud; alone:
    one of no substance. prompt: how it is asked for, where the kind has no words of its own for it. index: the index of
    its symbol, the role's name where it is ""; owned: whether the symbol has the substance in brackets.
    """

    phrase: str
    aloud: str = "{kind} of {name} {phrase}"
    alone: str = "{kind}"
    prompt: str = "The {kind} of {name} {phrase}"
    index: str = ""
    owned: bool = True
    whole: str = ""  # what its mass is of, where that is more than the substance
    # In the table of given values:
    before: str = "{phrase}"  # in front of a value
    of_gas: str = ""  # the same, where a gas changes
    behind: str = ""  # behind what is measured out
    label: str = ""  # in the place of the kind's label
    row: str = ""  # what the row is of, where that is not the substance
    later: bool = False  # behind the values in other roles
    weighed: str = ""  # in front of a mass as obtained, the phrase where it is ""
    thing: str = "sample"  # what it is of in a key, where it is of no substance
    # In a list of its own, where several are told: its caption, what each column is for, the row, the column's head
    listing: str = ""
    each: str = ""
    entry: str = ""  # the words of the kind where it is ""
    head: str = "{number}"


def engine_words(aloud: str, **words: str) -> RoleWords:
    """The words of a role of the engine's own, which stands in no sentence behind a quantity."""
    return RoleWords("", aloud, **{"prompt": "The {kind} of {name}", "before": "", **words})  # type: ignore[arg-type]


def run_words(of_run: str, index: str, entry: str, head: str = "{number}", *, burette: bool = True) -> RoleWords:
    """The words of what is read or found in one run of a titration: "the burette reading at the start of run two".

    of_run: as it stands behind a quantity. index: of its symbol. entry, head: row and column in the list of all runs.
    """
    return RoleWords(
        of_run,
        aloud="burette reading of {name} {phrase}" if burette else "titre of {name} {phrase}",
        prompt="The burette reading of {name} {phrase}" if burette else "The titre of {name} {phrase}",
        index=index,
        before="",
        listing="Burette readings" if burette else "Titres",
        each="Run",
        entry=entry,
        head=head,
    )
