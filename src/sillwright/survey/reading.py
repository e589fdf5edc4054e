"""Survey files: read within limits, refused with every mistake at once."""

from __future__ import annotations

from pathlib import Path

from sillwright.base.errors import DocumentError, InputError, Mistake
from sillwright.base.node import MOST_BYTES, Mistakes, Node, parse
from sillwright.base.words import N_, say
from sillwright.survey.from_node import survey_from
from sillwright.survey.model import Survey
from sillwright.survey.required import missing_for_study

_WORKBOOKS = {".xlsx", ".xlsm", ".xltx", ".xltm", ".xls", ".ods"}
_PACKED = (b"PK\x03\x04", b"\xd0\xcf\x11\xe0")  # how workbooks begin, new and old


def read_document(path: Path) -> Node:
    """The tree of a YAML or JSON file. Raises :class:`InputError` where it cannot be read."""
    return parse(read_bytes(path), path.name)


def read_bytes(path: Path) -> bytes:
    """The content of a file of at most 2 MB; of a larger one no more than that is read."""
    try:
        if not path.is_file():
            if not path.exists():
                raise InputError(say(N_("{file}: no such file"), file=path))
            raise InputError(say(N_("{file}: not a file"), file=path))
        with path.open("rb") as file:
            large = path.stat().st_size > MOST_BYTES
            content = b"" if large else file.read(MOST_BYTES + 1)
    except OSError as error:
        raise InputError(say(N_("{file}: cannot be read ({why})"), file=path, why=error.strerror)) from None
    if large or len(content) > MOST_BYTES:
        raise DocumentError(path.name, (Mistake(path="", message=say(N_("the file is larger than 2 MB"))),))
    return content


def read_survey(path: Path, *, draft: bool = False) -> Survey:
    """The survey in a YAML, JSON or XLSX file.

    A draft may lack everything but the tags; without ``draft`` the facts that a study needs are required.
    Raises :class:`DocumentError` with all mistakes: path, line, column, what was read, what would be accepted.
    """
    survey = survey_of(read_bytes(path), path.name, packed=path.suffix.lower() in _WORKBOOKS)
    if not draft and (missing := missing_for_study(survey)):
        raise DocumentError(path.name, missing)
    return survey


def survey_of(content: bytes, name: str, *, packed: bool = False) -> Survey:
    """The survey, perhaps a draft, in the bytes of a YAML, JSON or XLSX file; ``packed``: it is a workbook.

    Raises :class:`DocumentError` with all mistakes.
    """
    if len(content) > MOST_BYTES:
        raise DocumentError(name, (Mistake(path="", message=say(N_("the file is larger than 2 MB"))),))
    if packed or content.startswith(_PACKED):
        from sillwright.survey.sheet import survey_of_sheet  # the spreadsheet library is heavy

        return survey_of_sheet(content, name)
    noted = Mistakes(name)
    return survey_from(parse(content, name, noted), name, noted)
