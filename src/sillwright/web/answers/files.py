"""Files as they are handed out: under a plain name, never run, never taken for a page of ours."""

from __future__ import annotations

from django.http import HttpResponse

POLICY = "default-src 'none'; sandbox"


def as_file(content: bytes, media: str, name: str, *, download: bool = True) -> HttpResponse:
    """Bytes as a file to download, or to look at in a page of its own."""
    response = HttpResponse(content, content_type=media)
    response["Content-Disposition"] = f'{"attachment" if download else "inline"}; filename="{name}"'
    response["Content-Security-Policy"] = POLICY
    response["X-Content-Type-Options"] = "nosniff"
    return response
