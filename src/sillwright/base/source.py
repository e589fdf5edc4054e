"""Where a number or a rule comes from, and how sure we are of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Sure = Literal["read", "second-hand", "memory", "computed", "practice"]

SURE_IN_WORDS: dict[Sure, str] = {
    "read": "read in the source's own text",
    "second-hand": "confirmed in a text that quotes the source",
    "memory": "from memory, to be confirmed",
    "computed": "follows from the stated formula",
    "practice": "common practice, no source",
}


@dataclass(frozen=True, kw_only=True)
class Source:
    """A citation.

    >>> str(Source(document="EN 12453", clause="5.1", sure="second-hand"))
    'EN 12453, 5.1 (confirmed in a text that quotes the source)'
    """

    document: str
    sure: Sure
    edition: str | None = None
    clause: str | None = None
    id: str | None = None

    def __str__(self) -> str:
        name = ", ".join(part for part in (self.document, self.edition, self.clause) if part)
        return f"{name} ({SURE_IN_WORDS[self.sure]})"

    def as_json(self) -> dict[str, str]:
        """The citation as the machine-read answers print it."""
        pairs = {
            "id": self.id,
            "document": self.document,
            "edition": self.edition,
            "clause": self.clause,
            "sure": self.sure,
        }
        return {key: value for key, value in pairs.items() if value}
