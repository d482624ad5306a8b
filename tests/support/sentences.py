"""Every sentence that templates and the engine write, once each, with where it comes from: for reading them all.

python tests/support/sentences.py [WORD ...]      those with all of these words; all of them without any

Numbers stand as ▮, so that one sentence with other numbers is not another one. Formulas, symbols and tables of numbers
are left out.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable, Iterator
from pathlib import Path

if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parents[2]))

from problemgen.model.blocks import (
    Block,
    Bullets,
    Caution,
    Heading,
    Line,
    Note,
    Paragraph,
    Part,
    Prose,
    Scheme,
    Strong,
    Table,
)
from problemgen.model.quantity import KINDS, TEMPLATE_ROLES
from problemgen.model.template import Template
from problemgen.plan.law import Law
from problemgen.plan.laws import LAWS
from problemgen.plan.tellings import telling_of
from problemgen.plan.tries import tries_of, units_on_sheet
from problemgen.render.key.variant_key import variant_solution
from problemgen.render.sheet.sheet import problem_blocks
from tests.support.shipped import NAMES, shipped, variant_of

__all__ = ["sentences"]

_NUMBER = re.compile(r"[-−]?\d+(?:\.\d+)?(?: × 10[⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)?")


def sentences() -> Iterator[tuple[str, str]]:
    """Where it comes from, and the sentence; each once, in the order in which it is first written."""
    seen: set[str] = set()
    for where, text in _all():
        told = _NUMBER.sub("▮", " ".join(text.split()))
        if told and told not in seen:
            seen.add(told)
            yield where, told


def _all() -> Iterator[tuple[str, str]]:
    for law in LAWS:
        yield from _of_law(law)
    for kind in KINDS.values():
        yield f"kind {kind.name}", f"{kind.words}; {kind.label or ''}{kind.behind}{kind.note}"
        for role in TEMPLATE_ROLES.values():
            if role in kind.prompts:
                yield f"kind {kind.name} {role}", kind.prompts[role]
    for name, role in TEMPLATE_ROLES.items():
        words = role.words
        yield f"role {name}", f"{words.phrase} | {words.prompt} | {words.aloud} | {words.before} | {words.behind}"
    yield from _tellings()
    for name in NAMES:
        yield from ((name, text) for text in _of_template(shipped(name)))
        yield from ((f"sheet {name}", text) for text in _sheet(name))
        yield from ((f"working {name}", text) for text in _texts(variant_solution(variant_of(name))))


def _of_law(law: Law) -> Iterator[tuple[str, str]]:
    where = f"law {law.id}"
    yield where, law.title
    yield from ((where, text) for text in law.words.values())
    for error in law.errors:
        yield f"{where} error {error.id}", error.title
        yield f"{where} error {error.id}", error.hint


def _of_template(template: Template) -> Iterator[str]:
    yield template.title
    yield template.topic
    yield template.story
    for mistake in template.plan.mistakes:
        yield mistake.title
        yield mistake.hint


def _sheet(name: str) -> Iterator[str]:
    variant = variant_of(name)
    for session in range(1, variant.template.sessions + 1):
        yield from _texts(problem_blocks(variant, session))


def _tellings() -> Iterator[tuple[str, str]]:
    """What is said of the errors that follow from a step's algebra: the first of each law and each way."""
    seen: set[tuple[str, str]] = set()
    for name in NAMES:
        template, given = shipped(name), variant_of(name).given
        for step, tried in tries_of(template.plan, units_on_sheet(template.plan, given)).items():
            for one in tried:
                if (step.law, one.how) not in seen:
                    seen.add((step.law, one.how))
                    told = telling_of(template.scene, step, one)
                    yield from ((f"error {one.how} {name}", text) for text in (told.title, told.sentence))


def _texts(blocks: Iterable[Block]) -> Iterator[str]:
    for block in blocks:
        if isinstance(block, Heading):
            yield block.text
        elif isinstance(block, Scheme):
            yield f"{block.above} | {block.below}"
        else:
            yield from map(_words, _lines(block))


def _lines(block: Block) -> Iterable[Line]:
    match block:
        case Paragraph(line) | Note(line):
            return (line,)
        case Bullets(lines) | Caution(_, lines):
            return lines
        case Part():
            return (block.prompt, *block.choices)
        case Table():
            return tuple(cell for row in (block.header, *block.rows) for cell in row)
    return ()


def _words(line: Line) -> str:
    return "".join(piece.text if isinstance(piece, Prose | Strong) else "▯" for piece in line)


if __name__ == "__main__":
    for where, sentence in sentences():
        if all(word in sentence for word in sys.argv[1:]):
            sys.stdout.write(f"{where}\t{sentence}\n")
