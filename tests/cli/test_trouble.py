"""A call in the terminal, as somebody at a door goes through it."""

from __future__ import annotations

import io
import json
import signal
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

import pytest
import yaml

from sillwright.base import words
from sillwright.cli.call_said import answer_of
from sillwright.cli.interview import WHO
from sillwright.cli.main import run
from sillwright.trouble.answer import Call
from sillwright.trouble.book import fault_book
from sillwright.trouble.leading import HANGING, lead
from sillwright.trouble.model import Who
from sillwright.trouble.reading import FORMAT, CallFile, read_call
from sillwright.trouble.said import call_as_json, call_from
from sillwright.trouble.writing import write_call

from ..pseudo import Pseudo, unmarked

HARMLESS = "2\n2\n2\n1\n2\n"  # nobody hurt, nothing hangs, another way out, closed, no fire door
TECHNICIAN = HARMLESS + "3\n"
HELD = TECHNICIAN + "7\n"  # the seventh complaint: it closes only while the button is held


class Said(NamedTuple):
    """What a command left: exit code and both streams."""

    code: object
    out: str
    err: str


Trouble = Callable[..., Said]


@pytest.fixture
def trouble(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Trouble:
    """Runs the command in an empty folder, with what is typed to it."""
    monkeypatch.chdir(tmp_path)

    def typed(*options: object, typed: str = "") -> Said:
        monkeypatch.setattr(sys, "argv", ["sillwright", "trouble", *map(str, options)])
        monkeypatch.setattr(sys, "stdin", io.StringIO(typed))
        code: object = 0
        try:
            run()
        except SystemExit as ended:
            code = ended.code
        printed = capsys.readouterr()
        return Said(code, printed.out, printed.err)

    return typed


def kept(name: str = "call.yaml") -> dict[str, object]:
    found = yaml.safe_load(Path(name).read_text(encoding="utf-8"))
    assert isinstance(found, dict)
    return found


def questions_of(said: Said) -> Iterator[str]:
    """What was asked, by the line before the first answer of each question."""
    lines = said.err.splitlines()
    yield from (lines[at - 1] for at, line in enumerate(lines) if line.startswith("   1  "))


def test_the_first_question_is_whether_anybody_is_hurt(trouble: Trouble) -> None:
    said = trouble()
    assert said.code == 0
    assert said.err.strip().startswith("First: nobody gets hurt")
    assert next(questions_of(said)) == "Is anyone hurt or trapped?"


def test_who_is_there_and_what_the_door_does_are_asked_only_then(trouble: Trouble) -> None:
    asked = list(questions_of(trouble(typed=TECHNICIAN)))
    assert asked[-2:] == ["Who is at the door?", "What does the door do?"]
    assert len(asked) == 7


def test_somebody_hurt_ends_the_call_at_once(trouble: Trouble) -> None:
    said = trouble("--record", "call.yaml", typed="1\n?\n?\n")
    assert said.out.strip().startswith("Stop. Call the emergency number now.")
    assert "Who is at the door?" not in said.err
    assert "Bring" not in said.out
    assert kept()["harm"] == {"hurt": "yes"}


def test_a_slipped_key_at_a_stop_is_taken_back(trouble: Trouble) -> None:
    said = trouble("--record", "call.yaml", typed="1\nb\n2\n")
    assert said.out.count("Stop.") == 1
    assert kept()["harm"] == {"hurt": "no"}


def test_a_hanging_cable_leaves_the_leaf_where_it_is(trouble: Trouble) -> None:
    said = trouble(typed="2\n1\n2\n2\n")
    assert "Stop. Leave the leaf as it is" in said.out


def test_not_known_never_counts_as_good(trouble: Trouble) -> None:
    said = trouble(typed="2\n?\n2\n2\n")
    assert "Stop. Leave the leaf as it is" in said.out


def test_a_question_says_why_it_is_asked_and_what_it_costs(trouble: Trouble) -> None:
    said = trouble(typed=HELD)
    last = said.err.rpartition("Likely so far:")[2]
    assert " of 100)" in last
    assert "Takes " in last
    assert "Why: " in last
    assert "? don’t know, b back, c change an answer, q stop" in last


def test_the_end_of_what_is_typed_gives_the_answer_so_far_at_any_moment(trouble: Trouble) -> None:
    typed = (HELD + "1\n1\n?\n").splitlines(keepends=True)
    for count in (0, 1, 5, 6, 7, 8, 10):
        said = trouble("--record", "call.yaml", "--replace", typed="".join(typed[:count]))
        assert said.code == 0, said.err
        assert "is asked:" in said.out
        assert kept()["format"] == FORMAT


def test_what_to_bring_do_prove_and_mind_come_last(trouble: Trouble) -> None:
    said = trouble(typed=HELD)
    heads = [said.out.index(f"\n{head}") for head in ("Bring\n", "Do, if nothing else", "Prove\n", "Mind\n")]
    assert heads == sorted(heads)
    assert "Until it is mended: Leave it closed, power off and tagged" in said.out


def test_an_owner_is_never_asked_to_open_a_box(trouble: Trouble) -> None:
    said = trouble("--record", "call.yaml", typed=HARMLESS + "1\n7\n" + "?\n" * 40)
    least = {test.id: test.who for test in fault_book().tests}
    answers = kept()["answers"]
    assert isinstance(answers, list)
    assert {least[each["test"]] for each in answers} == {"owner"}
    assert "technician has to" in said.out


def test_back_takes_the_last_answer_away(trouble: Trouble) -> None:
    trouble("--record", "call.yaml", typed=HELD + "1\nb\nb\n12\nq\n")
    assert kept()["symptom"] != "CALL-01"
    assert "answers" not in kept()


def test_back_at_the_first_question_says_so(trouble: Trouble) -> None:
    assert "this is the first question" in trouble(typed="b\n").err


def test_an_earlier_answer_is_changed_in_its_place(trouble: Trouble) -> None:
    trouble("--record", "call.yaml", typed=HELD + "1\nc\n4\n2\n1\nq\n")
    safe = kept()["harm"]
    assert isinstance(safe, dict)
    assert safe["closed"] == "no"
    assert list(safe) == ["hurt", "hanging", "only_way_out", "closed", "fire_door", "guard"]


def test_with_somebody_else_at_the_door_what_only_a_technician_can_tell_is_dropped(trouble: Trouble) -> None:
    typed = HELD + "1\n1\nq\n"
    trouble("--record", "call.yaml", typed=typed)
    assert "ohms_operator" in str(kept()["answers"])
    trouble("--resume", "call.yaml", typed="c\n6\n1\nq\n")
    assert kept()["who"] == "owner"
    assert "ohms_operator" not in str(kept()["answers"])


def test_a_resumed_call_goes_on_where_it_was_and_knows_its_way_back(trouble: Trouble) -> None:
    trouble("--record", "call.yaml", typed=TECHNICIAN)
    said = trouble("--resume", "call.yaml", typed="7\nb\nb\nb\nq\n")
    assert list(questions_of(said)) == [
        "What does the door do?",
        *list(questions_of(said))[1:2],
        "What does the door do?",
        "Who is at the door?",
        "Is it a fire door?",
    ]
    assert "who" not in kept()


def test_none_of_these_is_told_from_not_yet_asked(trouble: Trouble) -> None:
    trouble("--record", "call.json", typed=TECHNICIAN + "?\n1\n")
    assert json.loads(Path("call.json").read_text())["symptom"] == "none"
    assert "What does the door do?" not in trouble("--resume", "call.json").err


def test_a_repair_that_did_not_help_is_told_and_another_is_thought_of(trouble: Trouble) -> None:
    Path("call.yaml").write_text(
        f"format: {FORMAT}\nwho: technician\nsymptom: CALL-14\n"
        "harm: {hurt: no, hanging: no, only_way_out: no, closed: yes, fire_door: no}\n"
        "answers:\n" + "".join(f"- {{test: {each.id}}}\n" for each in fault_book().tests)
    )
    first = trouble("--resume", "call.yaml", typed="2\nq\n")
    repaired = kept()["repaired"]
    assert isinstance(repaired, list)
    assert len(repaired) == 1
    before, after = (each.rpartition("\n\n")[2] for each in first.out.split("\nUntil it is mended")[:2])
    assert before.strip().startswith("Do this, about")
    assert after != before


def test_a_file_is_answered_once_without_questions(trouble: Trouble) -> None:
    trouble("--record", "call.yaml", typed=HELD + "1\n")
    said = trouble("call.yaml", "--json", typed="1\n1\n1\n")
    told = json.loads(said.out)
    assert said.err == ""
    assert told["format"] == "sillwright-advice/1"
    assert told["next"]["kind"] == "test"
    assert told["suspects"][0]["probability"] > 0
    assert "Next it is asked" in trouble("call.yaml").out


def test_a_dialogue_ends_in_one_json_document_where_that_is_wanted(trouble: Trouble) -> None:
    for typed in ("", "2\n", "1\n", HELD, HELD + "2\n"):
        told = json.loads(trouble("--json", typed=typed).out)
        assert told["next"] is None or told["next"]["expected_minutes"] < 1000


def test_what_harms_comes_before_all_else_in_json_too(trouble: Trouble) -> None:
    Path("call.yaml").write_text(f"format: {FORMAT}\nwho: technician\nsymptom: CALL-01\n")
    told = json.loads(trouble("call.yaml", "--json").out)
    assert told["next"]["kind"] == "make_safe"
    assert told["next"]["id"] == "hurt"


def test_a_fact_on_the_command_line_moves_what_is_likely(trouble: Trouble) -> None:
    trouble("--record", "call.yaml", typed=HELD)
    plain, radio = (
        {" ".join(each["faults"]): each["probability"] for each in json.loads(said.out)["suspects"]}
        for said in (trouble("call.yaml", "--json"), trouble("call.yaml", "--json", "--fact", "connection=radio"))
    )
    assert radio["RADIO_BATT"] > 1.5 * plain["RADIO_BATT"]


@pytest.mark.parametrize(
    ("fact", "hint"), [("rain=maybe", "no"), ("rian=yes", "rain"), ("rain", "no"), ("\x1b[31m=\x1b[0m", "circuit")]
)
def test_a_fact_that_there_is_not_is_refused_with_what_there_is(trouble: Trouble, fact: str, hint: str) -> None:
    said = trouble("--fact", fact)
    assert said.code == 2
    assert hint in said.err
    assert "\x1b" not in said.err


def test_a_file_that_is_there_is_left_alone_before_anything_is_asked(trouble: Trouble) -> None:
    Path("call.yaml").write_text("mine")
    said = trouble("--record", "call.yaml", typed="2\n")
    assert said.code == 4
    assert "Is anyone hurt" not in said.err
    assert Path("call.yaml").read_text() == "mine"
    assert trouble("--record", "no/such/folder/call.yaml", typed="2\n").code == 4


def test_a_resumed_call_can_be_recorded_elsewhere(trouble: Trouble) -> None:
    trouble("--record", "first.yaml", typed="2\n")
    trouble("--resume", "first.yaml", "--record", "second.yaml", typed="2\n")
    assert kept("first.yaml")["harm"] == {"hurt": "no"}
    assert kept("second.yaml")["harm"] == {"hurt": "no", "hanging": "no"}


def test_a_call_is_answered_or_gone_on_with_not_both(trouble: Trouble) -> None:
    Path("call.yaml").write_text(f"format: {FORMAT}\n")
    assert trouble("call.yaml", "--resume", "call.yaml").code == 2


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("who: me\n", "format"),
        ("- 1\n", "format"),
        (f"format: {FORMAT}\nwho: me\n", "owner"),
        (f"format: {FORMAT}\nsymptom: CALL-1\n", "did you mean “CALL-"),
        (f"format: {FORMAT}\nharm: {{hurt: true}}\n", "yes"),
        (f'format: {FORMAT}\nharm: {{"h\\e[31m": no}}\n', "harm.h"),
        (f'format: {FORMAT}\n"whoo\\e[2J": me\n', "unknown name"),
        (f"format: {FORMAT}\nanswers: {{hurt: no}}\n", "a list"),
        (f'format: {FORMAT}\nanswers: [{{test: ohms_operator, outcome: "\\e[31mred"}}]\n', "answers[0].outcome"),
        (f"format: {FORMAT}\nanswers: [ohms_operator]\n", "answers[0]"),
        (f"format: {FORMAT}\nrepaired: [nothing]\n", "repaired[0]"),
        (f"format: {FORMAT}\nfacts: [rain]\n", "facts"),
        (f"format: {FORMAT}\nbooked_in: [{'x' * 100}]\n", "1 to 80"),
        (f"format: {FORMAT}\nwho: [owner]\n", "a name"),
        ("format: [\n", "line"),
        ("\x00", ""),
    ],
)
def test_a_file_that_is_no_call_is_refused_with_its_place_and_harmlessly(
    trouble: Trouble, text: str, told: str
) -> None:
    Path("call.yaml").write_text(text)
    said = trouble("--resume", "call.yaml", typed="2\n")
    assert said.code == 2
    assert told in said.err
    assert "\x1b" not in said.err
    assert Path("call.yaml").read_text() == text


