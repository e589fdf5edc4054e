"""Uploaded files: held in memory, at most 16 MB, and never written under a name that came with them."""

from __future__ import annotations

from typing import Any

from django.core.files.uploadhandler import MemoryFileUploadHandler, StopUpload

MOST_BYTES = 16_000_000


class Capped(MemoryFileUploadHandler):
    """Keeps an upload in memory and stops reading at 16 MB, whatever its headers claim."""

    def handle_raw_input(
        self, input_data: Any, META: Any, content_length: int, boundary: Any, encoding: Any = None
    ) -> None:
        self.activated = True

    def new_file(self, *args: Any, **named: Any) -> None:
        self.read = 0
        super().new_file(*args, **named)

    def receive_data_chunk(self, raw_data: bytes, start: int) -> bytes | None:
        self.read += len(raw_data)
        if self.read > MOST_BYTES:
            raise StopUpload(connection_reset=False)
        return super().receive_data_chunk(raw_data, start)
