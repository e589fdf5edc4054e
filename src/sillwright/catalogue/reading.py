"""Catalogue files: YAML, JSON or XLSX, read within limits, refused with every mistake at once."""

from __future__ import annotations

from pathlib import Path

from sillwright.base.errors import DocumentError, Mistake
from sillwright.base.node import MOST_BYTES, Mistakes, parse
from sillwright.base.words import N_, say
from sillwright.catalogue.from_node import catalogue_from
from sillwright.catalogue.model import Catalogue
from sillwright.catalogue.writing import catalogue_as_yaml
from sillwright.survey.reading import read_bytes

_WORKBOOKS = {".xlsx", ".xlsm", ".xltx", ".xltm", ".xls", ".ods"}
_PACKED = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0")  # how workbooks begin, new and old
_MAY_GROW = 10  # times: ``9"`` in a curve takes a line of 0.22859999999999997


def read_catalogue(path: Path) -> Catalogue:
    """The catalogue in a YAML, JSON or XLSX file.

    Raises :class:`DocumentError` with all mistakes: path, line, column, what was read, what would be accepted.
    """
    return catalogue_of(read_bytes(path), path.name, packed=path.suffix.lower() in _WORKBOOKS)


def catalogue_of(content: bytes, name: str, packed: bool = False) -> Catalogue:
    """The catalogue in the bytes of a YAML, JSON or XLSX file; ``packed``: it is a workbook.

    What is read can be written and read again. Raises :class:`DocumentError` with all mistakes.
    """
    if len(content) > MOST_BYTES:
        raise _too_large(name, say(N_("the file is larger than 2 MB")))
    packed = packed or content.startswith(_PACKED)
    if packed:
        from sillwright.catalogue.sheet import catalogue_of_sheet  # the spreadsheet library is heavy

        found = catalogue_of_sheet(content, name)
    else:
        noted = Mistakes(name)
        found = catalogue_from(parse(content, name, noted), name, noted)
    if (packed or len(content) > MOST_BYTES // _MAY_GROW) and len(catalogue_as_yaml(found).encode()) > MOST_BYTES:
        raise _too_large(name, say(N_("written out, this catalogue is larger than 2 MB")))
    return found


def _too_large(name: str, message: str) -> DocumentError:
    accepted = say(N_("leave out what is not ordered any more"))
    return DocumentError(name, (Mistake(path="", message=message, accepted=accepted),))
