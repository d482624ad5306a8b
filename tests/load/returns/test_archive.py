"""What came back, as a platform hands it out: every file once, under a name that leads nowhere."""

from __future__ import annotations

import io
import stat
import zipfile
from datetime import UTC, datetime
from pathlib import Path

import pytest

from problemgen.errors import FaultsError
from problemgen.load.returns import archive as archive_module
from problemgen.load.returns.archive import Returns
from tests.support.filled_in import archive

PDF = b"%PDF-1.7 and so on"


def back(folder: Path, content: bytes) -> Path:
    path = folder / "back.zip"
    path.write_bytes(content)
    return path


def test_all_files_of_an_archive_are_there_while_it_lasts_with_their_times(tmp_path: Path) -> None:
    place = back(tmp_path, archive([("b/x.pdf", PDF), ("a.xlsx", b"\0"), ("c/", b"")], (2026, 10, 12, 8, 5, 2)))
    with Returns(place) as returns:
        assert [(one.name, one.kind) for one in returns.files] == [("a.xlsx", "workbook"), ("b/x.pdf", "pdf")]
        assert returns.files[0].when == datetime(2026, 10, 12, 8, 5, 2, tzinfo=UTC)
        assert returns.files[1].path.read_bytes() == PDF
        kept = returns.files[1].path
    assert not kept.exists()


@pytest.mark.parametrize("name", ["../../x.pdf", "/etc/x.pdf", "..\\x.pdf", "a\u202eb\x07.pdf", "y" * 5000])
def test_a_name_leads_nowhere_and_prints(name: str, tmp_path: Path) -> None:
    with Returns(back(tmp_path, archive([(name, PDF), (name, PDF + b"2")]))) as returns:
        first, second = returns.files
        assert {path.name for path in tmp_path.iterdir()} == {"back.zip"}
        assert (second.name, first.path.read_bytes() != second.path.read_bytes()) == (f"{first.name} (2)", True)
        assert first.name.isprintable()
        assert len(second.name) < 320


def test_an_archive_in_the_archive_is_opened_and_one_in_that_is_not(tmp_path: Path) -> None:
    inner = archive([("mine.pdf", PDF)])
    deep = archive([("deep.zip", archive([("deeper.zip", inner)]))])
    with Returns(back(tmp_path, archive([("one.zip", inner), ("two.zip", deep)]))) as returns:
        assert [one.name for one in returns.files] == ["one.zip/mine.pdf"]
        ((refused),) = returns.refused
        assert refused.name == "two.zip/deep.zip"
        assert refused.reason.startswith("an archive within archives")


@pytest.mark.parametrize("inside", [[], [("sub-folder/", b"")], [("__MACOSX/._x.pdf", b"x"), ("Thumbs.db", b"x")]])
def test_an_archive_without_files_is_told_of(inside: list[tuple[str, bytes]], tmp_path: Path) -> None:
    empty, reason = archive(inside), "an archive without a file that was handed in"
    with Returns(back(tmp_path, empty)) as returns:
        assert returns.files == ()
        assert [(one.name, one.reason) for one in returns.refused] == [("back.zip", reason)]
    with Returns(back(tmp_path, archive([("empty.zip", empty), ("x.pdf", PDF)]))) as returns:
        assert [one.name for one in returns.files] == ["x.pdf"]
        assert [(one.name, one.reason) for one in returns.refused] == [("empty.zip", reason)]


def test_what_cannot_be_unpacked_is_refused_with_its_reason(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(archive_module, "_LARGEST", 1000)
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("good.pdf", PDF)
        packed.writestr("large.pdf", bytes(2000))
        link = zipfile.ZipInfo("link.pdf")
        link.external_attr = (stat.S_IFLNK | 0o777) << 16
        packed.writestr(link, "/etc/passwd")
        packed.writestr("torn.pdf", b"torn" * 20)
        packed.writestr("secret.pdf", PDF)
    content = bytearray(out.getvalue())
    content[content.index(b"torn.pdf") + 8] ^= 0xFF
    content[content.rindex(b"secret.pdf") - 46 + 8] |= 1
    with Returns(back(tmp_path, bytes(content))) as returns:
        assert [one.name for one in returns.files] == ["good.pdf"]
        reasons = {one.name: one.reason for one in returns.refused}
    assert list(reasons) == ["large.pdf", "link.pdf", "secret.pdf", "torn.pdf"]
    assert reasons["secret.pdf"] == "packed with a password"
    assert reasons["torn.pdf"].startswith("damaged")


def test_a_folder_is_read_where_it_lies_and_its_links_are_not_followed(tmp_path: Path) -> None:
    (tmp_path / "in" / "deep").mkdir(parents=True)
    (tmp_path / "in" / "deep" / "a").write_bytes(PDF)
    (tmp_path / "in" / ".DS_Store").write_bytes(b"x")
    (tmp_path / "in" / "out").symlink_to(tmp_path)
    with Returns(tmp_path / "in") as returns:
        assert [one.path for one in returns.files] == [tmp_path / "in" / "deep" / "a"]
        assert [one.name for one in returns.refused] == ["out"]
        assert returns.left_out == 1


@pytest.mark.parametrize("content", [None, b"PK\x03\x04 and nothing of an archive"])
def test_a_place_that_cannot_be_read_is_a_fault(content: bytes | None, tmp_path: Path) -> None:
    place = tmp_path / "none.zip" if content is None else back(tmp_path, content)
    with pytest.raises(FaultsError), Returns(place):
        pass


def test_no_more_files_are_taken_than_a_class_hands_in(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(archive_module, "_MOST_FILES", 3)
    with pytest.raises(FaultsError, match="more than 3 files"), Returns(back(tmp_path, archive([("a", b"")] * 4))):
        pass


def test_no_more_is_unpacked_than_all_files_may_have_together(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(archive_module, "_LARGEST_TOGETHER", 1000)
    with Returns(back(tmp_path, archive([(f"{number}", bytes(600)) for number in range(9)]))) as returns:
        assert [one.name for one in returns.files] == ["0"]
        assert {one.name for one in returns.refused} == set(map(str, range(1, 9)))


def test_a_file_that_cannot_be_opened_leaves_the_others(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("a", "b"):
        (tmp_path / name).write_bytes(PDF)
    kind_of = archive_module.kind_of

    def refused(path: Path) -> str:
        if path.name == "a":
            raise PermissionError(13, "Permission denied")
        return kind_of(path)

    monkeypatch.setattr(archive_module, "kind_of", refused)
    with Returns(tmp_path) as returns:
        assert [one.name for one in returns.files] == ["b"]
        assert [one.reason for one in returns.refused] == ["cannot be opened: permission denied"]
