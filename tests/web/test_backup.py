"""A backup that is taken while people work comes back whole, or is refused whole."""

from __future__ import annotations

import io
import json
import shutil
import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from django.apps import apps

from sillwright.web.serving.agreeing import made_anew
from sillwright.web.serving.keeping import KEPT, LEFT_OUT
from sillwright.web.serving.rows import NotRows, lines, load
from tests.web.backups import Kept, parts_of, restored, rows, written
from tests.web.commands import environment, sillwright
from tests.web.conftest import World
from tests.web.filled import fill


def query(data: Path, words: str) -> list[tuple[Any, ...]]:
    """What a database says, without the application."""
    with closing(sqlite3.connect(data / "db.sqlite3")) as connection:
        return connection.execute(words).fetchall()


def test_every_table_is_kept_or_left_out_by_name() -> None:
    there = {each._meta.label_lower for each in apps.get_models(include_auto_created=True)}
    assert there == set(KEPT) | (set(LEFT_OUT) & there)
    assert not set(KEPT) & set(LEFT_OUT)


def test_a_backup_has_something_of_every_table_and_nothing_of_sessions(kept: Kept) -> None:
    for label in KEPT:
        assert rows(kept.parts[f"data/{label}.jsonl"]), label
    assert len([name for name in kept.parts if name.startswith("files/papers/")]) == 2
    sessions = [key for (key,) in query(kept.data, "SELECT session_key FROM accounts_session")]
    assert sessions
    content = kept.file.read_bytes()
    assert not [key for key in sessions if key.encode() in content]
    assert (kept.data / "secret_key").read_bytes() not in content
    assert kept.file.stat().st_mode & 0o777 == 0o600


def test_what_was_backed_up_is_there_again_row_by_row(kept: Kept, tmp_path: Path) -> None:
    data = tmp_path / "data"
    assert restored(kept.file, data) == ""
    done = sillwright("backup", tmp_path / "again.tar", data=data)
    assert done.returncode == 0, done.stderr
    again = parts_of(tmp_path / "again.tar")
    assert set(again) == set(kept.parts)
    assert [name for name in again if again[name] != kept.parts[name]] == []
    assert query(data, "SELECT count(*) FROM accounts_session") == [(0,)]
    assert query(data, "PRAGMA integrity_check") == [("ok",)]
    assert query(data, "PRAGMA foreign_key_check") == []
    triggers = query(data, "SELECT name FROM sqlite_master WHERE type = 'trigger'")
    assert triggers == query(kept.data, "SELECT name FROM sqlite_master WHERE type = 'trigger'")
    assert (data / "secret_key").read_bytes() != (kept.data / "secret_key").read_bytes()
    assert [path.name for path in data.iterdir() if path.name.startswith("restoring-")] == []
    assert data.stat().st_mode & 0o777 == 0o700
    number = query(data, "SELECT max(id) FROM records_event")[0][0]
    with closing(sqlite3.connect(data / "db.sqlite3")) as connection, connection:
        columns, values = "at, verb, what, before, after, request", "'2030-01-01', 'x', '', '', '', ''"
        connection.execute(f"INSERT INTO records_event ({columns}) VALUES ({values})")  # noqa: S608
    assert query(data, "SELECT max(id) FROM records_event") == [(number + 1,)]


def test_a_row_is_the_same_after_it_was_written_down_and_read_back(world: World) -> None:
    fill()
    for label in KEPT:
        table = apps.get_model(label)
        before = list(table._base_manager.order_by("pk").values())
        assert before, f"{label}: a table without a row shows nothing"
        fields = {each.attname: each for each in table._meta.concrete_fields}
        told = [json.loads(line) for line in lines(table)]
        after = [{name: fields[name].to_python(value) for name, value in row.items()} for row in told]
        assert after == before, label
        assert [[*map(type, row.values())] for row in after] == [[*map(type, row.values())] for row in before], (
            label
        )


@pytest.mark.parametrize(
    "line",
    [
        b"{", b"[]", b"7", b'{"id": 1}', b"[" * 100_000, b"\xff\n",
        b'{"id": "x", "site_id": "y", "organisation_id": 1, "mode": "read", "made": "z"}',
    ],
)  # fmt: skip
def test_what_is_no_row_of_a_table_is_not_inserted(db: None, line: bytes) -> None:
    table = apps.get_model("records.share")
    count = table.objects.count()
    with pytest.raises(NotRows):
        load(table, io.BytesIO(line))
    assert table.objects.count() == count