def test_a_part_that_is_still_in_holds_up_the_end_and_prints_harmlessly(trouble: Trouble) -> None:
    Path("call.yaml").write_text(
        f'format: {FORMAT}\nwho: technician\nsymptom: CALL-01\nbooked_in: ["R7 \\e[31m<b>{{x}}</b>"]\n'
        "harm: {hurt: no, hanging: no, only_way_out: no, closed: yes, fire_door: no}\n"
    )
    said = trouble("call.yaml")
    assert "R7" in said.out
    assert "Nothing closes before it is" in said.out
    assert "\x1b" not in said.out


@pytest.mark.parametrize("typed", ["0\n", "3\n", "-1\n", "1.0\n", "²\n", "9999999999\n", "yes\n", "\n", "<b>\n"])
def test_what_is_no_answer_is_asked_again(trouble: Trouble, typed: str) -> None:
    said = trouble("--record", "call.yaml", typed=typed + "2\n")
    assert "a number from 1 to 2, or ? for don’t know" in said.err
    assert kept()["harm"] == {"hurt": "no"}


def test_a_step_with_a_substitute_part_waits_until_the_part_is_booked_in(trouble: Trouble) -> None:
    book = fault_book()
    done = [each.id for each in book.tests if each.stage != "substitute"]
    text = (
        f"format: {FORMAT}\nwho: technician\nsymptom: CALL-01\n"
        "harm: {hurt: no, hanging: no, only_way_out: no, closed: yes, fire_door: no}\n"
        "answers:\n" + "".join(f"- {{test: {each}}}\n" for each in done)
    )
    Path("call.yaml").write_text(text)
    said = trouble("--resume", "call.yaml", typed="1\n?\n")
    assert "booked in before it goes in" in said.err
    assert "one of the letters" in said.err
    Path("call.yaml").write_text(text + "booked_in: [R7]\n")
    assert "one of the letters" not in trouble("--resume", "call.yaml", typed="1\n").err


