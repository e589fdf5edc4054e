"""Messages are phrases: English text wherever they go, and the reader's language where they are shown."""

from __future__ import annotations

import copy
import json
import pickle
from datetime import date
from gettext import NullTranslations

import pytest

from sillwright.base import quantity, words
from sillwright.base.errors import DocumentError, InputError, Mistake, OutOfRange, QuantityError, SillwrightError
from sillwright.base.model import Case, Limits, field
from sillwright.base.nearest import did_you_mean
from sillwright.base.node import parse
from sillwright.base.source import Source
from sillwright.base.units import Metre
from sillwright.base.words import Amount, Phrase, Reader, Sentence, in_words, retold, say, translate

from ..pseudo import PSEUDO, foreign, translations, unmarked

SPANISH = {
    "{count} points; 2 to {most} are accepted": "se aceptan de 2 a {most} puntos, no {count}",
    "unknown unit “{unit}”": "unidad «{unit}» desconocida",
    "write for example {examples}": "escriba por ejemplo {examples}",
    "{message}; {accepted}": "{message}: {accepted}",
    "line {line}, column {column}: {message}": "línea {line}, columna {column}: {message}",
    "{message}, read {got}": "{message}; dice {got}",
    "“{text}”": "«{text}»",
    "a mapping is wanted here": "aquí va un grupo de datos",
    "{name}: 1 mistake, nothing was written": "{name}: 1 error, no se escribió nada",
    "{name}: {count} mistakes, nothing was written": "{name}: {count} errores, no se escribió nada",
    "The leaf is {width} wide.": "La hoja mide {width} de ancho.",
    "yes": "sí",
}
ES = Reader(language="es", units="metric", country="ES")


@pytest.fixture
def _spanish(monkeypatch: pytest.MonkeyPatch) -> None:
    class Spanish(NullTranslations):
        def gettext(self, message: str) -> str:
            return SPANISH.get(message, message)

    monkeypatch.setattr(words, "_catalogue", lambda name: Spanish() if name == "es" else NullTranslations())


