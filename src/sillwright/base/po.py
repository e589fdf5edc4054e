"""Reads a catalogue of translated sentences as translators write it, so that nothing has to be compiled first."""

from __future__ import annotations

import ast


def read_po(text: str) -> dict[str, str]:
    """The sentences of a ``.po`` file that are translated; comments and the head are left out.

    One form of each sentence, no contexts. Raises :class:`ValueError` for a line that is none of such a file.

    >>> read_po('msgid "no"\\nmsgstr ""\\n\\nmsgid "It "\\n"jumps."\\nmsgstr "Salta."')
    {'It jumps.': 'Salta.'}
    """
    found: list[dict[str, str]] = []
    part = ""
    for number, line in enumerate(text.splitlines(), 1):
        word, _, quoted = line.partition('"')
        if not line.strip() or line.startswith("#"):
            continue
        if word.strip() not in {"", "msgid", "msgstr"} or not (found or word.strip() == "msgid"):
            raise ValueError(f"line {number}: neither msgid nor msgstr")
        if word.strip():
            part = word.strip()
        if word.strip() == "msgid":
            found.append({"msgid": "", "msgstr": ""})
        found[-1][part] += ast.literal_eval(f'"{quoted}')
    return {each["msgid"]: each["msgstr"] for each in found if each["msgid"] and each["msgstr"]}
