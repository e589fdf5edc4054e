"""Files as they are handed out: under a plain name, never run, never taken for a page of ours."""

from __future__ import annotations

from django.http import HttpResponse

POLICY = "default-src 'none'; sandbox"
PHOTO_POLICY = "default-src 'none'; style-src 'unsafe-inline'; sandbox"
"""A browser shows a photo on a page that it makes itself, and lays that out with styles written into it."""


def as_file(content: bytes, media: str, name: str, *, download: bool = True) -> HttpResponse:
    """Bytes as a file to download, or to look at in a page of its own."""
    response = HttpResponse(content, content_type=media)
    response["Content-Disposition"] = f'{"attachment" if download else "inline"}; filename="{name}"'
    response["Content-Security-Policy"] = PHOTO_POLICY if media == "image/jpeg" else POLICY
    response["X-Content-Type-Options"] = "nosniff"
    return response
