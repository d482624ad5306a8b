"""A template written for a reaction: ranges on its scale, the usual parts, tried until a check finds nothing."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from typing import Any

import tomlkit

from problemgen.errors import Fault, FaultsError, OutputError
from problemgen.load.fault_log import nearest
from problemgen.load.resources import SET_FILE
from problemgen.load.templates.template import load_template
from problemgen.model.banks import Banks, Reaction
from problemgen.pipeline.adding.drafts import Draft, entry_text
from problemgen.pipeline.adding.measures import Measure, balance_for, measures_of
from problemgen.pipeline.adding.names import Names
from problemgen.pipeline.adding.vessels import molar_mass
from problemgen.pipeline.template_trial import tried
from problemgen.scratch import scratch

__all__ = ["SPREAD", "AddedTemplate", "add_template", "middle_of", "template_text"]

_FOLDER = "preparations"

_SPREADS = ((0.75, 1.35), (0.7, 1.5), (0.6, 1.6))
"""The ranges of what a reagent allows, in parts of the middle of the scale: wide enough that each may limit."""

SPREAD = _SPREADS[0]
"""The range that is proposed first."""

_SCALES = (1.0, 1.4, 0.7, 2.0, 0.5)
"""The middles that are tried, in parts of the reaction's own: another one may suit the glassware better."""

_MARKUP = frozenset("{}%*_`<>[]\\#&|~$")
"""Letters of a name that would mean something else in a story."""

_WIDE = 110
"""Where a line of a story is broken: shorter than what `check` allows, for a name is not broken."""

_UNSHOWN = re.compile(r"the mistake '(density-forgotten:[^']+)'[^']*which no asked part ever shows")
"""The remark of a check on a density so near to 1 g/mL that an answer without it is as good."""

_PLAIN_NAME = re.compile("[0-9,-]*[a-z]{2}")
"""A name whose first letters are a word's: not N,N-dimethyl…, pH or p-toluidine."""

_SECOND_SHEET = 'session = 2\ntitle = "After the session"\n'


@dataclass(frozen=True)
class AddedTemplate:
    """The id of a template, the draft that has it, what to say, and what a check still finds."""

    id: str
    draft: Draft
    told: tuple[str, ...]
    faults: tuple[Fault, ...] = ()
    remarks: tuple[Fault, ...] = ()


@dataclass(frozen=True)
class _Attempt:
    """A template's text and what a check says of it."""

    text: str
    faults: tuple[Fault, ...] = ()
    remarks: tuple[Fault, ...] = field(default_factory=tuple)

    @property
    def rank(self) -> tuple[int, int]:
        return len(self.faults), len(self.remarks)


def add_template(draft: Draft, name: str, into: str) -> AddedTemplate:
    """Write the template of a reaction, and put it into a set of the course where one is named.

    Raises:
        FaultsError: for no such reaction, and no such set.
        OutputError: for a template that is there already.
    """
    reaction = _reaction(draft.banks, name)
    template_id = f"{_FOLDER}/{reaction.id}"
    if template_id in draft.course.templates:
        template_id += "-own"
    file = f"templates/{template_id}.toml"
    if (draft.folder / file).exists():
        hint = "Change it, or take it away first."
        raise OutputError(f"{draft.folder / file} is there already; nothing was written. {hint}")
    best = _best(draft.banks, reaction, template_id)
    draft = draft.with_text(file, best.text)
    told = [f"Written to {file}."]
    lines = f'[[problem]]\ntemplate = "{template_id}"\n'
    if into:
        draft, more = _into_set(draft, into, lines)
        told += more
    else:
        told += ["To use it, add to the set.toml of a set:", *(f"  {line}" for line in lines.splitlines())]
        told += ["and a sheet for the second session, where it has none:", "  [[sheet]]"]
        told += [f"  {line}" for line in _SECOND_SHEET.splitlines()]
    return AddedTemplate(template_id, draft, tuple(told), best.faults, best.remarks)


