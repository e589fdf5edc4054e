"""Survey files: read within limits, refused with every mistake at once."""

from __future__ import annotations

from pathlib import Path

from sillwright.base.errors import DocumentError, InputError, Mistake
from sillwright.base.node import MOST_BYTES, Mistakes, Node, parse
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
            raise InputError(f"{path}: no such file" if not path.exists() else f"{path}: not a file")
        with path.open("rb") as file:
            large = path.stat().st_size > MOST_BYTES
            content = b"" if large else file.read(MOST_BYTES + 1)
    except OSError as error:
        raise InputError(f"{path}: cannot be read ({error.strerror})") from None
    if large or len(content) > MOST_BYTES:
        raise DocumentError(path.name, (Mistake(path="", message="the file is larger than 2 MB"),))
    return content


def read_survey(path: Path, *, draft: bool = False) -> Survey:
    """The survey in a YAML, JSON or XLSX file.

    A draft may lack everything but the tags; without ``draft`` the facts that a study needs are required.
    Raises :class:`DocumentError` with all mistakes: path, line, column, what was read, what would be accepted.
    """
    content = read_bytes(path)
    if path.suffix.lower() in _WORKBOOKS or content.startswith(_PACKED):
        from sillwright.survey.sheet import survey_of_sheet  # the spreadsheet library is heavy

        survey = survey_of_sheet(content, path.name)
    else:
        noted = Mistakes(path.name)
        survey = survey_from(parse(content, path.name, noted), path.name, noted)
    if not draft and (missing := missing_for_study(survey)):
        raise DocumentError(path.name, missing)
    return survey
