"""The handout in two languages: nothing of it lacks its Spanish, and nothing beside it turns Spanish."""

from __future__ import annotations

import ast
import html
import re
from collections.abc import Iterator
from importlib.resources import files
from pathlib import Path
from typing import Any

import pytest
from django.test import Client

from sillwright.base import words
from sillwright.base.po import read_po
from sillwright.base.words import ENGLISH, Reader, translate
from sillwright.paper.handout import handout_paper
from sillwright.trouble.book import fault_book
from sillwright.trouble.lesson import Course, Made
from sillwright.trouble.safety import questions
from sillwright.web.lesson import attending, handout, shown
from sillwright.web.lesson.handout import CHOICES, ES, handout_of, roll_of
from sillwright.web.lesson.models import Lesson
from sillwright.web.lesson.teaching import Under
from tests.pseudo import catalogue

from .conftest import World
from .teaching import attended, bare_lesson

BOOK = fault_book()
LOCALE = files("sillwright.base") / "locale"
SPANISH = read_po((LOCALE / "es/LC_MESSAGES/handout.po").read_text(encoding="utf-8"))
ALIKE = {"No.", "{words} {answer} ({minutes} min)", "Sillwright {version} · {day}"}
"""What reads alike in both languages."""


def of_the_model() -> Iterator[str]:
    """Every sentence of the fault model and of the questions of harm that a handout may print."""
    yield from (each.words for each in (*BOOK.symptoms, *BOOK.faults))
    yield from (each.words.template for each in questions())
    for test in BOOK.tests:
        yield from (test.question, *(each.words for each in test.outcomes), *test.cautions)
    for repair in BOOK.repairs:
        yield from (repair.words, *repair.proof, *repair.cautions)


