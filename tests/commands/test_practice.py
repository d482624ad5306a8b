"""The practice command: what is written, and what is refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from problemgen.cli import main

Capture = pytest.CaptureFixture[str]


def made(*arguments: str) -> int:
    return main(["practice", *arguments, "--variants", "2", "--quiet"])


def test_the_same_words_make_the_same_page(tmp_path: Path) -> None:
    one, two, other = tmp_path / "one.html", tmp_path / "two.html", tmp_path / "other.html"
    for path, words in ((one, "three corks"), (two, "three corks"), (other, "four corks")):
        assert made("yield/zinc-iodide", "--out", str(path), "--seed-words", words) == 0
    assert one.read_bytes() == two.read_bytes() != other.read_bytes()


def test_without_words_no_two_pages_are_alike(tmp_path: Path) -> None:
    for name in ("one.html", "two.html"):
        assert made("yield/zinc-iodide", "--out", str(tmp_path / name)) == 0
    assert (tmp_path / "one.html").read_bytes() != (tmp_path / "two.html").read_bytes()


def test_a_topic_or_a_folder_stands_for_its_templates(tmp_path: Path, capsys: Capture) -> None:
    out = tmp_path / "practice.html"
    assert main(["practice", "yield", "titrations/borax", "--variants", "1", "--out", str(out)]) == 0
    said = capsys.readouterr().err
    assert said.startswith(f"Written to {out}: ")
    count = len(list((Path(__file__).parents[2] / "templates" / "yield").glob("*.toml"))) + 1
    assert f"{count} problems of {count} templates, " in said


def test_unknown_names_are_refused_all_at_once(tmp_path: Path, capsys: Capture) -> None:
    assert made("yield/zinc-iodid", "nothing at all", "--out", str(tmp_path / "p.html")) == 1
    said = capsys.readouterr().err
    assert said.startswith("2 faults; nothing was written:\n")
    assert "practice: nothing at all: found no such template or topic" in said
    assert "practice: yield/zinc-iodid: found no such template or topic" in said
    assert "Did you mean 'yield/zinc-iodide'?" in said
    assert not (tmp_path / "p.html").exists()


def test_an_earlier_file_is_replaced_only_on_demand(tmp_path: Path, capsys: Capture) -> None:
    out = tmp_path / "p.html"
    out.write_text("mine", encoding="utf-8")
    assert made("yield/zinc-iodide", "--out", str(out)) == 1
    assert "already holds p.html" in capsys.readouterr().err
    assert out.read_text(encoding="utf-8") == "mine"
    assert made("yield/zinc-iodide", "--out", str(out), "--replace") == 0


def test_a_folder_in_the_place_of_the_file_is_refused(tmp_path: Path, capsys: Capture) -> None:
    assert made("yield/zinc-iodide", "--out", str(tmp_path), "--replace") == 1
    assert capsys.readouterr().err == f"{tmp_path} is a folder; a file is needed, such as practice.html\n"