def test_facts_that_are_not_what_the_log_says_are_made_anew_from_it(world: World) -> None:
    fill()
    fact = apps.get_model("records.fact")
    assert made_anew() == 0
    before = {(each.opening_id, each.path): each.heads for each in fact.objects.all()}
    path = "door.clear_width"
    fact.objects.filter(path=path, opening=world.opening).update(heads=[])
    fact.objects.filter(path="door.clear_height", opening=world.opening).delete()
    fact.objects.create(
        site=world.site, opening=world.opening, path="door.closing_speed.made_up", heads=[{"id": "x"}]
    )
    assert made_anew() == 3
    after = {(each.opening_id, each.path): each.heads for each in fact.objects.all()}
    assert after == before
    assert made_anew() == 0


def test_a_backup_never_writes_over_a_file(kept: Kept, tmp_path: Path) -> None:
    mine = tmp_path / "doors.tar"
    mine.write_text("mine")
    done = sillwright("backup", mine, data=kept.data)
    assert done.returncode == 4
    assert "left as it is" in done.stderr
    assert mine.read_text() == "mine"


def test_a_backup_that_cannot_be_written_leaves_nothing_behind(kept: Kept, tmp_path: Path) -> None:
    done = sillwright("backup", tmp_path / "none" / "doors.tar", data=kept.data)
    assert done.returncode == 4
    assert str(tmp_path / "none" / "doors.tar") in done.stderr
    assert len(done.stderr.splitlines()) == 1
    assert list(tmp_path.iterdir()) == []


def test_nothing_is_restored_where_something_is(kept: Kept, tmp_path: Path) -> None:
    data = tmp_path / "data"
    shutil.copytree(kept.data, data)
    (data / "db.sqlite3").write_bytes(b"mine")
    done = sillwright("restore", kept.file, data=data)
    assert done.returncode == 4
    assert "records here already" in done.stderr
    (data / "db.sqlite3").unlink()
    done = sillwright("restore", kept.file, data=data)  # its papers are still there
    assert done.returncode == 4
    assert not (data / "db.sqlite3").exists()


@pytest.mark.slow
def test_a_backup_of_a_newer_version_is_refused_and_says_which(kept: Kept, tmp_path: Path) -> None:
    def newer(told: dict[str, Any]) -> None:
        told["version"] = "9.1"
        told["migrations"]["records"].append("0099_what_nobody_knows_yet")

    file = written(kept.parts, tmp_path / "newer.tar", newer)
    done = sillwright("restore", file, data=tmp_path / "data")
    assert done.returncode == 2
    assert "9.1" in done.stderr
    assert not (tmp_path / "data/db.sqlite3").exists()


@pytest.mark.slow
def test_a_backup_from_before_a_migration_is_brought_forward(kept: Kept, tmp_path: Path) -> None:
    later = ("records.remark", "records.photo", "records.question", "orders.", "trouble.", "lesson.")

    def older(told: dict[str, Any]) -> None:
        told["version"] = "0.0.9"
        told["migrations"]["records"] = ["0001_initial"]
        told["rows"] = {label: count for label, count in told["rows"].items() if not label.startswith(later)}
        for app in ("orders", "trouble", "lesson"):
            told["migrations"].pop(app)

    gone = tuple(f"data/{label}" for label in later)
    parts = {name: part for name, part in kept.parts.items() if not name.startswith((*gone, "files/photos/"))}
    file = written(parts, tmp_path / "older.tar", older)
    restored(file, tmp_path / "data")
    applied = "SELECT app, name FROM django_migrations ORDER BY app, name"
    assert query(tmp_path / "data", applied) == query(kept.data, applied)
    refused = pytest.raises(sqlite3.IntegrityError, match="only added to")
    with closing(sqlite3.connect(tmp_path / "data/db.sqlite3")) as connection, refused:
        connection.execute("DELETE FROM records_observation")
    for label in ("records.observation", "records.fact", "accounts.user"):
        count = f"SELECT count(*) FROM {label.replace('.', '_')}"  # noqa: S608 - names of tables
        assert query(tmp_path / "data", count) == query(kept.data, count)


