"""How long the desk takes to show a problem's sheet again after one range was changed, over all shipped templates."""

from __future__ import annotations

import json
import re
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from decimal import Decimal
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import NamedTuple

import httpx
from bench_table import note, print_table

from problemgen.desk.desk import Desk
from problemgen.desk.serve import serve
from problemgen.desk.template_files.wanted import WantedGiven, WantedTemplate
from problemgen.load.sets.courses import course_of
from problemgen.model.banks import Banks
from problemgen.pipeline.new_course import new_course
from tests.support.as_shown import as_shown

__all__ = ["previews"]

AIM = 0.3
"""Seconds in which a preview should stand, for nineteen of twenty: what is slower is felt as waiting."""

SHOWN = 8
"""The slowest templates that are listed."""

_NUMBER = re.compile(r"[0-9]+(\.[0-9]+)?")


class Taken(NamedTuple):
    """Seconds of a preview: on the clock, and of the processor, with what the server's threads have used."""

    wall: float
    processor: float


@contextmanager
def _served(folder: Path) -> Iterator[httpx.Client]:
    """A desk over a course, and a client that has come in by its first link."""
    links: list[str] = []
    desks: list[Desk] = []
    ready = threading.Event()

    def tell(link: str) -> None:
        links.append(link)
        ready.set()

    given = (folder, folder, 0, tell, desks.append)
    thread = threading.Thread(target=serve, args=given, kwargs={"browser": False})
    thread.start()
    ready.wait(60)
    address = links[0].partition("/enter")[0]
    with httpx.Client(
        base_url=address, headers={"origin": address, "sec-fetch-site": "same-origin"}, timeout=120
    ) as it:
        it.get(links[0])
        try:
            yield it
        finally:
            desks[0].stop()
    thread.join(20)


def previews() -> None:
    """Print the percentiles of a preview, as a template is opened and after one of its ranges was changed."""
    opened: dict[str, Taken] = {}
    changed: dict[str, Taken] = {}
    refused = []
    with TemporaryDirectory() as place:
        course = Path(place) / "course"
        new_course(course)
        there = course_of(course)
        banks = there.banks()
        with _served(course) as client:
            for name, path in there.templates.items():
                wanted = as_shown(name, path.read_text("utf-8"), banks, new=False)
                other = _with_another_range(wanted, banks)
                opened[name], _text = _preview(client, wanted)
                if other is None:  # nothing is drawn from a range
                    continue
                changed[name], text = _preview(client, other)
                refused += [name] if "data:image" not in text else []
    _print("as it is opened", opened)
    _print("after one range was changed", changed)
    note(f"{len(changed)} templates with a range, of {len(opened)}; without a sheet: {', '.join(refused) or 'none'}.")
    slowest = sorted(changed, key=lambda name: -changed[name].processor)[:SHOWN]
    rows = [(name, *map(_milliseconds, (*changed[name], *opened[name]))) for name in slowest]
    print_table("The slowest", ("", "changed", "processor", "opened", "processor"), rows)


def _preview(client: httpx.Client, wanted: WantedTemplate) -> tuple[Taken, str]:
    fields = {"template": json.dumps(json.loads(wanted.model_dump_json())), "draw": "1"}
    wall, processor = time.perf_counter(), time.process_time()
    answer = client.post("/preview-problem", data=fields)
    taken = Taken(time.perf_counter() - wall, time.process_time() - processor)
    answer.raise_for_status()
    return taken, answer.text


def _with_another_range(wanted: WantedTemplate, banks: Banks) -> WantedTemplate | None:
    """The same with one range that ends a twentieth of itself earlier; None where there is none."""
    for name, given in wanted.given.items():
        other = _narrower(given, banks)
        if other is not None:
            return wanted.model_copy(update={"given": {**wanted.given, name: other}})
    return None


def _narrower(given: WantedGiven, banks: Banks) -> WantedGiven | None:
    for kind, keys in given.values.items():
        start, end = keys.get("from", ""), keys.get("to", "")
        if _is_range(start, end):
            glass = banks.glassware.get(keys.get("read", ""))
            step = glass.step.text if glass is not None else keys.get("step", "")
            narrow = {**keys, "to": _earlier(start, end, step)}
            return given.model_copy(update={"values": {**given.values, kind: narrow}})
    if given.percent_yield and _is_range(*given.percent_yield):
        start, end = given.percent_yield
        return given.model_copy(update={"percent_yield": (start, str(Decimal(end) - 1))})
    return None


def _is_range(start: str, end: str) -> bool:
    return all(map(_NUMBER.fullmatch, (start, end))) and Decimal(start) < Decimal(end)


def _earlier(start: str, end: str, step: str) -> str:
    """Where the range ends earlier: on a step of its own, and with as many decimals."""
    low, high = Decimal(start), Decimal(end)
    unit = Decimal(step) if _NUMBER.fullmatch(step) else Decimal(1).scaleb(high.as_tuple().exponent)  # type: ignore[arg-type]
    steps = max(int((high - low) / 20 / unit), 1)
    return str(high - steps * unit)


def _print(when: str, taken: dict[str, Taken]) -> None:
    rows = []
    for what, seconds in (("clock", [one.wall for one in taken.values()]),
                          ("processor", [one.processor for one in taken.values()])):  # fmt: skip
        ordered = sorted(seconds)
        picked = [ordered[min(int(share * len(ordered)), len(ordered) - 1)] for share in (0.5, 0.9, 0.95, 1.0)]
        within = sum(one <= AIM for one in seconds) / len(seconds)
        rows.append((what, *map(_milliseconds, picked), f"{100 * within:.0f} %"))
    header = ("", "median", "90 %", "95 %", "slowest", f"within {AIM * 1e3:.0f} ms")
    print_table(f"A preview over HTTP, {when}: {len(taken)} shipped templates", header, rows)


def _milliseconds(seconds: float) -> str:
    return f"{seconds * 1e3:.0f} ms"
