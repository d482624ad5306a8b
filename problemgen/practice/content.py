"""What the practice page holds: templates with their plans, and problems with numbers, hints and worked solutions."""

from __future__ import annotations

import hashlib
import json
from bisect import bisect_left
from collections import ChainMap
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain, islice
from typing import Any

from problemgen.chemistry.units import unit_text
from problemgen.language.languages import direction
from problemgen.language.messages import _, spoken
from problemgen.language.numbers import decimal_mark, locale_of
from problemgen.model.answers import PART_FORM, PLAN_FORM
from problemgen.model.banks import Banks, Names
from problemgen.model.blocks import Block, Line, Prose, Scheme
from problemgen.model.fixed import Datum
from problemgen.model.quantity import KINDS, Quantity
from problemgen.model.story import told_story
from problemgen.model.template import Template, label_of
from problemgen.model.truths import Truth, truth_data
from problemgen.model.variant import Variant
from problemgen.plan.answering import datum_windows
from problemgen.plan.arithmetic import Window
from problemgen.plan.forms import form_of
from problemgen.plan.ideas import error_of
from problemgen.practice.hints import hints_of
from problemgen.practice.ideas import IDEAS, ideas_of_part, ideas_of_steps
from problemgen.practice.lists import elements_list, units_list
from problemgen.practice.packing import Packed, Packer, shrunk
from problemgen.practice.page import Words
from problemgen.practice.printing import Printer
from problemgen.practice.rules import page_rules
from problemgen.practice.tries import tries_data
from problemgen.render.key.answers import template_key
from problemgen.render.key.variant_key import numbers_of
from problemgen.render.printers.html import fragment, inline
from problemgen.render.sheet.sheet import problem_blocks
from problemgen.render.words.given_words import notes_blocks, numbers_blocks, told_values
from problemgen.render.words.prompts import prompt_of, quantity_text
from problemgen.render.words.prose import story_blocks
from problemgen.render.words.symbols import symbol
from problemgen.render.worked.solution import SolvedPart, worked_solution

__all__ = ["Contents", "Entry", "entry_of", "given_windows", "page_data", "printed_values"]

_CODE_DIGITS = 8
"""Of a digest in hexadecimals: among the forty variants of a template two are alike in one page of five million."""


@dataclass(frozen=True)
class Entry:
    """One template with its problems, as the page carries it, and the titles of its mistakes by family."""

    template: Mapping[str, Any]
    titles: Mapping[str, str]


class Contents:
    """Gathers the templates of a page."""

    def __init__(self, layouts: Mapping[str, str]) -> None:
        """`layouts` holds the texts of the layout folder by file name."""
        self._layouts = layouts
        self._entries: list[Entry] = []

    def add(self, template: Template, variants: Iterable[Variant]) -> None:
        """One template with its variants: at least one."""
        self.take(entry_of(template, variants, self._layouts))

    def take(self, entry: Entry) -> None:
        """One template that was made elsewhere."""
        self._entries.append(entry)

    @property
    def problems(self) -> int:
        """How many problems there are of all templates."""
        return sum(len(entry.template["codes"]) for entry in self._entries)

    def data(self) -> dict[str, Any]:
        """The templates, each with its body for later; the ideas they exercise; the titles of mistakes by family."""
        met = {idea for entry in self._entries for idea in entry.template["ideas"]}
        return {
            "templates": [entry.template for entry in self._entries],
            "ideas": [{"key": idea.key, "title": _(idea.title)} for idea in IDEAS if idea.key in met],
            "titles": dict(ChainMap(*(dict(entry.titles) for entry in self._entries))),
        }


def entry_of(template: Template, variants: Iterable[Variant], layouts: Mapping[str, str]) -> Entry:
    """What a page carries of a template with its variants, in the language spoken: at least one."""
    return _Maker(template, layouts).entry(list(variants))


