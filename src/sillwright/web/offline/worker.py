"""What makes the application open without a network: the worker, what it keeps of ours, and the words around it."""

from __future__ import annotations

import json
from functools import cache
from hashlib import sha256
from pathlib import Path

from django.conf import settings
from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import render
from django.template.loader import render_to_string
from django.templatetags.static import static
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import condition, require_safe

from sillwright.web.program import program
from sillwright.web.workbench import fault_book

STATIC = Path(__file__).parents[1] / "static"
LOADED = {".css", ".js", ".svg"}  # by pages; icons are the browser's own affair
INK, PAPER = "#0b3f66", "#ffffff"


@cache
def files() -> tuple[str, ...]:
    """The addresses of every style sheet, script and drawing of ours."""
    names = sorted(each.relative_to(STATIC).as_posix() for each in STATIC.rglob("*") if each.suffix in LOADED)
    return tuple(static(name) for name in names)


@cache
def version() -> str:
    """Another one for every change of the program, of a file that pages load, or of the worker itself."""
    return sha256(f"{program()}\n{_script('')}".encode()).hexdigest()[:16]


def _script(of: str) -> str:
    addresses = {
        "files": [*files(), fault_book.address()],
        "offline": reverse("offline"),
        "book": reverse("book"),
        "workbench": reverse("workbench"),
        "call": reverse("trouble"),
        "first": reverse("trouble_first"),
        "faults": reverse("fault_bench"),
        "faults_kept": reverse("fault_bench_kept"),
        "static": settings.STATIC_URL,
    }
    told = {"version": of, "ours": json.dumps(addresses, indent=1)}
    return render_to_string("offline/sw.js", told)


@login_not_required
@require_safe
@condition(etag_func=lambda request: f'"{version()}"')
def worker(request: HttpRequest) -> HttpResponse:
    """The script that the browser keeps running; asked for anew at every visit."""
    return HttpResponse(_script(version()), "text/javascript; charset=utf-8", headers={"Cache-Control": "no-cache"})


@login_not_required
@require_safe
def app_manifest(request: HttpRequest) -> HttpResponse:
    """What a phone is told when the application is put on its home screen."""
    icons = [
        {"src": static(f"icons/{name}.png"), "sizes": f"{size}x{size}", "type": "image/png", "purpose": purpose}
        for name, size, purpose in (("192", 192, "any"), ("512", 512, "any"), ("maskable-512", 512, "maskable"))
    ]
    told = {
        "id": "/",
        "name": "Sillwright",
        "short_name": "Sillwright",
        "description": _("Entrapment protection at powered doors and gates, from survey to papers"),
        "start_url": "/",
        "scope": "/",
        "display": "standalone",
        "background_color": PAPER,
        "theme_color": INK,
        "icons": icons,
    }
    headers = {"Cache-Control": "no-cache"}
    return JsonResponse(told, content_type="application/manifest+json", headers=headers)


@login_not_required
@require_safe
def offline(request: HttpRequest) -> HttpResponse:
    """The page in place of one that is not kept; the same for everybody, since it is kept for everybody."""
    return render(request, "offline/offline_page.html", {"user": None})
