"""Where a zone of a gate lies, by the words of whoever took it down."""

from __future__ import annotations

BENEATH = r"\b(underside|under|below|beneath|bottom)\b"
"""Words that say: beneath the leaf."""