SAFE = (*((each, "no") for each in ("hurt", "hanging", "only_way_out", "fire_door")), ("closed", "yes"))


@pytest.mark.parametrize("who", [*WHO])
def test_whatever_is_complained_of_the_answer_says_first_who_does_what(who: Who) -> None:
    book = fault_book()
    known = tuple((each.id, None) for each in book.tests if each.id not in HANGING)
    begins = ["Somebody who knows this door has to look.", "A technician has to come", "The shift lead does this"]
    begins += ["Somebody from outside has to come", "Do this, about ", "Stop. "]
    mine = {"owner": 0, "shift_lead": 1, "technician": 2}
    for symptom in book.symptoms:
        call = Call(who=who, symptom=symptom.id, harm=SAFE, answers=known)
        advice = lead(book, call, engine="kernel")
        first = next(answer_of(book, call, advice))
        assert first.startswith(tuple(begins)), first
        repair = next((each for each in book.repairs if advice.next and each.id == advice.next.id), None)
        if first.startswith("Do this"):
            assert repair
            assert not repair.outside
            assert mine[repair.who] <= mine[who]


def test_an_answer_that_does_not_fit_is_named_with_the_way_to_change_it() -> None:
    book = fault_book()
    call = Call(who="technician", symptom="CALL-01", harm=SAFE, answers=(("ohms_operator", "open"),))
    odd = replace(lead(book, call, engine="kernel"), surprises=("ohms_operator", "grinding", "spring_gap"))
    lines = [" ".join(each.split()) for each in answer_of(book, call, odd) if each.startswith("! This answer")]
    assert len(lines) == 2
    assert "What does the loop read at the operator" in lines[0]
    assert "Does a cable hang slack, is the leaf crooked" in lines[1]


