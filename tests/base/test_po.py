"""A catalogue is read as translators write it, and a part that speaks a language leaves the rest as it is."""

from __future__ import annotations

from datetime import date

import pytest

from sillwright.base.po import read_po
from sillwright.base.words import Reader, dated, translate

HEAD = 'msgid ""\nmsgstr ""\n"Language: es\\n"\n\n'
SPANISH = Reader(language="es", part="handout")


def test_comments_and_the_head_are_no_sentences() -> None:
    assert read_po(f'# a note\n{HEAD}#, python-brace-format\nmsgid "{{n}} of 100"\nmsgstr "{{n}} de 100"\n') == {
        "{n} of 100": "{n} de 100"
    }


def test_long_lines_are_joined_and_signs_stay() -> None:
    text = HEAD + 'msgid ""\n"Say \\"no\\", "\n"then\\tgo."\nmsgstr "Diga «no» "\n"y siga – 門."'
    assert read_po(text) == {'Say "no", then\tgo.': "Diga «no» y siga – 門."}


def test_a_sentence_that_is_not_translated_yet_is_not_there() -> None:
    assert read_po(HEAD + 'msgid "It jumps."\nmsgstr ""') == {}


@pytest.mark.parametrize("line", ["hello", 'msgstr "first"', 'msgctxt "a"', 'msgid_plural "a"', '"loose"'])
def test_a_line_that_is_none_of_a_catalogue_is_named(line: str) -> None:
    with pytest.raises(ValueError, match="line 1"):
        read_po(line)


def test_a_language_that_only_a_part_speaks_changes_nothing_elsewhere() -> None:
    assert translate("It jumps.", SPANISH) == "Salta."
    for other in (Reader(language="es"), Reader(language="es", part="quote"), Reader(part="handout")):
        assert translate("It jumps.", other) == "It jumps."


def test_a_date_in_spanish_is_in_the_order_of_spanish() -> None:
    assert dated(date(2026, 5, 4), SPANISH) == "4 de mayo de 2026"
