"""Whole pages that a person looks at again and again, put together once until something they show has changed.

They are kept in the memory of the process. The token of forms is the only part that differs from request to
request; its places are known by the token that the page was made with.
"""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable, Mapping
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.middleware.csrf import get_token
from django.template.loader import render_to_string
from django.utils.translation import get_language


class Again:
    """The pages of one template, the least looked at of more than ``most`` forgotten.

    Everything that a page shows is in its key, or follows from what is in it.
    """

    def __init__(self, template: str, most: int = 200) -> None:
        self.template, self.most = template, most
        self._pages: OrderedDict[Hashable, list[bytes]] = OrderedDict()
        self._lock = threading.Lock()

    def page(self, request: HttpRequest, key: Hashable, told: Callable[[], Mapping[str, Any]]) -> HttpResponse:
        """The page with this key; ``told`` gives what the template is told where it has to be put together."""
        token = get_token(request)
        whole = (key, get_language())
        if "messages" in request.COOKIES:  # something is told once: that page is like no other
            return HttpResponse(self._made(request, told(), token))
        pieces = self._known(whole)
        if pieces is None:
            made = self._made(request, told(), token)
            pieces = [each.encode() for each in made.split(token)]
            self._keep(whole, pieces)
        return HttpResponse(token.encode().join(pieces))

    def _made(self, request: HttpRequest, told: Mapping[str, Any], token: str) -> str:
        return render_to_string(self.template, {**told, "csrf_token": token}, request)

    def _known(self, key: Hashable) -> list[bytes] | None:
        with self._lock:
            if key in self._pages:
                self._pages.move_to_end(key)
            return self._pages.get(key)

    def _keep(self, key: Hashable, pieces: list[bytes]) -> None:
        with self._lock:
            self._pages[key] = pieces
            while len(self._pages) > self.most:
                self._pages.popitem(last=False)