@pytest.mark.slow
@pytest.mark.parametrize("label", ["records.observation", "records.fact"])
def test_rows_that_do_not_fit_their_table_or_their_count_are_refused(
    kept: Kept, tmp_path: Path, label: str
) -> None:
    part = f"data/{label}.jsonl"
    first = kept.parts[part].splitlines(keepends=True)[0]
    wrong = {
        "one is missing": kept.parts[part].removeprefix(first),
        "one is no row": b'{"id": 1}\n' + kept.parts[part].removeprefix(first),
    }
    for number, content in enumerate(wrong.values()):
        data = tmp_path / f"data{number}"
        file = written({**kept.parts, part: content}, tmp_path / f"{number}.tar")
        done = sillwright("restore", file, data=data)
        assert done.returncode == 2
        assert label in done.stderr
        assert len(done.stderr.splitlines()) == 1
        assert not (data / "db.sqlite3").exists()
        assert not [path for path in data.rglob("*") if path.is_file() and path.name != "serve.lock"]


@pytest.mark.slow
def test_a_row_that_names_another_one_that_is_not_there_is_refused(kept: Kept, tmp_path: Path) -> None:
    def one_less(told: dict[str, Any]) -> None:
        told["rows"]["records.link"], told["rows"]["records.paper"] = 1, 0

    file = written({**kept.parts, "data/records.paper.jsonl": b""}, tmp_path / "loose.tar", one_less)
    done = sillwright("restore", file, data=tmp_path / "data")
    assert done.returncode == 4
    assert len(done.stderr.splitlines()) == 1
    assert not (tmp_path / "data/db.sqlite3").exists()


@pytest.mark.slow
def test_a_paper_whose_file_is_gone_is_said_and_the_rest_is_kept(kept: Kept, tmp_path: Path) -> None:
    data = tmp_path / "data"
    shutil.copytree(kept.data, data)
    next(path for path in (data / "files").rglob("*") if path.is_file()).unlink()
    done = sillwright("backup", tmp_path / "doors.tar", data=data)
    assert done.returncode == 0
    assert "1 paper" in done.stderr
    restored(tmp_path / "doors.tar", tmp_path / "again")
    assert query(tmp_path / "again", "SELECT count(*) FROM records_paper") == [(2,)]


@pytest.mark.slow
def test_a_restore_killed_between_its_files_and_its_records_can_be_done_again(kept: Kept, tmp_path: Path) -> None:
    data = tmp_path / "data"
    dying = (
        "import os, sys\n"
        "from pathlib import Path\n"
        "from sillwright.web.serving import restore\n"
        "restore._move_the_rest = lambda *_: os._exit(9)\n"
        "restore.read_backup(Path(sys.argv[1]), Path(sys.argv[2]))\n"
    )
    (data / "files").mkdir(parents=True)
    died = subprocess.run(
        [sys.executable, "-c", dying, data, kept.file], env=environment(data), timeout=120, check=False
    )
    assert died.returncode == 9
    assert any(each.is_file() for each in (data / "files").rglob("*"))
    restored(kept.file, data)
    count = "SELECT count(*) FROM records_paper"
    assert query(data, count) == query(kept.data, count)
    assert [path for path in data.iterdir() if path.name.startswith("restoring")] == []


@pytest.mark.slow
def test_a_restore_that_was_killed_can_be_done_again(kept: Kept, tmp_path: Path) -> None:
    data, command = tmp_path / "data", [sys.executable, "-c", "from sillwright.cli.main import run; run()"]
    killed = 0
    for seconds in (0.2, 1.0, 2.0, 3.0, 4.0):
        restoring = subprocess.Popen(
            [*command, "restore", str(kept.file)], env=environment(data), stdout=subprocess.DEVNULL
        )
        try:
            restoring.wait(seconds)
        except subprocess.TimeoutExpired:
            restoring.kill()
            restoring.wait(10)
            killed += 1
            assert not (data / "db.sqlite3").exists() or query(data, "PRAGMA integrity_check") == [("ok",)]
        if (data / "db.sqlite3").exists():
            break
    assert killed
    if not (data / "db.sqlite3").exists():
        restored(kept.file, data)
    count = "SELECT count(*) FROM records_observation"
    assert query(data, count) == query(kept.data, count)
    assert [path for path in data.iterdir() if path.name.startswith("restoring-")] == []