class _Maker:
    """Makes what a page carries of one template."""

    def __init__(self, template: Template, layouts: Mapping[str, str]) -> None:
        self._layouts = layouts
        self._packer = Packer()
        names = {one.formula.text: one.name for one in template.scene.species.values() if one.formula}
        self._printer = Printer(layouts, names)
        self._about = template

    def entry(self, variants: Sequence[Variant]) -> Entry:
        """The entry with these variants."""
        template, body = self._about, self._body(self._about, variants[0])
        body["problems"] = [self._problem(variant) for variant in variants]
        self._packer.settle()
        body["skeletons"] = self._packer.skeletons
        tries = [one for some in body["key"]["tries"]["steps"] for one in some]
        head = {
            "id": template.id,
            "title": template.title,
            "topic": template.topic,
            "level": _level(template),
            "ideas": list(dict.fromkeys(idea for part in body["parts"] for idea in part["ideas"])),
            "drills": _drills(body["parts"]),
            "codes": [problem["code"] for problem in body["problems"]],
            "body": shrunk(body),
        }
        return Entry(head, {error_of(mistake): title for mistake, *_rest, title, _sentence, _point in reversed(tries)})

    def _body(self, template: Template, variant: Variant) -> dict[str, Any]:
        """What the page unpacks when a problem of the template is opened."""
        key = template_key(template, template.id)
        first = min(part.session for part in template.parts)
        schemes = [block for block in problem_blocks(variant, first) if isinstance(block, Scheme)]
        return {
            "scheme": fragment(schemes, self._layouts) if schemes else "",
            "step_ideas": ideas_of_steps(template.plan),
            "step_words": [self._step_words(template, step.quantity) for step in template.plan.steps],
            "parts": [self._part(template, index) for index in range(len(template.parts))],
            "key": {
                "plan": _without(PLAN_FORM.data(key.plan), "mistakes"),
                "parts": [_without(PART_FORM.data(part), "points", "prompt", "session") for part in key.parts],
                "tries": tries_data(key, variant.given),
            },
        }

    def _part(self, template: Template, index: int) -> dict[str, Any]:
        part, before = template.parts[index], [one.asked.quantity.id for one in template.parts[:index]]
        return {
            "label": label_of(index),
            "ideas": ideas_of_part(template.plan, part.asked, before),
            "form": part.asked.form,
            "unit": part.asked.unit,
            "unit_html": self._inline((Prose(unit_text(part.asked.unit)),)),
            "prompt": self._inline(prompt_of(template, part)),
            "choices": [
                {"id": option.id, "html": self._inline(option.words)}
                for option in form_of(part.asked).options(template.scene, template.plan, part.asked)
            ],
        }

    def _step_words(self, template: Template, quantity: Quantity) -> list[str]:
        """What a step leads to: its symbol, and the unit that the trade uses for it."""
        return [self._inline((symbol(template.scene, quantity),)), KINDS[quantity.kind].unit]

    def _problem(self, variant: Variant) -> dict[str, Any]:
        template = variant.template
        written = {name: [d.written.text, d.written.place, d.unit] for name, d in sorted(variant.given.items())}
        parts = [SolvedPart(part.id, label_of(i), part.asked) for i, part in enumerate(template.parts)]
        worked = worked_solution(template.scene, template.plan, parts, numbers_of(variant))
        helped = zip(hints_of(variant, worked), worked, strict=True)
        help_by_part = [(*hints, one.blocks) for hints, one in helped]
        story, numbers = tuple(_story(variant)), tuple(_numbers(variant))
        printed = iter(self._printer.printed(chain(story, numbers, *chain(*help_by_part))))
        return {
            "code": _code(template.id, written),
            "given": given_windows(variant.given),
            "printed": printed_values(variant.given),
            "answers": {
                part.id: _judged_by(truth.in_file) for part, truth in zip(template.parts, variant.answers, strict=True)
            },
            "story": self._pack(printed, story),
            "numbers": self._pack(printed, numbers),
            "help": [[self._pack(printed, blocks) for blocks in one] for one in help_by_part],
        }

    def _pack(self, printed: Iterator[str], blocks: Sequence[Block]) -> Packed:
        """Pack as many of the next printed texts as there are blocks."""
        return self._packer.pack("\n".join(islice(printed, len(blocks))))

    def _inline(self, line: Line) -> str:
        return inline(line, self._layouts)


def given_windows(given: Mapping[str, Datum]) -> dict[str, list[Any]]:
    """The windows of given values in engine units, by quantity id: value, figures, and bounds where it is no point."""
    return {name: _window(window) for name, window in datum_windows(given).items()}


def printed_values(given: Mapping[str, Datum]) -> dict[str, list[Any]]:
    """Given values as they are printed, by quantity id: the number, its figures, its unit."""
    return {name: [datum.written.text, datum.written.figures, datum.unit] for name, datum in given.items()}


def _window(window: Window) -> list[Any]:
    bounds = [] if window.is_point else [str(window.low), str(window.high)]
    return [str(window.value), window.figures, *bounds]


def _story(variant: Variant) -> Iterable[Block]:
    template = variant.template
    printed = {quantity: quantity_text(variant.given[quantity.id]) for quantity in template.scene.given}
    yield from story_blocks(told_story(template.story, printed))


def _numbers(variant: Variant) -> Iterable[Block]:
    """The data of all sessions."""
    template = variant.template
    yield from numbers_blocks(template.scene.species, told_values(template), variant.given)
    yield from notes_blocks(template.scene, template.plan)


def _judged_by(truth: Truth) -> dict[str, Any]:
    """What the page needs of an answer to judge by it; the worked solution tells the number."""
    return _without(truth_data(truth), "printed")


def _without(data: Mapping[str, Any], *left_out: str) -> dict[str, Any]:
    return {key: value for key, value in data.items() if key not in left_out}


def _drills(parts: Sequence[Mapping[str, Any]]) -> dict[str, str]:
    """For an idea, the part that asks for it alone: the first that exercises nothing else, of a problem of several."""
    alone = {part["ideas"][0]: part["label"] for part in reversed(parts) if len(part["ideas"]) == 1}
    return alone if len(parts) > _SHORT else {}


_SHORT = 2
"""Questions of a problem that is as short as a drill."""
_PARTS_OF_A_LEVEL = (2, 4, 6, 9)
"""The most questions of a problem of each level, from the first on; more are of the last."""


def _level(template: Template) -> int:
    """How long a problem is: the level on the page says what a student can see, the number of its questions."""
    return bisect_left(_PARTS_OF_A_LEVEL, len(template.parts)) + 1


def _code(template: str, given: Mapping[str, Any]) -> str:
    """What a link calls a problem: the same numbers of the same template have the same code in every file."""
    told = json.dumps([template, given], ensure_ascii=True, sort_keys=True)
    return hashlib.sha256(told.encode()).hexdigest()[:_CODE_DIGITS]


def page_data(title: str, words: Words, banks: Banks, contents: Contents) -> dict[str, Any]:
    """All that the page carries, for JSON, in the language spoken; `words` are those of the page itself."""
    language = spoken()
    return {
        "title": title,
        "language": language,
        "locale": str(locale_of(language)).replace("_", "-"),
        "direction": direction(language),
        "decimal_mark": decimal_mark(language),
        "words": words,
        "rules": page_rules(),
        "units": units_list(),
        "elements": elements_list(banks, banks.names.get(language, Names()).elements),
        "edition": banks.edition,
        **contents.data(),
    }
