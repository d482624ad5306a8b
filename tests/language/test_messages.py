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
    said |= {text for law in LAWS for misuse in law.misuses for text in (misuse.title, misuse.hint)}
    assert said == catalogue


def test_a_marked_sentence_is_itself() -> None:
    assert N_("The volume times the density gives the mass.") == "The volume times the density gives the mass."
