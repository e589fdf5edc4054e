"""Starting the server on an empty machine, and everything that can stand in its way."""

from __future__ import annotations

import json
import os
import re
import shutil
import signal
import socket
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import pytest
from gunicorn.config import Config

from sillwright.web.serving.preparing import collect
from sillwright.web.serving.running import AsLines
from tests.web.backups import Kept
from tests.web.commands import ROOT, Running, running, sillwright, wait_until, warmed

pytestmark = [pytest.mark.allow_hosts(["127.0.0.1"])]

OWNER = {"name": "Nell", "email": "nell@people.example", "password": "a ladder in the rain"}


@dataclass
class First:
    """A first start in an empty folder."""

    cwd: Path
    server: Running

    @property
    def data(self) -> Path:
        """Where it keeps everything."""
        return self.cwd / "sillwright-data"


@pytest.fixture(scope="module")
def first(tmp_path_factory: pytest.TempPathFactory) -> Iterator[First]:
    """``sillwright serve --example`` where nothing was before."""
    cwd = tmp_path_factory.mktemp("first")
    with running(None, "--example", cwd=cwd) as server:
        yield First(cwd, server)


def answers(address: str) -> bool:
    """Whether anybody listens there."""
    with socket.socket() as asked:
        asked.settimeout(2)
        return asked.connect_ex(("127.0.0.1", urlsplit(address).port)) == 0


def mode(path: Path) -> int:
    """Who may read and write it."""
    return path.stat().st_mode & 0o777


def test_it_says_where_it_answers_and_where_it_keeps_its_data(first: First) -> None:
    lines = first.server.lines
    assert re.fullmatch(r"Sillwright: http://127\.0\.0\.1:\d+", lines[0])
    assert lines[1] == f"Data: {first.data.resolve()}"
    assert lines[-1] == "Ready. Control-C ends it."
    assert first.server.browser().get("/accounts/login/")[0].status == 200


def test_nobody_else_on_the_machine_can_read_the_data(first: First) -> None:
    assert mode(first.data) == 0o700
    kept = [path for path in first.data.rglob("*") if path.is_file()]
    assert {"db.sqlite3", "secret_key", "serve.lock"} <= {path.name for path in kept}
    private = [path for path in kept if "static" not in path.parts]  # style sheets are sent to anybody
    assert [path.name for path in private if mode(path) & 0o077] == []


def test_a_second_server_on_the_same_data_is_refused_and_says_so(first: First) -> None:
    done = sillwright("serve", "--port", "0", data=first.data)
    assert done.returncode == 4
    assert "another server works with this folder" in done.stderr
    assert done.stdout == ""


def test_scripts_and_styles_come_compressed_under_names_that_may_be_kept_for_ever(first: First) -> None:
    _, page = first.server.browser().get("/accounts/login/")
    names = re.findall(r'(/static/[\w./-]+\.css)"', page)
    assert names
    for name in names:
        answer, _ = first.server.browser().get(name)
        assert answer.status == 200
        assert "immutable" in answer.headers["Cache-Control"]


def test_the_link_makes_the_first_account_once_and_the_invented_site_is_there(first: First) -> None:
    link = urlsplit(first.server.link)
    assert f"{link.scheme}://{link.netloc}" == first.server.address
    browser = first.server.browser()
    assert browser.get(link.path)[0].status == 200
    answer, told = browser.post(link.path, OWNER)
    assert answer.status == 302, told
    answer, home = browser.get("/")
    assert answer.status == 200
    sites = re.findall(r"/sites/[0-9a-f-]{36}/", home)
    assert sites
    assert browser.get(sites[0])[0].status == 200
    assert first.server.browser().get(link.path)[0].status == 404
    made = sillwright("invite", data=first.data)  # an owner who lost access asks for another one
    assert made.returncode == 0, made.stderr
    again = urlsplit(made.stdout.strip())
    assert f"{again.scheme}://{again.netloc}" == first.server.address
    assert first.server.browser().get(again.path)[0].status == 200
    assert sillwright("invite", "--organisation", "Nowhere", data=first.data).returncode == 2


def test_what_the_server_logs_holds_no_secret_of_a_link(first: First) -> None:
    secret = first.server.link.rstrip("/").rpartition("/")[2]
    browser = first.server.browser()
    browser.get(f"/invitations/{secret}/?{'x' * 9000}")  # longer than a line may be
    browser.post(f"/invitations/{secret}/", {**OWNER, "email": "nobody"})
    logged = first.server.logged.read_text("utf-8")
    assert secret not in logged
    assert OWNER["password"] not in logged


@pytest.mark.slow
def test_a_demonstration_shows_passwords_once_and_is_never_served_to_others(tmp_path: Path) -> None:
    data = tmp_path / "sillwright-demo"
    with running(None, "--demo", cwd=tmp_path) as server:
        assert server.lines[1] == f"Data: {data.resolve()}"
        told = dict(line.split() for line in server.lines if "@demo.example" in line)
        assert [each.partition("@")[0] for each in told] == ["owner", "advisor", "technician", "reader"]
        assert all(len(each) >= 16 for each in told.values())
        assert len(set(told.values())) == 4
        for email, password in told.items():
            browser = server.browser()
            answer, _ = browser.post("/accounts/login/", {"login": email, "password": password})
            assert answer.status == 302
            assert "/sites/" in browser.get("/")[1]
    with running(None, "--demo", cwd=tmp_path) as server:
        assert not any(password in "\n".join(server.lines) for password in told.values())
        assert any("shown at the first start" in line for line in server.lines)
    done = sillwright("serve", "--port", "0", data=data, SILLWRIGHT_HOSTS="doors.example")
    assert done.returncode == 4
    assert "this machine alone" in done.stderr