def of_the_pages() -> Iterator[str]:
    """Every sentence that the modules of the handout say themselves."""
    for module in (handout, shown, attending):
        for node in ast.walk(ast.parse(Path(str(module.__file__)).read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "N_":
                yield str(ast.literal_eval(node.args[0]))


PRINTED = sorted({*of_the_model(), *of_the_pages()})


def wrong_with(sentence: str) -> str:
    """What is wrong with the Spanish of a sentence."""
    spanish = SPANISH.get(sentence, "")
    if not spanish:
        return "no Spanish"
    if spanish == sentence and sentence not in ALIKE:
        return "the same as the English"
    if names(spanish) != names(sentence):
        return "other placeholders"
    if re.findall(r"\d+(?:\.\d+)?", spanish) != re.findall(r"\d+(?:\.\d+)?", sentence):
        return "other numbers"
    if sentence.count("?") != spanish.count("?") or spanish.count("¿") != spanish.count("?"):
        return "not asked as the English asks it"
    return "" if spanish[-1] == sentence[-1] or sentence[-1].isalnum() else "another sign at its end"


def names(template: str) -> list[str]:
    return sorted(re.findall(r"\{(\w+)\}", template))


def test_every_sentence_that_a_handout_may_print_has_its_spanish() -> None:
    assert len(PRINTED) > 500
    assert {sentence: wrong for sentence in PRINTED if (wrong := wrong_with(sentence))} == {}


@pytest.mark.parametrize(
    ("sentence", "spanish", "wrong"),
    [
        ("It jumps.", "", "no Spanish"),
        ("It jumps.", "It jumps.", "the same as the English"),
        ("{count} of 100", "{cuenta} de 100", "other placeholders"),
        ("10 to 30 V.", "10 a 24 V.", "other numbers"),
        ("Is it a fire door?", "Es una puerta contra incendios?", "not asked as the English asks it"),
        ("It jumps.", "Salta", "another sign at its end"),
    ],
)
def test_a_sentence_that_is_badly_translated_is_found(
    monkeypatch: pytest.MonkeyPatch, sentence: str, spanish: str, wrong: str
) -> None:
    monkeypatch.setitem(SPANISH, sentence, spanish)
    assert wrong_with(sentence) == wrong


def test_nothing_is_translated_that_the_program_does_not_say() -> None:
    assert set(SPANISH) - catalogue() == set()


SAFETY = {
    "No device is bridged, taped over, unplugged or swapped to make a leaf run, whoever asks for it.": "Ningún",
    "Nobody touches the control and nobody stands under the leaf.": "Nadie",
    "The leaf is not commanded to run while the substitute part is in.": "No ",
    "Never leave a substitute part or a jumper in place of a device.": "Nunca",
    "Ladder beside the opening; nobody runs the leaf.": "nadie",
}


def test_what_forbids_in_english_forbids_in_spanish() -> None:
    assert [english for english, word in SAFETY.items() if word not in SPANISH[english]] == []
    forbids = re.compile(r"\b(no|not|never|nobody|nothing|none|neither|without|no longer|nowhere)\b", re.IGNORECASE)
    denies = re.compile(r"\b(no|nunca|nadie|nada|ning\w+|ni|sin|apagad\w+|muert\w+|cort\w+)\b", re.IGNORECASE)
    cautions = {each for one in (*BOOK.tests, *BOOK.repairs) for each in one.cautions}
    assert [each for each in cautions if forbids.search(each) and not denies.search(SPANISH[each])] == []


class Noting(dict[str, str]):
    """A catalogue that keeps what was looked up in it in vain."""

    def __init__(self, known: dict[str, str]) -> None:
        super().__init__(known)
        self.lacking: set[str] = set()

    def get(self, key: str, default: Any = None) -> Any:
        if key not in self:
            self.lacking.add(key)
        return super().get(key, default)


def door(fault: str, ended: str | None) -> Under:
    """A lesson at which everything was asked that there is, and everything done."""
    steps = [
        Made(kind="test", id=test.id, outcome=test.outcomes[-1].id, minutes=test.minutes) for test in BOOK.tests
    ]
    steps += [Made(kind="repair", id=each.id, minutes=each.minutes, helped=True) for each in BOOK.repairs]
    course = Course(steps=(*steps, Made(kind="stop")), minutes=99.0, ended=ended)  # type: ignore[arg-type]
    row = Lesson(seed=2, symptom=BOOK.symptoms[0].id, faults=[fault], best={"ended": "further"})
    return Under(row, course)


def test_no_english_comes_out_of_a_spanish_handout_whatever_was_hidden(monkeypatch: pytest.MonkeyPatch) -> None:
    noting = Noting(SPANISH)
    monkeypatch.setattr(words, "translations", lambda language, part: noting)
    monkeypatch.setattr(shown, "_telling", lambda door, course: ())
    endings = ["mended", "stop", "further", None]
    for at, fault in enumerate(BOOK.faults):
        sheet = handout_of(door(fault.id, endings[at % 4]), "es")
        assert sheet.readers == (ES,)
    handout_paper(sheet, company="Harbour Doors", made_on=words.date(2026, 5, 4), version="1")
    for share in (0.001, 0.5, 0.999):
        words.render(shown.share_in_words(share), ES)
    again = set(SPANISH.values())  # labels of the frame come Spanish and are looked up once more
    assert noting.lacking - again == set()


def text(response: Any) -> str:
    return html.unescape(response.content.decode())


@pytest.fixture
def lesson(world: World) -> Lesson:
    """A lesson with a step and somebody who signed."""
    made = bare_lesson(world.dealer, world.people["owner"])
    attended(made, world.people["owner"])
    return made


def page(world: World, lesson: Lesson, query: str) -> str:
    return text(world.client("owner").get(f"/lessons/{lesson.pk}/handout/{query}"))


LEAD = next(each.words for each in BOOK.faults if each.id == "LEAD_OPEN")


def test_who_prints_it_chooses_english_spanish_or_both(world: World, lesson: Lesson) -> None:
    english, spanish, both = (page(world, lesson, f"?in={each}") for each in CHOICES)
    assert f"It was: {LEAD}" in english
    assert "Era: " not in english
    assert f"Era: {SPANISH[LEAD]}" in spanish
    assert "It was: " not in spanish
    assert '<section class="sheet" lang="es">' in spanish
    assert '<h1 lang="es">Lección: encontrar la falla' in spanish
    assert f'<span lang="en">It was: {LEAD}</span> <span lang="es">Era: {SPANISH[LEAD]}</span>' in both


@pytest.mark.parametrize("query", ["", "?in=", "?in=fr", "?in=ES", "?in=<b>", "?who=2"])
def test_anything_else_is_english(world: World, lesson: Lesson, query: str) -> None:
    shown = page(world, lesson, query)
    assert f"It was: {LEAD}" in shown
    assert 'lang="es"' not in shown
    assert "<b>" not in shown.partition("<main")[2]


def test_it_says_who_translated_it_and_which_text_holds(world: World, lesson: Lesson) -> None:
    assert "not by a sworn translator" not in page(world, lesson, "?in=en")
    assert "no un traductor jurado" in page(world, lesson, "?in=es")
    both = page(world, lesson, "?in=both")
    assert "not by a sworn translator. Where the two differ, the English text holds." in both
    assert "vale el texto en inglés" in both


def test_the_list_of_who_was_there_is_printed_where_it_is_asked_for(world: World, lesson: Lesson) -> None:
    assert "Nell 門" not in page(world, lesson, "?in=both")
    shown = page(world, lesson, "?in=es&who=1")
    row = shown.partition('class="sheet roll"')[2]
    for each in ("Nell 門", "Nombre", "Firma", "Resultado", "Aprobó", "Vence", "Quiénes asistieron"):
        assert each in row, each
    assert 'd="M10 20L30 40"' in row


def test_a_list_without_names_has_empty_rows(world: World) -> None:
    empty = bare_lesson(world.dealer, world.people["owner"], code="ZZZ999")
    assert page(world, empty, "?who=1").count('<tr class="blank">') == 12
    assert roll_of(empty, "en").rows == []


def test_the_file_is_in_the_languages_that_were_chosen(world: World, lesson: Lesson) -> None:
    for choice, name in (("es", "lesson-abc234-es.pdf"), ("both", "lesson-abc234-en-es.pdf")):
        response = world.client("owner").get(f"/lessons/{lesson.pk}/handout.pdf?in={choice}&who=1")
        assert response["Content-Disposition"] == f'attachment; filename="{name}"'
        assert response.content.startswith(b"%PDF")


def test_a_browser_that_asks_for_spanish_changes_no_page(world: World, lesson: Lesson) -> None:
    client = world.client("owner")
    pages = ["/lessons/", *(f"/lessons/{lesson.pk}/{each}" for each in ("", "handout/")), "/sites/new/"]
    for address in pages:
        told = [body(client.get(address, headers={"Accept-Language": each})) for each in ("en", "es-MX,es")]
        assert told[0] == told[1], address
    board = [
        body(Client().get(f"/class/{lesson.code}/", headers={"Accept-Language": each})) for each in ("en", "es")
    ]
    assert board[0] == board[1]


def body(response: Any) -> str:
    """The page without what is new at each load."""
    return re.sub(r'name="(csrfmiddlewaretoken|key)" value="[^"]+"', "", text(response).partition("<main")[2])


def test_a_language_is_offered_only_where_all_of_it_is_said(settings: Any) -> None:
    """Half a language is worse than none: what the whole program speaks has a whole catalogue."""
    for code, _name in settings.LANGUAGES:
        reader = Reader(language=code)
        same = [each for each in catalogue() if translate(each, reader) == each]
        assert code == "en" or len(same) < 100
    assert all(translate(each, Reader(language="es")) == translate(each, ENGLISH) for each in SPANISH)
