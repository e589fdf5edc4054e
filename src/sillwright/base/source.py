"""Where a number or a rule comes from, and how sure we are of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sillwright.base.words import ENGLISH, N_, Reader, Sentence, render, translate

Sure = Literal["read", "second-hand", "memory", "computed", "practice"]

SURE_IN_WORDS: dict[Sure, str] = {
    "read": N_("read in the source's own text"),
    "second-hand": N_("confirmed in a text that quotes the source"),
    "memory": N_("from memory, to be confirmed"),
    "computed": N_("follows from the stated formula"),
    "practice": N_("common practice, no source"),
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
        return self.in_words(ENGLISH)

    def in_words(self, reader: Reader) -> str:
        """The citation for a reader; titles that were published stay as they are."""
        parts = (self.document, self.edition, self.clause)
        name = ", ".join(translate(part, reader) for part in parts if part)
        words = {"name": name, "sure": Sentence(SURE_IN_WORDS[self.sure])}
        return render(Sentence(N_("{name} ({sure})"), words), reader)

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
