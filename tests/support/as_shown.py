"""What the desk's page sends of a template when nothing on it was changed."""

from __future__ import annotations

from problemgen.desk.set_files.saving import seen
from problemgen.desk.template_files.shown import SubstanceShown, shown
from problemgen.desk.template_files.wanted import WantedGiven, WantedPart, WantedTemplate
from problemgen.model.banks import Banks

__all__ = ["as_shown"]


def as_shown(template_id: str, text: str, banks: Banks, *, new: bool = False) -> WantedTemplate:
    """What is wanted of a template that is to stay as it is."""
    read = shown(text, banks, f"{template_id}.toml")
    head = read.head
    given = {one.id: _given(one) for one in read.substances if any(w.chosen for w in one.ways) or one.obtained}
    return WantedTemplate(
        seen="" if new else seen(text),
        base=text,
        id=template_id,
        title=head["title"],
        topic=head["topic"],
        difficulty=head["difficulty"],
        trains=head.get("trains", ""),
        story=head.get("story", ""),
        always_limits=head.get("always_limits", ""),
        because=head.get("because", ""),
        may_hide=tuple(head.get("may_hide", ())),
        given={name: one for name, one in given.items() if one != WantedGiven()},
        parts=tuple(
            WantedPart(was=one.was, keys=one.keys, unit=one.unit, points=one.points, prompt=one.prompt,
                       session=one.session)
            for one in read.parts
        ),
    )  # fmt: skip


def _given(one: SubstanceShown) -> WantedGiven:
    way = next((way for way in one.ways if way.chosen), None)
    return WantedGiven(
        values={field.kind: dict(field.keys) for field in (way.fields if way is not None else ())},
        bottle=way.bottle if way is not None else "",
        weighed_as=way.weighed_as if way is not None else "",
        in_excess=one.in_excess,
        percent_yield=one.obtained,
    )
