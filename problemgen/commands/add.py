"""Adding to a course: a substance, a reaction, a template."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Iterable
from pathlib import Path

from problemgen.commands.console import DONE, say
from problemgen.load.sets.courses import course_of
from problemgen.pipeline.adding.drafts import Draft, draft_of
from problemgen.pipeline.adding.facts import SubstanceWishes
from problemgen.pipeline.adding.gaps import Gap
from problemgen.pipeline.adding.questions import Ask, proposal
from problemgen.pipeline.adding.reactions import ReactionWishes, add_reaction
from problemgen.pipeline.adding.substances import add_substance
from problemgen.pipeline.adding.templates import add_template

__all__ = ["run"]


def run(options: argparse.Namespace) -> int:
    """Look up, write, and say what is left to fill in and what to do next."""
    draft = draft_of(course_of(Path()), Path())
    ask = _ask if sys.stdin is not None and sys.stdin.isatty() else proposal
    if options.what == "substance":
        _substance(draft, options, ask)
    elif options.what == "reaction":
        _reaction(draft, options, ask)
    else:
        _template(draft, options)
    return DONE


def _substance(draft: Draft, options: argparse.Namespace, ask: Ask) -> None:
    wishes = SubstanceWishes(**{name: getattr(options, name) for name in SubstanceWishes.__dataclass_fields__})
    added = add_substance(draft, options.name_or_number, wishes, ask)
    _write(draft, added.draft)
    say(*added.told)
    _say_left(added.left)


def _reaction(draft: Draft, options: argparse.Namespace, ask: Ask) -> None:
    wishes = ReactionWishes(**{name: getattr(options, name) for name in ReactionWishes.__dataclass_fields__})
    added = add_reaction(draft, options.equation, wishes, ask)
    _write(draft, added.draft)
    say(*added.told)
    _say_left(added.left)
    say(f"Next: problemgen add template {added.id}")


def _template(draft: Draft, options: argparse.Namespace) -> None:
    added = add_template(draft, options.reaction, options.set)
    _write(draft, added.draft)
    say(*added.told)
    if added.faults:
        say("It cannot be used yet; `problemgen check` finds:", *(f"  {one}" for one in _bare(added.faults)))
    elif added.remarks:
        say("`problemgen check` finds no fault, but remarks:", *(f"  {one}" for one in _bare(added.remarks)))
    else:
        say("`problemgen check` finds nothing to say of it.")
    say(f"Look at it: problemgen sample {added.id}")


def _bare(faults: Iterable[object]) -> Iterable[str]:
    """Faults without the file, which was one for the trial."""
    return (str(one).split(": ", 1)[-1] for one in faults)


def _write(before: Draft, after: Draft) -> None:
    if after is not before:
        after.write()


def _say_left(left: Iterable[Gap]) -> None:
    """What is left to fill in, each thing once with the substances that lack it."""
    lacking: dict[str, list[str]] = {}
    for one in left:
        lacking.setdefault(one.told, []).append(one.name)
    if lacking:
        say("Left to fill in:", *(f"  {', '.join(names)}: {what}." for what, names in lacking.items()))


def _ask(question: str, proposed: str) -> str:
    """The answer that is typed; the proposal for an empty one, and at the end of what is typed."""
    print(f"{question} [{proposed}]: " if proposed else f"{question}: ", end="", file=sys.stderr, flush=True)
    return sys.stdin.readline().strip() or proposed
