"""Files that sheets are bound into, against what another package can check of PDF/UA-1 (ISO 14289-1)."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.support.small_class import build_small, write_class

pdfua = pytest.importorskip("pdfua")

BROKEN = {"UA-14-001"}
"""A rule of the package that gives up on every outline: it asks a destination, which is an array, for a key."""


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("class")
    write_class(folder)
    assert build_small(folder, folder / "out", "--quiet", "--slip", "--worked-key") == 0
    return folder / "out"


@pytest.mark.source("pdfua: what it finds against a file")
@pytest.mark.parametrize("name", ["class", "key", "summary", "slips", "worked-key", "sheets/s4"])
def test_nothing_is_found_against_a_file(name: str, built: Path) -> None:
    report = pdfua.validate(str(built / f"{name}.pdf"))
    assert report.findings == ()
    assert {one.rule_id for one in report.outcomes if one.skipped_reason} <= BROKEN
    assert len(report.outcomes) > 10
