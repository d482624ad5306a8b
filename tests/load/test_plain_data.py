"""TOML and JSON from outside: digits are kept, and what would stall a reader is one fault."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from problemgen.errors import FaultsError
from problemgen.load.documents import read_document
from problemgen.load.fault_log import FaultLog
from problemgen.load.plain_data import read_json, read_toml
from problemgen.model.document import Document, Number

DEEP = "found tables or lists nested more than 32 deep; expected at most 32 levels"
LONG = "numbers of at most 100 digits"


WANT = f"expected {LONG}"


class Weighing(Document):
    mass: Number


def read(folder: Path, name: str, text: str) -> Any:
    path = folder / name
    path.write_bytes(text.encode())
    return (read_json if name.endswith("json") else read_toml)(path, FaultLog(str(path)))


def test_digits_are_kept(tmp_path: Path) -> None:
    assert str(read(tmp_path, "a.toml", "a = 1_0.0500\r\n")["a"]) == "10.0500"
    assert read(tmp_path, "a.json", '{"a": 0.0500}') == {"a": Decimal("0.0500")}
    assert read(tmp_path, "a.toml", "a = -inf") == {"a": Decimal("-inf")}
    assert read(tmp_path, "a.toml", 'a = """x\r\ny"""') == {"a": "x\ny"}


@pytest.mark.parametrize(
    ("name", "text", "fault"),
    [
        ("a.toml", "a = " + "[" * 5000 + "]" * 5000, DEEP),
        ("a.toml", "a = " + "[" * 40 + "]" * 40, DEEP),
        ("a.toml", "a = " + "{b=" * 300 + "1" + "}" * 300, DEEP),
        ("a.toml", ".".join("a" * 5000) + " = 1", DEEP),
        ("a.toml", f"[{'.'.join('a' * 5000)}]", DEEP),
        ("a.toml", "a = " + "9" * 5000, f"found a whole number of thousands of digits; expected {LONG}"),
        ("a.toml", "a = " + "9" * 101, f"a: found a whole number of more than 100 digits; expected {LONG}"),
        (
            "a.toml",
            "[[b]]\na = 0x" + "f" * 9000,
            f"b.1.a: found a whole number of more than 100 digits; expected {LONG}",
        ),
        ("a.toml", "a = 1\n" + "#" * (1 << 21), "found more than 2,097,152 bytes; expected a file of at most so many."),
        ("a.json", "[" * 100_000, DEEP),
        ("a.json", "[" * 100_000 + "]" * 100_000, DEEP),
        ("a.json", '{"a":' * 40 + "1" + "}" * 40, DEEP),
        ("a.json", "9" * 5000, f"found a whole number of thousands of digits; expected {LONG}"),
        ("a.json", " " * (1 << 21) + "1", "found more than 2,097,152 bytes; expected a file of at most so many."),
        ("a.json", '{"a": 1, "a": 2}', "found a slip in the notation: one key twice among a, a; expected valid JSON"),
    ],
)
def test_what_is_beyond_a_limit_is_one_fault(tmp_path: Path, name: str, text: str, fault: str) -> None:
    with pytest.raises(FaultsError) as caught:
        read(tmp_path, name, text)
    (told,) = caught.value.faults
    assert str(told).startswith(f"{tmp_path / name}: {fault}")


@pytest.mark.parametrize("number", ["1e99999999999", "-1e-99999999999", "1e99999999999999999999999", "1e1000", "inf"])
def test_a_number_beyond_all_laboratories_is_a_fault_of_its_key(tmp_path: Path, number: str) -> None:
    path = tmp_path / "a.toml"
    path.write_text(f"mass = {number}\n", encoding="utf-8")
    with pytest.raises(FaultsError) as caught:
        read_document(path, Weighing)
    (fault,) = caught.value.faults
    assert (fault.key, fault.expected[:8]) == ("mass", "a number")


def test_a_decimal_with_a_great_exponent_is_not_written_out() -> None:
    with pytest.raises(ValueError, match="beyond 999"):
        Weighing(mass=Decimal("1e999999999"))  # type: ignore[arg-type]  # it is read from a decimal
