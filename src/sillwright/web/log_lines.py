"""Log lines as JSON: what happened, with the request's id; never what was entered, no address, no token."""

from __future__ import annotations

import json
import logging
from datetime import UTC, datetime


class Lines(logging.Formatter):
    """One JSON object a line."""

    def format(self, record: logging.LogRecord) -> str:
        line = {
            "at": datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds"),
            "level": record.levelname.lower(),
            "from": record.name,
            "what": record.getMessage() if record.name.startswith("sillwright") else record.msg,
            **getattr(record, "facts", {}),
        }
        if record.exc_info and record.exc_info[1] is not None:
            line["error"] = type(record.exc_info[1]).__name__
            line["where"] = self._where(record)
        return json.dumps(line, ensure_ascii=True, default=str)

    @staticmethod
    def _where(record: logging.LogRecord) -> list[str]:
        """File and line of every frame; the words of an error may hold what a person entered, so they stay out."""
        trace = record.exc_info[2] if record.exc_info else None
        found = []
        while trace is not None:
            code = trace.tb_frame.f_code
            found.append(f"{code.co_filename.rpartition('/')[2]}:{trace.tb_lineno} {code.co_name}")
            trace = trace.tb_next
        return found[-8:]
