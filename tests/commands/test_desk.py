"""The desk as a program: its link, its end, and that it says nothing of what was asked."""

from __future__ import annotations

import http.client
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from problemgen.cli import main
from problemgen.commands import desk
from problemgen.pipeline.new_course import new_course


@contextmanager
def opened(*arguments: str) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """The program and the link that it tells."""
    command = [sys.executable, "-m", "problemgen.cli", "desk", "--no-browser", *arguments]
    with subprocess.Popen(command, stderr=subprocess.PIPE, text=True) as process:  # noqa: S603
        assert process.stderr is not None
        assert process.stderr.readline() == "The desk is open on this machine:\n"
        link = process.stderr.readline().strip()
        assert process.stderr.readline() == "Ctrl-C closes it.\n"
        yield process, link
        process.kill()


def ask(link: str, path: str, **headers: str) -> tuple[int, http.client.HTTPMessage]:
    where = urlsplit(link)
    connection = http.client.HTTPConnection(where.hostname or "", where.port)
    with closing(connection):
        connection.request("GET", path, headers=headers)
        answer = connection.getresponse()
        answer.read()
        return answer.status, answer.headers


def text_of(link: str, path: str, cookie: str) -> str:
    where = urlsplit(link)
    connection = http.client.HTTPConnection(where.hostname or "", where.port)
    with closing(connection):
        connection.request("GET", path, headers={"cookie": cookie})
        return connection.getresponse().read().decode()


@pytest.mark.skipif(sys.platform == "win32", reason="no signal that asks for an end")
@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM])
def test_it_ends_with_the_terminal_and_logs_nothing(tmp_path: Path, number: signal.Signals) -> None:
    new_course(tmp_path / "course")
    with opened(str(tmp_path / "course")) as (process, link):
        assert urlsplit(link).hostname == "127.0.0.1"
        status, headers = ask(link, f"{urlsplit(link).path}?{urlsplit(link).query}")
        assert status == 303
        cookie = (headers["set-cookie"] or "").partition(";")[0]
        assert ask(link, "/files/output/week-1/sheets/a01.pdf", cookie=cookie)[0] == 404
        assert ask(link, "/sets/week-1", cookie=cookie)[0] == 200
        process.send_signal(number)
        _, told = process.communicate(timeout=20)
    assert process.returncode == 0
    assert told == "The desk is closed.\n"


def test_a_port_that_is_taken_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    new_course(tmp_path / "course")
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        assert main(["desk", str(tmp_path / "course"), "--no-browser", "--port", str(port)]) == 1
    assert f"port {port}: " in capsys.readouterr().err


@pytest.mark.parametrize("port", ["80", "-1", "70000", "x"])
def test_a_port_that_is_none_is_wrong_usage(port: str) -> None:
    with pytest.raises(SystemExit, match="2"):
        main(["desk", "--port", port])


@pytest.mark.parametrize("is_there", [False, True])
def test_a_course_is_proposed_in_the_folder_that_was_named(tmp_path: Path, is_there: bool) -> None:
    folder = tmp_path / "new"
    if is_there:
        folder.mkdir()
    with opened(str(folder)) as (_process, link):
        status, headers = ask(link, f"{urlsplit(link).path}?{urlsplit(link).query}")
        assert status == 303
        cookie = (headers["set-cookie"] or "").partition(";")[0]
        assert f'value="{folder}"' in text_of(link, "/", cookie)
    assert folder.exists() is is_there


def test_without_the_extra_it_says_what_to_install(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(desk, "find_spec", lambda _: None)
    assert main(["desk"]) == 1
    assert "pip install 'problemgen[desk]'" in capsys.readouterr().err


def test_a_starter_tells_its_own_place_as_an_address(tmp_path: Path) -> None:
    new_course(tmp_path / "a course")
    starter = next((tmp_path / "a course").glob("Open the desk.*"))
    with opened(starter.as_uri()) as (process, link):
        status, headers = ask(link, f"{urlsplit(link).path}?{urlsplit(link).query}")
        cookie = (headers["set-cookie"] or "").partition(";")[0]
        assert (status, ask(link, "/sets/week-1", cookie=cookie)[0]) == (303, 200)
        process.kill()
