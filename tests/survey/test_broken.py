"""A folder of deliberately broken files: each is refused with exactly the message that stands beside it."""

from __future__ import annotations

from pathlib import Path

import pytest

from sillwright.base.errors import DocumentError
from sillwright.survey.reading import read_survey

FOLDER = Path(__file__).parent / "broken"
FILES = sorted(FOLDER.glob("*.yaml"))


@pytest.mark.parametrize("path", FILES, ids=[path.stem for path in FILES])
def test_a_broken_file_is_refused_with_the_message_beside_it(path):
    with pytest.raises(DocumentError) as caught:
        read_survey(path)
    assert f"{caught.value}\n" == path.with_suffix(".txt").read_text(encoding="utf-8")


def test_every_broken_file_has_its_message_and_every_message_its_file():
    assert len(FILES) >= 16
    assert {path.stem for path in FILES} == {path.stem for path in FOLDER.glob("*.txt")}


@pytest.mark.parametrize("path", FILES, ids=[path.stem for path in FILES])
def test_a_broken_file_is_no_draft_either(path):
    with pytest.raises(DocumentError):
        read_survey(path, draft=True)
