"""Tables go forward with what is in them, and the models never part from their migrations."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from django.core.management import call_command
from django.db import connection

from sillwright import __version__
from tests.web.commands import ROOT, environment
from tests.web.postgres import postgres
from tests.web.state import FOLDER, as_backup

STATES = sorted(FOLDER.glob("state-*.jsonl"))
READ = """
import json, sys
from sillwright.web.serving.folder import set_up
set_up()
from django.test import Client
from sillwright.web.accounts.models import User
from sillwright.web.records.models import Opening, Site
from sillwright.web.records.surveys import facts_of
owner, told = User.objects.get(email="owner@people.example"), {}
client = Client(headers={"host": "127.0.0.1"})
client.force_login(owner, backend="allauth.account.auth_backends.AuthenticationBackend")
for path in ["/", *(f"/sites/{each.pk}/" for each in Site.objects.all())]:
    assert client.get(path).status_code == 200, path
for opening in Opening.objects.all():
    assert client.get(f"/openings/{opening.pk}/facts/").status_code == 200
    assert client.get(f"/openings/{opening.pk}/").status_code == 200
    heads = facts_of(opening).heads
    told[opening.tag] = {path: [[each.says, each.typed] for each in found] for path, found in heads.items()}
print(json.dumps(told))
"""


def expected(state: Path) -> dict[str, Any]:
    """What stands at each opening, from the log of a state alone: what no later observation replaced."""
    rows = [json.loads(line) for line in state.read_text("utf-8").splitlines()[1:]]
    of = {label: [row for table, row in rows if table == label] for label, _ in rows}
    replaced = {name for each in of["records.observation"] for name in each["replaces"]}
    found: dict[str, Any] = {}
    for opening in of["records.opening"]:
        log = [each for each in of["records.observation"] if each["opening_id"] in {opening["id"], None}]
        log = [each for each in log if each["site_id"] == opening["site_id"] and each["id"] not in replaced]
        told = found.setdefault(opening["tag"], {})
        for each in sorted(log, key=lambda each: (each["at"], each["id"])):
            told.setdefault(each["fact"], []).append([each["says"], each["typed"]])
    return found


def read_after_restore(state: Path, folder: Path, **more: str) -> dict[str, Any]:
    """What this version reads of a state that another one wrote."""
    file = as_backup(state, folder / "state.tar")
    env = environment(folder / "data", **more)
    run = [sys.executable, "-c", "from sillwright.cli.main import run; run()", "restore", str(file)]
    subprocess.run(run, env=env, capture_output=True, timeout=120, check=True)
    env["DJANGO_SETTINGS_MODULE"] = "tests.web.settings_of_a_state"
    done = subprocess.run(
        [sys.executable, "-c", READ], env=env, cwd=ROOT, capture_output=True, text=True, timeout=120, check=False
    )
    assert done.returncode == 0, done.stderr
    told: dict[str, Any] = json.loads(done.stdout.splitlines()[-1])
    return told


def test_every_change_of_a_model_has_its_migration(db: None) -> None:
    ours = ("accounts", "records", "orders", "trouble", "lesson")
    call_command("makemigrations", *ours, check=True, dry_run=True, verbosity=0)


def test_the_log_and_the_trail_have_their_guards(db: None) -> None:
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            cursor.execute("SELECT tbl_name FROM sqlite_master WHERE type = 'trigger' ORDER BY 1")
        else:
            cursor.execute("SELECT event_object_table FROM information_schema.triggers ORDER BY 1")
        guarded = [name for (name,) in cursor.fetchall()]
    ours = ("catalogueversion", "ordernote", "quotefile", "quotestep")
    of_calls = ("callend", "keptcall", "substitute", "substituteout")
    tables = (*(f"orders_{each}" for each in ours), "records_event", "records_observation", "records_remark")
    tables += tuple(f"trouble_{each}" for each in of_calls)
    tables += tuple(f"lesson_{each}" for each in ("lesson", "lessonstep", "attendance"))
    assert guarded == sorted([*tables, *tables])  # nothing is changed, and nothing is deleted


def test_there_is_a_state_of_a_version() -> None:
    assert STATES
    for state in STATES:
        rows = [json.loads(line)[0] for line in state.read_text("utf-8").splitlines()[1:]]
        assert {"records.observation", "records.fact", "records.event", "accounts.user"} <= set(rows)


@pytest.mark.parametrize("state", STATES, ids=lambda each: each.stem)
def test_what_an_earlier_version_wrote_is_read_by_this_one(state: Path, tmp_path: Path) -> None:
    told = read_after_restore(state, tmp_path)
    assert told == expected(state)
    assert [["value", "10 ft"], ["value", "10 ft 2 in"]] in [each["door.clear_width"] for each in told.values()]


@pytest.mark.slow
@pytest.mark.allow_hosts(["127.0.0.1"])
@pytest.mark.parametrize("state", STATES, ids=lambda each: each.stem)
def test_what_an_earlier_version_wrote_is_read_on_postgresql_too(state: Path, tmp_path: Path) -> None:
    with postgres() as server:
        told = read_after_restore(state, tmp_path, DATABASE_URL=server.database("doors"))
    assert told == expected(state)


def test_the_state_of_this_version_is_kept_once_it_is_released() -> None:
    released = [each.stem.removeprefix("state-") for each in STATES]
    assert __version__ in released, "python -m tests.web.state"
