"""What there is: templates and sets by topic, and the entries of the banks; searchable."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from problemgen.load.banks import load_banks
from problemgen.load.documents import read_document
from problemgen.load.resources import banks_folder, templates_folder
from problemgen.load.set_rules import SET_FILE
from problemgen.load.sets import SetDocument, template_ids
from problemgen.load.template_document import TemplateDocument
from problemgen.model.banks import Banks, Reaction, Substance

__all__ = ["reactions", "substances", "templates"]


def _fits(words: Sequence[str], *texts: str) -> bool:
    """Whether every word occurs in the texts, whatever the case."""
    text = " ".join(texts).casefold()
    return all(word.casefold() in text for word in words)


def templates(words: Sequence[str]) -> Iterator[tuple[str, str, str, str]]:
    """Templates, then sets, that fit all words: (topic, id, level, title); the topic of a set is "sets".

    Raises FaultsError for a file that cannot be read.
    """
    rows = []
    for name, path in template_ids(templates_folder()).items():
        document = read_document(path, TemplateDocument)
        if _fits(words, name, document.title, document.topic, document.trains, document.reaction or ""):
            rows.append((document.topic, name, str(document.difficulty), document.title))
    yield from sorted(rows)
    yield from (row for row in _sets() if _fits(words, *row))


def _sets() -> Iterator[tuple[str, str, str, str]]:
    folder = templates_folder() / "sets"
    for path in sorted(folder.rglob(SET_FILE)):
        document = read_document(path, SetDocument)
        yield ("sets", _shown(path.parent), str(len(document.problem)), f"{document.course}: {document.title}")


def _shown(folder: Path) -> str:
    return folder.relative_to(templates_folder()).as_posix()


def substances(words: Sequence[str]) -> Iterator[tuple[str, str, str, str]]:
    """The bank's substances that fit: (id, name, formula, CAS number)."""
    for substance in load_banks(banks_folder()).substances.values():
        row = (substance.id, substance.name, substance.formula.text, substance.cas or "")
        if _fits(words, *row, *substance.synonyms, substance.state):
            yield row


def reactions(words: Sequence[str]) -> Iterator[tuple[str, str, str, str]]:
    """The bank's reactions that fit: (id, kind, equation, name)."""
    banks = load_banks(banks_folder())
    for reaction in banks.reactions.values():
        row = (reaction.id, reaction.kind, _equation(reaction, banks), reaction.name)
        if _fits(words, *row, *(banks.substances[name].name for name in reaction.coefficients)):
            yield row


def _equation(reaction: Reaction, banks: Banks) -> str:
    def side(sign: int) -> str:
        terms = ((abs(nu), banks.substances[name]) for name, nu in reaction.coefficients.items() if nu * sign > 0)
        return " + ".join(_term(nu, substance) for nu, substance in terms)

    return f"{side(-1)} -> {side(1)}"


def _term(nu: int, substance: Substance) -> str:
    return f"{nu} {substance.formula.text}" if nu > 1 else substance.formula.text
