"""Behind a proxy that speaks TLS, and what an upload may be."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from sillwright.web.records.models import Site

from .conftest import ROOT, World

ASK = """
import json, django
django.setup()
from django.conf import settings
from django.core.management import call_command
call_command("migrate", verbosity=0)
call_command("createcachetable")
call_command("collectstatic", verbosity=0, interactive=False)
from django.test import Client
seen = {"x-forwarded-proto": "https", "x-forwarded-for": "203.0.113.9, 198.51.100.7"}
client = Client(SERVER_NAME="doors.example", headers=seen)
answer = client.get("/accounts/login/", secure=True)
request = answer.wsgi_request
from sillwright.web.accounts.adapter import ByInvitation
marks = ("secure", "httponly", "samesite", "domain", "path")
print(json.dumps({
    "cookies": {name: {key: each[key] for key in marks} for name, each in answer.cookies.items()},
    "hsts": answer.headers.get("Strict-Transport-Security", ""),
    "address": ByInvitation(request).get_client_ip(request),
}))
"""


@pytest.fixture(scope="module")
def answered(tmp_path_factory: pytest.TempPathFactory) -> dict[str, object]:
    env = {
        **os.environ, "SILLWRIGHT_DATA": str(tmp_path_factory.mktemp("tls")), "SILLWRIGHT_TLS": "1",
        "SILLWRIGHT_HOSTS": "doors.example", "DJANGO_SETTINGS_MODULE": "sillwright.web.settings",
    }  # fmt: skip
    env.pop("DATABASE_URL", None)
    run = subprocess.run(
        [sys.executable, "-c", ASK], env=env, cwd=ROOT, capture_output=True, text=True, timeout=120, check=True
    )
    told: dict[str, object] = json.loads(run.stdout.splitlines()[-1])
    return told


def test_behind_tls_cookies_are_secure_and_bound_to_the_host(
    answered: dict[str, dict[str, dict[str, object]]],
) -> None:
    assert answered["cookies"]
    for name, told in answered["cookies"].items():
        assert name.startswith("__Host-")
        assert told["secure"]
        assert told["httponly"]
        assert told["samesite"] in {"Lax", "Strict"}
        assert (told["domain"], told["path"]) == ("", "/")


def test_behind_tls_every_answer_asks_for_tls_for_a_year(answered: dict[str, str]) -> None:
    assert answered["hsts"] == "max-age=31536000; includeSubDomains"


def test_the_address_that_limits_count_by_cannot_be_chosen_by_the_client(answered: dict[str, str]) -> None:
    assert answered["address"] == "198.51.100.7"  # what the proxy saw, not what the client wrote before it


def _upload(world: World, name: str, content: bytes) -> int:
    client = world.client("owner")
    return client.post("/sites/take-in/", {"file": SimpleUploadedFile(name, content)}).status_code


def test_a_file_is_told_by_its_content_and_not_by_its_name(world: World) -> None:
    survey = (ROOT / "examples" / "ferry-yard.yaml").read_bytes().replace(b"Lanternfield", b"Another")
    assert _upload(world, "holiday.jpg", survey) == 302
    assert Site.objects.filter(name="Another Ferry Yard").exists()
    for name, content in (
        ("survey.yaml", b"\xff\xd8\xff\xe0 no survey"),
        ("survey.xlsx", b"<script>alert(1)</script>"),
        ("survey.yaml", b"PK\x03\x04 broken"),
        ("../../survey.yaml", b"format: &a [*a]"),
        ("survey.json", b"[" * 10_000),
    ):
        assert _upload(world, name, content) == 422
    assert Site.objects.count() == 2


def test_an_upload_that_is_too_large_is_refused(world: World) -> None:
    count = Site.objects.count()
    assert _upload(world, "survey.yaml", b"# " + b"x" * 3_000_000) == 422
    assert _upload(world, "survey.yaml", b"# " + b"x" * 17_000_000) in {400, 413, 422}
    assert Site.objects.count() == count
    assert not list(Path(os.environ["SILLWRIGHT_DATA"]).rglob("survey*"))
