"""What the command line says: every sentence from the catalogue, in the words of its reader.

The help of the commands and of their options is English; it is the program's own reference.
"""

from __future__ import annotations

from typing import Any

from sillwright.base.words import Reader, Sentence, render

HERE = Reader()
"""Who reads where no survey says whose units and dates are used."""


def said(reader: Reader, template: str, /, **values: Any) -> str:
    """A marked sentence in the reader's words.

    >>> said(HERE, "{done} of {count} openings", done=1, count=3)
    '1 of 3 openings'
    """
    return render(Sentence(template, values), reader)
