"""Backups of a server that people write to, and from one database to the other."""

from __future__ import annotations

import json
import threading
import uuid
from pathlib import Path

import pytest

from tests.web.backups import Kept, parts_of, restored, rows, written
from tests.web.commands import sillwright, wait_until
from tests.web.postgres import postgres
from tests.web.test_kill import installation

pytestmark = [pytest.mark.slow, pytest.mark.allow_hosts(["127.0.0.1"])]


def test_a_backup_that_is_taken_while_people_write_is_of_one_moment(tmp_path: Path) -> None:
    with installation(tmp_path / "data", lambda _: []) as here:
        group = here.start()
        stop = threading.Event()
        writers = here.writers(stop)
        for each in writers:
            each.start()
        for number in range(2):
            wait_until(lambda: all(each.kept for each in writers), 60)
            acknowledged = {key for each in writers for key in list(each.kept)}
            done = sillwright("backup", tmp_path / f"{number}.tar", data=tmp_path / "data")
            assert done.returncode == 0, done.stderr
            _is_whole(tmp_path / f"{number}.tar", acknowledged)
        stop.set()
        for each in writers:
            each.join(20)
        here.kill(group)
    assert sum(len(each.kept) for each in writers) > len(acknowledged), "nobody wrote meanwhile"
    assert restored(tmp_path / "1.tar", tmp_path / "again") == "", "no fact had to be made anew"


def _is_whole(file: Path, acknowledged: set[str]) -> None:
    """What was acknowledged is there; every writing has its line in the trail and its place in a fact."""
    parts = parts_of(file)
    log = rows(parts["data/records.observation.jsonl"])
    ids = {each["id"] for each in log}
    assert {str(uuid.UUID(key)) for key in acknowledged} <= ids
    noted = [each for each in rows(parts["data/records.event.jsonl"]) if each["verb"] == "observed"]
    assert len(noted) == len(log)
    heads = {head["id"] for fact in rows(parts["data/records.fact.jsonl"]) for head in fact["heads"]}
    assert heads <= ids
    assert heads | {name for each in log for name in each["replaces"]} >= ids


def test_from_sqlite_to_postgresql_and_back_every_row_is_the_same(kept: Kept, tmp_path: Path) -> None:
    with postgres() as server:
        address = server.database("doors")
        there = tmp_path / "there"
        assert restored(kept.file, there, DATABASE_URL=address) == ""
        assert not (there / "db.sqlite3").exists()
        again = sillwright("restore", kept.file, data=tmp_path / "other", DATABASE_URL=address)
        assert again.returncode == 4
        assert "tables already" in again.stderr
        done = sillwright("backup", tmp_path / "there.tar", data=there, DATABASE_URL=address)
        assert done.returncode == 0, done.stderr
        assert (
            sillwright("invite", "--organisation", "Harbour Doors", data=there, DATABASE_URL=address).returncode
            == 0
        )
        _refused_as_a_whole(kept, tmp_path, server.database("empty"))
    told = parts_of(tmp_path / "there.tar")
    assert {name: rows(part) for name, part in told.items() if name.startswith("data/")} == {
        name: rows(part) for name, part in kept.parts.items() if name.startswith("data/")
    }
    assert restored(tmp_path / "there.tar", tmp_path / "back") == ""
    done = sillwright("backup", tmp_path / "back.tar", data=tmp_path / "back")
    assert done.returncode == 0, done.stderr
    back = parts_of(tmp_path / "back.tar")
    assert set(back) == set(kept.parts)
    for name, part in back.items():
        if name.startswith("files/"):
            assert part == kept.parts[name]
        elif name.startswith("data/"):
            assert rows(part) == rows(kept.parts[name])


def _refused_as_a_whole(kept: Kept, folder: Path, address: str) -> None:
    """A backup with a wrong row leaves an empty database empty."""
    import psycopg

    part = "data/records.event.jsonl"
    wrong = {**kept.parts, part: kept.parts[part] + b"{}\n"}
    done = sillwright("restore", written(wrong, folder / "wrong.tar"), data=folder / "wrong", DATABASE_URL=address)
    assert done.returncode == 2
    assert "records.event" in done.stderr
    with psycopg.connect(address) as connection:
        tables = connection.execute("SELECT tablename FROM pg_tables WHERE schemaname = 'public'").fetchall()
    assert tables == []
    assert json.loads(kept.parts["manifest.json"])["rows"]["records.event"] > 0
