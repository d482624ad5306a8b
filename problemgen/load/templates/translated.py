"""A template in another language: an English one in; the same with its texts and its substances' names, out.

Nothing that numbers are drawn or judged by is a text: the variants and windows of a template are the same in every
language.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from functools import partial
from typing import TypeVar

from problemgen.chemistry.elements import ELEMENTS
from problemgen.language.languages import ENGLISH
from problemgen.language.messages import _, pgettext, speaking
from problemgen.model.banks import Banks, Names, Reaction, Substance
from problemgen.model.problem import Scene, Species
from problemgen.model.template import Draw, Fixed, Obtained, Reading, Template

__all__ = ["instruments_in", "translated", "untranslated"]

_ReadOff = TypeVar("_ReadOff", Draw, Obtained, Reading)

_PLACES = re.compile(r"\{\{.*?\}\}")


def translated(template: Template, language: str, banks: Banks) -> Template:
    """A template whose texts are English, in a language (BCP 47). What nobody has translated stays as it is written.

    Raises LookupError for a language without a catalogue.
    """
    if language == ENGLISH:
        return template
    with speaking(language):
        return _translated(template, banks, banks.names.get(language, Names()), instruments_in(language, banks))


def instruments_in(language: str, banks: Banks) -> Mapping[str, str]:
    """What glassware and balances are called in a language, by their English names."""
    names = banks.names.get(language, Names())
    return {banks.glassware[name].name: foreign for name, foreign in names.glassware.items()}


def _translated(template: Template, banks: Banks, names: Names, instruments: Mapping[str, str]) -> Template:
    bottles = {banks.bottles[name].name: foreign for name, foreign in names.bottles.items()}
    substances = partial(_substances, names)
    reactions = {one.id: _reaction(one) for one in (template.reaction, *template.further) if one is not None}
    return replace(
        template,
        title=_(template.title),
        topic=_(template.topic),
        story=_story(template.story),
        because=_(template.because),
        reaction=reactions[template.reaction.id] if template.reaction is not None else None,
        further=tuple(reactions[one.id] for one in template.further),
        substances=substances(template.substances),
        auxiliaries=substances(template.auxiliaries),
        hazard_statements={**template.hazard_statements, **names.statements},
        scene=_scene(template.scene, names),
        samples={name: _(called) for name, called in template.samples.items()},
        fixed=tuple(_fixed(one, bottles) for one in template.fixed),
        parts=tuple(replace(part, prompt=_(part.prompt)) for part in template.parts),
        draws=tuple(_read_off(one, instruments) for one in template.draws),
        hidden=tuple(_read_off(one, instruments) for one in template.hidden),
        obtained=tuple(_read_off(one, instruments) for one in template.obtained),
        readings=tuple(_read_off(one, instruments) for one in template.readings),
    )


def _story(story: str) -> str:
    """A story; as it is written where a translation would leave out a given value, or tell another one."""
    told = _(story)
    return told if sorted(_PLACES.findall(told)) == sorted(_PLACES.findall(story)) else story


def _reaction(reaction: Reaction) -> Reaction:
    above, below = (pgettext("at the arrow", text) for text in (reaction.above, reaction.below))
    return reaction.model_copy(update={"above": above, "below": below})


def _substances(names: Names, substances: Mapping[str, Substance]) -> dict[str, Substance]:
    return {
        name: one.model_copy(update={"name": names.substances[name]}) if name in names.substances else one
        for name, one in substances.items()
    }


def _scene(scene: Scene, names: Names) -> Scene:
    return replace(scene, species={name: _species(one, names) for name, one in scene.species.items()})


def _species(species: Species, names: Names) -> Species:
    """A species by its name in the language; the English one is understood in answers all the same."""
    is_element = ELEMENTS.get(species.id) == species.name
    name = names.elements.get(species.id) if is_element else names.substances.get(species.id)
    return species.called(name or _(species.name))


def _fixed(fixed: Fixed, bottles: Mapping[str, str]) -> Fixed:
    return replace(fixed, note=bottles.get(fixed.note, _(fixed.note)))


def _read_off(one: _ReadOff, instruments: Mapping[str, str]) -> _ReadOff:
    return replace(one, instrument=instruments.get(one.instrument, one.instrument))


def untranslated(template: Template, language: str) -> tuple[str, ...]:
    """Which texts of an English template nobody has translated: "title", "story", "the prompt of part (b)"."""
    with speaking(language):
        texts = {"title": template.title, "topic": template.topic, "story": template.story}
        texts |= {f"prompt {index}": part.prompt for index, part in enumerate(template.parts, start=1)}
        return tuple(what for what, text in texts.items() if text and _(text) == text)
