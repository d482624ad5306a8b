"""What the laws say is found by whoever collects the sentences to translate."""

from __future__ import annotations

import ast
import inspect
import pkgutil
from collections.abc import Iterator
from importlib import import_module

from problemgen.language.messages import N_
from problemgen.plan import laws
from problemgen.plan.laws import LAWS
from tests.support.catalogues import ROOT, collected

CALLS = {"_", "N_", "NN_", "ngettext", "pgettext"}


def marked() -> Iterator[ast.expr]:
    """What is called N_ on in the files of laws."""
    for found in pkgutil.iter_modules(laws.__path__):
        source = inspect.getsource(import_module(f"{laws.__name__}.{found.name}"))
        for node in ast.walk(ast.parse(source)):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == N_.__name__:
                yield from node.args


def test_only_plain_literals_are_marked() -> None:
    assert [ast.unparse(one) for one in marked() if not isinstance(one, ast.Constant)] == []


def test_all_that_laws_say_is_marked() -> None:
    catalogue = {one.value for one in marked() if isinstance(one, ast.Constant)}
    said = {law.title for law in LAWS} | {sentence for law in LAWS for sentence in law.words.values()}
    said |= {text for law in LAWS for error in law.errors for text in (error.title, error.hint)}
    assert said == catalogue


def called_on() -> Iterator[tuple[str, str | None]]:
    """Each plain literal that a call of gettext is given, with its context."""
    for path in (ROOT / "problemgen").rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Name) or node.func.id not in CALLS:
                continue
            texts = [str(one.value) for one in node.args if isinstance(one, ast.Constant)]
            if node.func.id == "pgettext" and len(texts) > 1:
                yield texts[1], texts[0]
            elif texts and node.func.id != "pgettext":
                yield texts[0], None


def test_all_that_is_marked_is_collected() -> None:
    """Wherever a call stands: in a table, inside another call, inside an f-string."""
    found = {(one.id if isinstance(one.id, str) else one.id[0], one.context) for one in collected() if one.id}
    assert set(called_on()) <= found


def test_a_marked_sentence_is_itself() -> None:
    assert N_("The volume times the density gives the mass.") == "The volume times the density gives the mass."