def test_an_answer_to_a_step_with_a_substitute_part_is_changed_only_with_a_part_in(trouble: Trouble) -> None:
    Path("call.yaml").write_text(
        f"format: {FORMAT}\nwho: technician\nsymptom: CALL-01\n"
        "harm: {hurt: no, hanging: no, only_way_out: no, closed: yes, fire_door: no}\n"
        "answers: [{test: substitute_operator}]\n"
    )
    said = trouble("--resume", "call.yaml", typed="c\n99\n8\n1\n?\n")
    assert "a number from 1 to 8" in said.err
    assert "booked in before it goes in" in said.err
    assert kept()["answers"] == [{"test": "substitute_operator", "outcome": None}]


def test_what_was_not_answered_cannot_be_changed(trouble: Trouble) -> None:
    assert "nothing was answered yet" in trouble(typed="c\n").err


def test_a_call_is_written_down_and_read_back_whole(tmp_path: Path) -> None:
    call = Call(
        who="technician",
        symptom="CALL-01",
        harm=SAFE,
        answers=(("ohms_operator", "open"), ("eye_lamps", None)),
        facts=(("rain", "yes"), ("circuit", "resistor")),
        repaired=("new_lead", "new_cord"),
        after=(("eye_lamps", 2),),
        booked_in=("R 7 – 門",),
    )
    for told in (CallFile(call=call), CallFile(), CallFile(none_of_these=True)):
        for name in ("call.yaml", "call.json"):
            write_call(tmp_path / name, told, replace=True)
            assert read_call(tmp_path / name, fault_book()) == told
    assert call_from(json.loads(json.dumps(call_as_json(call)))) == call


def test_every_word_comes_from_the_catalogue(trouble: Trouble, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(words, "_catalogue", lambda language: Pseudo())
    said = trouble("--record", "c.yaml", typed="x\n" + HELD + "1\nc\n99\n1\n2\nb\nx\n1\n?\nq\n")
    assert set(unmarked(said.out + said.err)) <= {"sillwright", "trouble", "yaml", "resume", "booked_in"}


def test_ctrl_c_loses_nothing(tmp_path: Path) -> None:
    command = [sys.executable, "-c", "from sillwright.cli.main import run; run()", "trouble", "--record", "c.yaml"]
    with subprocess.Popen(
        command, cwd=tmp_path, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    ) as running:
        assert running.stdin is not None
        assert running.stderr is not None
        running.stdin.write("2\n2\n")
        running.stdin.flush()
        seen = ""
        while "only way out" not in seen or not seen.endswith("q stop]: "):
            seen += running.stderr.read(1)
        running.send_signal(signal.SIGINT)
        out, _ = running.communicate(timeout=240)
    assert running.returncode == 0
    assert "First it is asked" in out
    assert yaml.safe_load((tmp_path / "c.yaml").read_text())["harm"] == {"hurt": "no", "hanging": "no"}
