"""ES modules joined into one script: a page from a file has nowhere to import from.

A module's imports are lines `import { a, b } from "./name.js";` at its head; what it gives away are declarations with
`export` in front of them. Each module stands behind those that it imports; a name at the top level of two modules is
an error, for in one script they would be one.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

__all__ = ["joined"]

_IMPORT = re.compile(r'^import \{[^}]*\} from "\./([a-z_]+\.js)";\n', re.MULTILINE)
_EXPORT = re.compile(r"^export (?=(?:async )?(?:function|class|const|let)\b)", re.MULTILINE)
_DECLARED = re.compile(r"^(?:async )?(?:function\*?|class|const|let) ([A-Za-z_$][\w$]*)", re.MULTILINE)
_LEFT = re.compile(r"^(?:import|export)\b.*", re.MULTILINE)


def joined(modules: Mapping[str, str], entry: str) -> str:
    """One script out of modules by file name: those that `entry` needs, in an order in which they can run.

    Raises ValueError for a cycle, a module that is missing, a name declared twice, or an import in another shape.
    """
    order: list[str] = []
    _visit(entry, modules, order, ())
    declared: dict[str, str] = {}
    pieces = []
    for name in order:
        text = _EXPORT.sub("", _IMPORT.sub("", modules[name]))
        left = _LEFT.search(text)
        if left:
            raise ValueError(f"{name}: {left[0]!r} is no import or export that can be joined")
        for found in _DECLARED.findall(text):
            if found in declared:
                raise ValueError(f"{found} is declared in {declared[found]} and in {name}")
            declared[found] = name
        pieces.append(text)
    return "".join(pieces)


def _visit(name: str, modules: Mapping[str, str], order: list[str], above: tuple[str, ...]) -> None:
    if name in above:
        raise ValueError(f"modules import each other: {' → '.join((*above, name))}")
    if name not in modules:
        raise ValueError(f"{above[-1] if above else 'the page'} imports {name}, which is missing")
    if name in order:
        return
    for needed in _IMPORT.findall(modules[name]):
        _visit(needed, modules, order, (*above, name))
    order.append(name)
