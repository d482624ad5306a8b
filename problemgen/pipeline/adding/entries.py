"""Values put into an entry of a course's banks; one that comes with the program is first written over there."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Mapping, Sequence
from decimal import Decimal
from typing import Any, Literal, TypeAlias

import tomlkit

from problemgen.errors import Fault, FaultsError
from problemgen.load.resources import banks_folder
from problemgen.pipeline.adding.drafts import Draft, entry_text, item_of
from problemgen.write.pieces import groups_of, pieces_of, put

__all__ = ["Bank", "is_own", "with_values"]

Bank: TypeAlias = Literal["substance", "hazard", "reaction"]

_KEYS: Mapping[Bank, str] = {"substance": "id", "hazard": "of", "reaction": "id"}
"""By what the entries of a bank go."""

_OURS = "# In the place of the entry that comes with the program."


def is_own(draft: Draft, bank: Bank, name: str) -> bool:
    """Whether a course's own bank has an entry."""
    return _listed(draft.text(_file(bank)), bank, name) is not None


def with_values(
    draft: Draft, bank: Bank, name: str, values: Mapping[str, Any], mended: Callable[[str], str] = str
) -> Draft:
    """A draft whose course has an entry with these values; None takes a key out. `mended` is done to its text.

    An entry of the course is changed where it stands, with its comments; of one that comes with the program the whole
    is written into the course's bank, with its source; one that nobody has is new. Raises FaultsError where the file
    cannot take it.
    """
    text = draft.text(_file(bank))
    if _listed(text, bank, name) is not None:
        return draft.with_text(_file(bank), _changed(draft, text, bank, name, values, mended))
    shipped = (banks_folder() / f"{bank}s.toml").read_text(encoding="utf-8")
    before = _listed(shipped, bank, name)
    if before is None:
        return draft.with_entry(f"{bank}s", entry_text(f"[[{bank}]]", {_KEYS[bank]: name, **values}))
    source = tomllib.loads(shipped)["about"]["source"]
    whole = {"source": source, **before, **values}
    whole["source"] = whole.pop("source")  # last, as it stands in all entries
    said = {key: value for key, value in whole.items() if value is not None}
    return draft.with_entry(f"{bank}s", entry_text(f"{_OURS}\n[[{bank}]]", said))


def _file(bank: Bank) -> str:
    return f"banks/{bank}s.toml"


def _listed(text: str, bank: Bank, name: str) -> Mapping[str, Any] | None:
    """An entry of a file's text; None for one that it does not have."""
    listed: Sequence[Mapping[str, Any]] = tomllib.loads(text, parse_float=Decimal).get(bank, ())
    return next((one for one in listed if one[_KEYS[bank]] == name), None)


def _changed(
    draft: Draft, text: str, bank: Bank, name: str, values: Mapping[str, Any], mended: Callable[[str], str]
) -> str:
    """A file's text with the values in one entry, all else as it is."""
    pieces = pieces_of(text)
    for group in groups_of(pieces, bank):
        entry = "".join(one.text for one in group)
        if _listed(entry, bank, name) is None:
            continue
        document: Any = tomlkit.parse(mended(entry))
        for key, value in values.items():
            put(document[bank][0], key, None if value is None else item_of(value))
        place = pieces.index(group[0])
        before, after = ("".join(one.text for one in part) for part in (pieces[:place], pieces[place + len(group) :]))
        return before + tomlkit.dumps(document) + after
    found = f"the entry {name!r} in another notation"
    raise FaultsError([Fault(str(draft.folder / _file(bank)), name, found, "entries as tables in [[ ]]")])
