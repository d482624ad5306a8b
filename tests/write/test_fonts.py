"""Which letters can be printed, asked before a name stops a sheet."""

from __future__ import annotations

import json

import pytest
import typst

from problemgen.write.fonts import NO_FOLDER, font_families, fonts, missing_glyphs, printable, unprintable


@pytest.mark.parametrize(
    "name",
    [
        "",
        "Alvane O'Fallowind",
        "Zoëlle Åskemyr",
        "Μυρσαλία",
        "Дождещёкин",
        "Lữ Thềm Rạng",
        "טלורה",
        "سهيدة",
        "Լուսվարդ",
        "ग़ज़लशिखर",
        "2 → ⟶ −3 · ×",
    ],
)
def test_names_that_can_be_printed(name: str) -> None:
    assert missing_glyphs(name) == ""


@pytest.mark.parametrize(
    ("name", "missing"),
    [
        ("Anna \U0001f680", "\U0001f680"),
        ("\U0001f680a\U0001f9ea\U0001f680", "\U0001f680\U0001f9ea"),
        ("a\ue000", "\ue000"),
    ],
)
def test_letters_that_cannot_be_printed_are_named_once(name: str, missing: str) -> None:
    assert missing_glyphs(name) == missing


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        ("2.5 g", "2.5 g"),
        ("2.5 × 10⁻² Ängström", "2.5 × 10⁻² Ängström"),
        ("\U0001f680 2.5", "□ 2.5"),
        ("a\ue000b", "a□b"),
        ("غيمة", "غيمة"),
        ({"a": ["\ue000", 1, None, True]}, {"a": ["□", 1, None, True]}),
        ([], []),
    ],
)
def test_what_no_font_shows_becomes_a_box(value: object, shown: object) -> None:
    assert printable(value) == shown


@pytest.mark.parametrize(
    "text", ["e\u0301\u0323\u0330", "\u200d\U0001f468\u200d\U0001f469", "क\u094d\u200dष", "\u0301" * 50]
)
def test_what_is_printable_can_be_printed(text: str) -> None:
    assert missing_glyphs(printable(text)) == ""


def test_families_are_those_present_in_the_order_of_preference() -> None:
    families = font_families()
    assert families[0] == "Libertinus Serif"
    assert {"FreeSans", "DejaVu Sans Mono"} <= set(families)
    assert set(families) <= set(fonts().families())


@pytest.mark.parametrize("path", ["fonts.py", "/etc/hostname", "../fonts.py"])
def test_nothing_lies_in_the_compilers_folder(path: str) -> None:
    compiler = typst.Compiler(root=NO_FOLDER)
    with pytest.raises(typst.TypstError):
        compiler.compile(input={"main.typ": f"#read({json.dumps(path)})".encode()})
    assert compiler.compile(input={"main.typ": b'#read("beside.txt")', "beside.txt": b"a"})


def test_chinese_is_printed_where_its_font_is_installed() -> None:
    installed = any("CJK" in family for family in font_families())
    assert missing_glyphs("苔 Ko") == ("" if installed else "苔")


def test_many_texts_are_looked_at_elsewhere_with_the_same_result() -> None:
    texts = ["Anna", "Zoë \U0001f680", "\U0001f9ea", *(f"Zoë {number}" for number in range(20))]
    here = frozenset(text for text in texts if missing_glyphs(text))
    with unprintable(texts) as elsewhere, unprintable(texts[:3]) as at_once:
        assert elsewhere() == elsewhere() == at_once() == here == {"Zoë \U0001f680", "\U0001f9ea"}
