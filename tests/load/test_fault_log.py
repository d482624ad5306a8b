"""Faults of a file are kept with their place, those of other files among them, and come at once."""

from __future__ import annotations

from typing import NoReturn

import pytest

from problemgen.errors import Fault, FaultsError
from problemgen.load.fault_log import FaultLog, nearest


def refused() -> NoReturn:
    FaultLog("b.toml").refuse("x", "1", "2")


def test_a_key_is_told_with_its_place() -> None:
    log = FaultLog("a.toml")
    part = log.at("part", 2)
    part.add("of", "nothing", "a species")
    part.add("", "twice", "once", "Leave one out.")
    part.at("unit").add("", "'mm'", "a unit")
    log.add("title", "nothing", "text")
    assert [str(fault) for fault in log.faults] == [
        "a.toml: part.2.of: found nothing; expected a species",
        "a.toml: part.2: found twice; expected once. Leave one out.",
        "a.toml: part.2.unit: found 'mm'; expected a unit",
        "a.toml: title: found nothing; expected text",
    ]


def test_an_unknown_name_brings_the_known_ones_and_the_nearest() -> None:
    log = FaultLog("a.toml")
    log.unknown("kind", "volumes", ["mass", "volume"])
    log.unknown("kind", "xyz", ["mass", "volume"], "a kind")
    assert log.faults == (
        Fault("a.toml", "kind", "'volumes'", "one of mass, volume", "Did you mean 'volume'?"),
        Fault("a.toml", "kind", "'xyz'", "a kind"),
    )


def test_a_log_for_another_file_keeps_into_the_same() -> None:
    log = FaultLog("a.toml", "set")
    log.of("b.toml").add("title", "nothing", "text")
    assert len(log) == 1
    assert log.faults == (Fault("b.toml", "title", "nothing", "text"),)


def test_a_fault_found_twice_is_kept_once() -> None:
    log = FaultLog("a.toml")
    for _ in range(2):
        log.add("x", "1", "2")
    assert len(log) == 1


def test_what_a_reader_raises_is_kept() -> None:
    log = FaultLog("a.toml")
    assert log.tried(lambda: 3) == 3
    assert log.tried(refused) is None
    assert log.faults == (Fault("b.toml", "x", "1", "2"),)


def test_what_others_tell_is_kept_once() -> None:
    log = FaultLog("a.toml")
    fault = Fault("b.toml", "x", "1", "2")
    log.keep([fault, fault])
    log.keep([fault])
    assert log.faults == (fault,)


def test_an_empty_log_does_not_stop() -> None:
    FaultLog("a.toml").stop()


def test_stopping_and_refusing_bring_all_that_was_kept() -> None:
    log = FaultLog("a.toml")
    log.add("x", "1", "2")
    with pytest.raises(FaultsError, match=r"^a\.toml: x: found 1; expected 2$"):
        log.stop()
    with pytest.raises(FaultsError) as caught:
        log.refuse("y", "3", "4", "Hint.")
    assert [fault.key for fault in caught.value.faults] == ["x", "y"]


@pytest.mark.parametrize(
    ("found", "hint"),
    [("concentratoin", "Did you mean 'concentration'?"), ("volumes", "Did you mean 'volume'?"), ("xyz", "")],
)
def test_the_nearest_known_word_is_the_hint(found: str, hint: str) -> None:
    assert nearest(found, ["concentration", "volume", "mass"]) == hint