@pytest.mark.slow
def test_invented_accounts_never_come_where_people_have_theirs(kept: Kept, tmp_path: Path) -> None:
    shutil.copytree(kept.data, tmp_path / "data")
    done = sillwright("serve", "--demo", "--port", "0", data=tmp_path / "data")
    assert done.returncode == 2
    assert "takes an empty one" in done.stderr
    with closing(sqlite3.connect(tmp_path / "data/db.sqlite3")) as connection:
        people = connection.execute("SELECT count(*) FROM accounts_user WHERE email LIKE '%demo%'").fetchall()
    assert people == [(0,)]


@pytest.mark.slow
def test_a_server_that_is_told_to_end_leaves_nothing_behind(tmp_path: Path) -> None:
    with running(tmp_path / "data", cwd=tmp_path) as server:
        assert server.link, "no account is here, so a link is shown"
        server.process.terminate()
        assert server.process.wait(120) == 0
        assert not answers(server.address)
        assert not others_in(server.process.pid)
        assert server.logged.read_text("utf-8") == ""


@pytest.mark.slow
def test_control_c_a_closed_terminal_and_a_kill_end_workers_too(tmp_path: Path) -> None:
    with warmed(tmp_path / "data") as warm:
        for sign in (signal.SIGINT, signal.SIGHUP, signal.SIGKILL):
            group = warm.start()
            address = f"http://127.0.0.1:{warm.port()}"
            wait_until(lambda group=group: len(others_in(group)) == 4)  # type: ignore[misc] # one compiles
            os.kill(group, sign)
            wait_until(lambda group=group: not others_in(group), 30)  # type: ignore[misc]
            assert not answers(address)
            assert warm.gone()


def others_in(group: int) -> list[int]:
    """Processes of a group that still run."""
    found = []
    for entry in Path("/proc").iterdir():
        if entry.name.isdigit():
            try:
                told = (entry / "stat").read_text().rpartition(")")[2].split()
            except OSError:
                continue
            if int(told[2]) == group and told[0] != "Z":
                found.append(int(entry.name))
    return found


@pytest.mark.slow
def test_data_of_a_newer_version_are_left_alone(first: First, tmp_path: Path) -> None:
    data = tmp_path / "data"
    (data / "run").mkdir(parents=True)
    with (
        closing(sqlite3.connect(first.data / "db.sqlite3")) as here,
        closing(sqlite3.connect(data / "db.sqlite3")) as there,
    ):
        here.backup(there)
        newer = "INSERT INTO django_migrations (app, name, applied) VALUES ('records', '9999_newer', '2030-01-01')"
        with there:
            there.execute(newer)
    for command in (("serve", "--port", "0"), ("backup", str(tmp_path / "doors.tar")), ("invite",)):
        done = sillwright(*command, data=data)
        assert done.returncode == 4
        assert "newer version" in done.stderr
    assert not (tmp_path / "doors.tar").exists()


@pytest.fixture
def collected(tmp_path: Path, settings: Any) -> Path:
    """A data folder in which everything was collected once."""
    settings.STATIC_ROOT = tmp_path / "static"
    settings.STORAGES = {**settings.STORAGES, "staticfiles": {"BACKEND": "sillwright.web.static_files.Hashed"}}
    (tmp_path / "cache").mkdir()
    collect(tmp_path)
    return tmp_path


def test_a_later_version_keeps_the_names_of_an_earlier_one(collected: Path) -> None:
    old = collected / "static/old.0123456789ab.css"
    old.write_text("main { color: black }")
    (collected / "static/page.css").write_text("of another version")
    os.utime(collected / "static/page.css", (0, 0))
    (collected / "cache/collected").write_text("of another version")
    collect(collected)
    assert old.exists()
    assert (collected / "static/page.css").read_bytes() == (
        ROOT / "src/sillwright/web/static/page.css"
    ).read_bytes()


def test_what_a_start_that_was_cut_short_left_is_collected_anew(collected: Path) -> None:
    page = collected / "static/page.css"
    page.write_bytes(page.read_bytes()[:100])  # newer than its source, so that it would be taken for whole
    (collected / "cache/collected").write_text("under way")
    collect(collected)
    assert page.read_bytes() == (ROOT / "src/sillwright/web/static/page.css").read_bytes()


def test_a_failure_of_the_server_is_a_line_without_the_address(capsys: pytest.CaptureFixture[str]) -> None:
    config = Config()
    config.set("loglevel", "warning")
    logger = AsLines(config)
    try:
        raise ValueError("hidden-word")
    except ValueError:
        logger.exception("Error handling request %s", "/invitations/hidden-word/")
    told = capsys.readouterr().err
    assert json.loads(told)["error"] == "ValueError"
    assert "hidden-word" not in told


def test_behind_a_proxy_the_link_names_the_host_that_people_type(monkeypatch: pytest.MonkeyPatch) -> None:
    from django.conf import settings

    from sillwright.web.serving.firsts import public_address

    assert public_address("http://127.0.0.1:8045") == "http://127.0.0.1:8045"
    monkeypatch.setattr(settings, "TLS", True)
    monkeypatch.setattr(settings, "HOSTS", ["doors.example", "other.example"])
    assert public_address("http://127.0.0.1:8045") == "https://doors.example"