def _reaction(banks: Banks, name: str) -> Reaction:
    """A reaction by its id, or by its product where that has only one. Raises FaultsError."""
    if name in banks.reactions:
        return banks.reactions[name]
    product = Names(banks).find(name)
    found = [one for one in banks.reactions.values() if product is not None and one.product == product[0]]
    if len(found) == 1:
        return found[0]
    hint = nearest(name, banks.reactions) or "`problemgen list --reactions` shows those that there are."
    if found:
        hint = f"One of {', '.join(one.id for one in found)}."
    raise FaultsError([Fault("add", "reaction", repr(name), "the id of a reaction, or its product", hint)])


def _best(banks: Banks, reaction: Reaction, template_id: str) -> _Attempt:
    """The template of which a check says least, over several ranges."""
    with scratch() as aside:
        path = aside / f"{reaction.id}.toml"
        tries = (_told_to_hide(banks, path, template_id, text) for text in _texts(reaction, banks))
        best = next(tries)
        for one in tries:
            if best.rank == (0, 0):
                break
            best = min(best, one, key=lambda attempt: attempt.rank)
        return best


def _texts(reaction: Reaction, banks: Banks) -> Iterator[str]:
    """The template over other ranges, the likeliest first."""
    for spread in _SPREADS:
        for part in _SCALES:
            middle = middle_of(reaction) * part
            yield _text(reaction, banks, measures_of(reaction, banks, middle, spread), middle)


def _told_to_hide(banks: Banks, path: Path, template_id: str, text: str) -> _Attempt:
    """A template tried; of a liquid as dense as water it is said that a density left out need not show."""
    first = _tried(banks, path, template_id, text)
    hiding = [match[1] for match in map(_UNSHOWN.search, map(str, first.remarks)) if match]
    if first.faults or not hiding:
        return first
    listed = ", ".join(f'"{one}"' for one in hiding)
    waived = text.replace("\n\n[given", f"\nmay_hide = [{listed}] # nearly as dense as water\n\n[given", 1)
    return min(first, _tried(banks, path, template_id, waived), key=lambda attempt: attempt.rank)


def _tried(banks: Banks, path: Path, template_id: str, text: str) -> _Attempt:
    path.write_text(text, encoding="utf-8")
    try:
        template = load_template(path, template_id, banks)
    except FaultsError as error:
        return _Attempt(text, error.faults)
    trial = tried(template, path)
    return _Attempt(text, trial.faults, trial.remarks)


def template_text(banks: Banks, reaction: Reaction) -> str:
    """The text of a template that is proposed for a reaction: the one of which a check says least."""
    return _best(banks, reaction, f"{_FOLDER}/{reaction.id}").text


def middle_of(reaction: Reaction) -> float:
    """The extent in the middle of a reaction's scale, mmol; 10 where it tells none, a small preparation."""
    nu = reaction.coefficients[reaction.product]
    if reaction.product_scale_mmol is None:
        return 10.0 / nu
    low, high = (float(one.value) for one in reaction.product_scale_mmol)
    return float((low * high) ** 0.5) / nu


def _text(reaction: Reaction, banks: Banks, measures: Sequence[Measure], middle: float) -> str:
    """The file."""
    measured = [one for one in measures if one.how != "in excess"]
    several = len(measured) > 1
    product = reaction.product
    head = {
        "title": _upper(banks.substances[product].name),
        "topic": "preparations",
        "difficulty": _difficulty(reaction, measures),
        "trains": _trains(measures, several=several),
        "reaction": reaction.id,
        "story": _story(reaction, banks),
    }
    grams = middle * reaction.coefficients[product] * molar_mass(banks, product) / 1000
    low, high = (Decimal(number.text) for number in reaction.yield_percent)
    obtained = {"percent_yield": [low, high], "unit": "g", "read": balance_for(grams * float(low) / 100)}
    given = [(one.name, one.values, tuple(filter(None, [one.remark]))) for one in measures]
    given.append((product, {"obtained": obtained}, ()))
    tables = [
        entry_text(f"[given.{tomlkit.key(name).as_string()}]", values, {}, notes) for name, values, notes in given
    ]
    parts = [entry_text("[[part]]", one) for one in _parts(measured, several=several)]
    return "\n".join((entry_text("", head), *tables, *parts))


