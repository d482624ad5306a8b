"""The same secret, set and student give the same variant on any machine, in any place, in any run."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]

PROGRAM = """
from pathlib import Path
from problemgen.load.banks.banks import load_banks
from problemgen.load.templates.template import load_template
from problemgen.make.candidates import Stream
from problemgen.make.variants import Maker
banks = load_banks(Path("banks"))
for name in ("yield/zinc-iodide", "preparations/triphenylmethanol", "gases/hydrogen-from-aluminium"):
    template = load_template(Path("templates") / f"{name}.toml", name, banks)
    for variant in Maker(template, Stream(b"secret", "set", "1")).variants([f"s{n}" for n in range(12)]):
        print(variant.student, [(n, d.written.text, d.unit) for n, d in variant.given.items()])
        print([str(answer) for answer in variant.answers])
        print([(name, str(value)) for name, value in variant.values.items()], variant.flask)
"""


def printed(**environment: str) -> str:
    run = subprocess.run(  # noqa: S603 - this Python, and a program that stands above
        [sys.executable, "-W", "error", "-c", PROGRAM],
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": str(ROOT), "PYTHONIOENCODING": "utf-8", **environment},
        capture_output=True,
        check=True,
        text=True,
        encoding="utf-8",
    )
    return run.stdout


@pytest.fixture(scope="module")
def usual() -> str:
    return printed(PYTHONHASHSEED="0", TZ="UTC", LC_ALL="C.UTF-8")


@pytest.mark.parametrize(
    "environment",
    [
        {"PYTHONHASHSEED": "1", "TZ": "Pacific/Auckland", "LC_ALL": "C"},
        {"PYTHONHASHSEED": "4242", "TZ": "America/St_Johns", "LC_ALL": "de_DE.UTF-8", "OMP_NUM_THREADS": "1"},
    ],
    ids=["auckland", "st-johns"],
)
def test_hash_seed_time_zone_and_locale_change_no_variant(usual: str, environment: dict[str, str]) -> None:
    assert usual.count("\n") == 3 * 12 * 3
    assert printed(**environment) == usual
