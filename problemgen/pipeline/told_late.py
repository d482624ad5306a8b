"""Whether every part can be answered with what its sheet, or one before it, tells."""

from __future__ import annotations

from collections.abc import Iterator

from problemgen.errors import Fault
from problemgen.model.template import Template, label_of
from problemgen.render.words.given_words import told_by

__all__ = ["told_late", "untold"]


def told_late(template: Template, file: str) -> Iterator[Fault]:
    """Faults for given values that a part needs and that only the sheet of a later session tells."""
    sessions = {quantity.id: session for quantity, session in told_by(template).items()}
    for index, part in enumerate(template.parts):
        asked = part.asked.quantity.id
        needed = {asked, *(name for step in template.plan.steps_to(asked) for name in step.needs)}
        for name in sorted(needed & sessions.keys()):
            if sessions[name] > part.session:
                yield untold(file, name, label_of(index))


def untold(file: str, name: str, label: str) -> Fault:
    """The fault of a given value, by its id, that a part needs and that no sheet up to its session tells."""
    found = f"{name}, which part ({label}) needs and no sheet tells up to its session"
    return Fault(file, "given", found, "a value that is told before it is needed")