def _parts(measured: Sequence[Measure], *, several: bool) -> Iterator[Mapping[str, Any]]:
    """What is asked: before the session all but the percent yield."""
    yield {"quantity": "amount", "of": "each reagent" if several else measured[0].name, "unit": "mmol"}
    if several:
        yield {"quantity": "amount", "of": "product", "from": "each reagent", "unit": "mmol"}
        yield {"quantity": "limiting_reagent"}
    yield {"quantity": "mass", "of": "product", "unit": "g", "points": 2}
    yield {"quantity": "percent_yield", "unit": "%", "points": 2, "session": 2}


def _difficulty(reaction: Reaction, measures: Sequence[Measure]) -> int:
    """From 2; one more for a ratio other than 1 : 1, one more for a solution."""
    ratio = any(abs(nu) > 1 for nu in reaction.coefficients.values())
    return 2 + ratio + any(one.how == "in solution" for one in measures)


def _trains(measures: Sequence[Measure], *, several: bool) -> str:
    hows = {"weighed": "by mass", "poured": "by volume", "in solution": "as a solution", "as a gas": "as a gas"}
    told = list(dict.fromkeys(hows[one.how] for one in measures if one.how in hows))
    middle = ", what each could give, the limiting reagent" if several else ""
    return f"amounts {' and '.join(told)}{middle}, theoretical yield before the session, percent yield after it"


def _story(reaction: Reaction, banks: Banks) -> str:
    """One sentence or two, in lines that a check lets pass."""
    names = {nu > 0: [] for nu in (-1, 1)}  # type: dict[bool, list[str]]
    for name, nu in reaction.coefficients.items():
        names[nu > 0].append(banks.substances[name].name)
    reagents, product = names[False], banks.substances[reaction.product].name
    told = f"{_upper(_row(reagents))} {'give' if len(reagents) > 1 else 'gives'} {product}."
    if _MARKUP & set(told):
        told = "The product is made from the reagents below."
    dry = " dry" if banks.substances[reaction.product].state == "solid" else ""
    sentences = f"{told} In the second session the product is weighed{dry}."
    lines = [""]
    for word in sentences.split():
        longer = f"{lines[-1]} {word}".strip()
        if len(longer) > _WIDE and lines[-1]:
            lines.append(word)
        else:
            lines[-1] = longer
    return "\n".join(lines)


def _row(names: Sequence[str]) -> str:
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))


def _upper(text: str) -> str:
    """With a capital, behind the figures that a name begins with: "2-Methylfuran"."""
    return re.sub("[a-z]", lambda match: match[0].upper(), text, count=1) if _PLAIN_NAME.match(text) else text


def _into_set(draft: Draft, name: str, lines: str) -> tuple[Draft, list[str]]:
    """A problem more at the end of a set of the course, and a sheet for the second session where it has none."""
    folder = draft.course.set_folder(Path(name))
    file = (folder / SET_FILE).resolve()
    if not file.is_relative_to(draft.folder):
        known = [one.removeprefix("sets/") for one in draft.course.course_sets]
        hint = nearest(name, known) or f"`problemgen copy {name}` makes a copy in the course."
        raise FaultsError([Fault("add", "set", repr(name), "a set of the course", hint)])
    place = file.relative_to(draft.folder).as_posix()
    written = tomlkit.parse(draft.text(place))
    (wanted,) = (one["template"] for one in tomlkit.parse(lines)["problem"])
    if wanted in (one.get("template") for one in written.get("problem", [])):
        return draft, [f"{place} has a problem of this template already: nothing was added to it."]
    sessions = [one.get("session") for one in written.get("sheet", [])]
    sheet = f"[[sheet]]\n{_SECOND_SHEET}\n" if 2 not in sessions else ""
    told = [f"Added to {place} as its last problem{', with a sheet for the second session' if sheet else ''}."]
    return draft.with_entries(place, sheet + lines), told