@pytest.fixture
def _pseudo(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(words, "_catalogue", translations)


def sent(value):
    """A value as another process gets it."""
    return pickle.loads(pickle.dumps(value))  # noqa: S301 - made in this very line


POINTS = say("{count} points; 2 to {most} are accepted", count=1, most=64)


def test_a_phrase_is_its_english_text():
    assert POINTS == "1 points; 2 to 64 are accepted"
    assert hash(POINTS) == hash("1 points; 2 to 64 are accepted")
    assert f"{POINTS}." == "1 points; 2 to 64 are accepted."
    assert type(str(POINTS)) is str
    assert json.loads(json.dumps({"said": POINTS})) == {"said": "1 points; 2 to 64 are accepted"}


@pytest.mark.usefixtures("_spanish")
def test_a_phrase_is_said_again_in_the_order_of_another_language():
    assert retold(POINTS, ES) == "se aceptan de 2 a 64 puntos, no 1"
    assert translate(POINTS, ES) == in_words(POINTS, ES) == retold(POINTS, ES)
    assert retold(POINTS, Reader()) == POINTS


@pytest.mark.usefixtures("_spanish")
@pytest.mark.parametrize("again", [copy.copy, copy.deepcopy, sent], ids=["copy", "deep", "sent"])
def test_a_copy_of_a_phrase_can_be_said_again_too(again):
    kept = again(POINTS)
    assert isinstance(kept, Phrase)
    assert kept == POINTS
    assert retold(kept, ES) == retold(POINTS, ES)


def test_any_other_text_stays_as_it_is():
    assert retold("yes", ES) == "yes"
    assert in_words("{not a template}", ES) == "{not a template}"


@pytest.mark.usefixtures("_spanish")
def test_what_is_put_into_a_phrase_is_said_in_the_readers_words_too():
    inner = say("unknown unit “{unit}”", unit="cubits")
    outer = say("{message}; {accepted}", message=inner, accepted=Amount(0.5, "m"))
    assert outer == "unknown unit “cubits”; 1 ft 7-11/16 in"
    assert retold(outer, ES) == "unidad «cubits» desconocida: 500 mm"
    several = say("{all}", all=(Sentence("The leaf is {width} wide.", {"width": Amount(3.2, "m")}), True))
    assert retold(several, ES) == "La hoja mide 3.200 m de ancho., sí"
    assert retold(say("{day}", day=date(2026, 3, 4)), ES) == "4 March 2026"


def test_what_a_person_wrote_is_never_a_template():
    said = say("unknown unit “{unit}”", unit="{count} {0.__class__}")
    assert said == "unknown unit “{count} {0.__class__}”"
    assert retold(say("{message}; {accepted}", message=said, accepted="{}"), ES).endswith("{}")


def test_a_phrase_can_hold_braces_of_its_own():
    assert say("write {{value: …}} at {place}", place="door") == "write {value: …} at door"


# errors


@pytest.mark.usefixtures("_spanish")
def test_an_error_is_english_and_speaks_the_readers_language():
    with pytest.raises(QuantityError) as caught:
        quantity.parse("3 cubits", "m/s")
    assert str(caught.value) == 'unknown unit “cubits”; write for example "8 in/s", "0.2 m/s"'
    assert caught.value.in_words(ES) == 'unidad «cubits» desconocida: escriba por ejemplo "8 in/s", "0.2 m/s"'


@pytest.mark.usefixtures("_spanish")
def test_a_file_is_refused_in_the_readers_language_mistake_by_mistake():
    one = Mistake(
        path="door", message=say("a mapping is wanted here"), got=say("“{text}”", text="x"), line=3, column=4
    )
    found = DocumentError("yard.yaml", (one,))
    assert str(found) == (
        "yard.yaml: 1 mistake, nothing was written\nline 3, column 4: door: a mapping is wanted here, read “x”"
    )
    assert found.in_words(ES) == (
        "yard.yaml: 1 error, no se escribió nada\nlínea 3, columna 4: door: aquí va un grupo de datos; dice «x»"
    )
    two = DocumentError("yard.yaml", (one, Mistake(path="", message="told", accepted="this")))
    assert two.in_words(ES).splitlines()[0] == "yard.yaml: 2 errores, no se escribió nada"
    assert two.in_words(ES).splitlines()[2:] == ["told", "    this"]


@pytest.mark.parametrize(
    "error",
    [
        InputError(say("{name}: {why}", name="yard.yaml", why="gone")),
        QuantityError(say("unknown unit “{unit}”", unit="x"), quantity.accepted("m")),
        DocumentError("yard.yaml", (Mistake(path="door", message=say("unknown key"), line=1, column=2),)),
    ],
    ids=lambda error: type(error).__name__,
)
def test_an_error_crosses_from_one_process_to_another(error):
    kept = sent(error)
    assert type(kept) is type(error)
    assert str(kept) == str(error)
    assert kept.in_words(PSEUDO) == error.in_words(PSEUDO)


def test_an_error_without_words_says_nothing():
    assert str(SillwrightError()) == ""


class Post(Case):
    """A post."""

    height: Metre = field(above=0, at_most=5)


@pytest.mark.usefixtures("_pseudo")
@pytest.mark.parametrize("value", [-1.0, 9.0, True, None])
def test_a_value_outside_a_models_range_is_refused_in_marked_words(value):
    with pytest.raises(OutOfRange) as caught:
        Post(height=value)
    assert unmarked(caught.value.in_words(PSEUDO), ["Post.height", "True"]) == []


@pytest.mark.usefixtures("_pseudo")
@pytest.mark.parametrize("unit", [*quantity.EXAMPLES, "N m"])
def test_what_is_accepted_is_said_in_marked_words(unit):
    assert unmarked(retold(quantity.accepted(unit), PSEUDO)) == []


@pytest.mark.usefixtures("_pseudo")
def test_ranges_and_near_words_are_said_in_marked_words():
    for limits in (Limits(), Limits(above=0, at_most=5), Limits(at_least=1, below=2)):
        assert unmarked(retold(limits.in_words("kg"), PSEUDO)) == []
    assert retold(did_you_mean("hihg", ["high", "low"]), PSEUDO) == foreign("did you mean “{word}”?").format(
        word="high"
    )


@pytest.mark.usefixtures("_pseudo")
@pytest.mark.parametrize(
    "content",
    [
        b"",
        b"a: &x 1",
        b"a: *x",
        b"a: !t 1",
        b"a: 1\na: 2",
        b"? [x]\n: 1",
        b"--- 1\n--- 2",
        b"\xff",
        b"[" * 60,
        b"a: ]",
    ],
)
def test_a_document_that_cannot_be_read_is_refused_in_marked_words(content):
    with pytest.raises(DocumentError) as caught:
        parse(content, "y.y")
    library = ["did not find expected node content", "found undefined alias"]
    assert unmarked(caught.value.in_words(PSEUDO), library) == []


@pytest.mark.usefixtures("_pseudo")
def test_a_citation_keeps_its_title_and_says_how_sure_it_is():
    said = Source(document="EN 12453", clause="Annex A", sure="memory").in_words(PSEUDO)
    assert said == f"EN 12453, {foreign('Annex A')} ({foreign('from memory, to be confirmed')})"


def test_a_message_costs_nothing_until_something_is_wrong(monkeypatch: pytest.MonkeyPatch) -> None:
    made: list[str] = []
    monkeypatch.setattr(Phrase, "__new__", lambda cls, template, values: made.append(template))
    Post(height=1.0)
    parse(b"door: {kind: sectional}", "yard.yaml")
    quantity.parse("10 ft 6 in", "m")
    assert made == []
