"""Fault models for the tests: one small enough to reckon by hand, and many at random. All numbers are invented."""

from __future__ import annotations

import random
from itertools import combinations

from sillwright.trouble.model import Fault, FaultModel, Move, Outcome, Repair, Stage, Symptom, Test, Who

NO_YES = (Outcome(id="no", words="no"), Outcome(id="yes", words="yes"))


def small() -> FaultModel:
    """Four faults of a door that closes only while the button is held, or reverses."""
    return FaultModel(
        faults=(
            Fault(
                id="CORD_BROKEN",
                words="the cord is broken inside",
                remedy="cord",
                unseen=True,
                moves=(Move(fact="age", value="old", factor=3.0),),
            ),
            Fault(
                id="WET_EDGE",
                words="water is in the edge",
                remedy="edge",
                moves=(
                    Move(fact="rain", value="yes", factor=4.0),
                    Move(fact="circuit", value="air", factor=0.0),
                ),
            ),
            Fault(id="EYE_ALIGN", words="the eye is out of line", remedy="eye"),
            Fault(id="CABLE_OFF", words="a lifting cable is off", remedy="door", danger=True),
        ),
        symptoms=(
            Symptom(
                id="HELD",
                words="closes only while the button is held",
                share=0.6,
                causes=(("CORD_BROKEN", 0.5), ("WET_EDGE", 0.2), ("EYE_ALIGN", 0.3)),
            ),
            Symptom(
                id="NOTHING",
                words="nothing answers",
                share=0.4,
                harm=True,
                causes=(("CORD_BROKEN", 0.4), ("EYE_ALIGN", 0.5), ("CABLE_OFF", 0.1)),
            ),
        ),
        tests=(
            Test(
                id="crooked",
                question="Is the leaf crooked, or a cable slack?",
                how="Look, touch nothing.",
                minutes=1,
                who="owner",
                stage="harm",
                outcomes=NO_YES,
                otherwise=(0.98, 0.02),
                likelihood=(("CABLE_OFF", (0.05, 0.95)),),
            ),
            Test(
                id="lamp",
                question="Is the lamp of the eye out?",
                how="Look at the receiver.",
                minutes=2,
                who="owner",
                stage="look",
                outcomes=NO_YES,
                otherwise=(0.95, 0.05),
                likelihood=(("EYE_ALIGN", (0.1, 0.9)),),
                needs=(Move(fact="eye", value="none", factor=0.0),),
            ),
            Test(
                id="half",
                question="Does it answer at half height and not at full height?",
                how="Run the leaf with someone watching.",
                minutes=4,
                who="shift_lead",
                stage="move",
                outcomes=NO_YES,
                otherwise=(0.9, 0.1),
                likelihood=(("CORD_BROKEN", (0.2, 0.8)), ("WET_EDGE", (0.95, 0.05))),
            ),
            Test(
                id="ohms",
                question="What does the meter read?",
                how="Power locked out, one lead lifted.",
                minutes=10,
                who="technician",
                stage="measure",
                outcomes=(
                    Outcome(id="right", words="the right value"),
                    Outcome(id="low", words="too low"),
                    Outcome(id="open", words="open"),
                ),
                otherwise=(0.94, 0.03, 0.03),
                likelihood=(("CORD_BROKEN", (0.25, 0.05, 0.7)), ("WET_EDGE", (0.1, 0.85, 0.05))),
                cautions=("Power locked out before the box is opened.",),
            ),
        ),
        repairs=(
            Repair(
                id="cord",
                words="New cord.",
                minutes=40,
                success=0.95,
                who="technician",
                parts=("cord", "connectors"),
                proof=("Touch the edge at three heights.",),
                cautions=("Lock out the power.",),
            ),
            Repair(id="edge", words="New edge.", minutes=60, success=0.9, who="technician", parts=("edge",)),
            Repair(
                id="eye",
                words="Clean and align the eye.",
                minutes=10,
                success=0.85,
                who="shift_lead",
                proof=("Walk through the beam.",),
            ),
            Repair(id="door", words="A door technician comes.", minutes=120, success=0.98, who="technician"),
        ),
        pairs=(("CORD_BROKEN", "WET_EDGE", 0.03), ("EYE_ALIGN", "WET_EDGE", 0.02)),
        facts=(
            ("rain", ("yes", "no")),
            ("age", ("old", "new")),
            ("circuit", ("air", "resistor")),
            ("eye", ("none", "one")),
        ),
        checklist=(("HELD", ("lamp", "half", "ohms")), ("NOTHING", ("lamp", "ohms", "half"))),
    )


def _row(dice: random.Random, count: int, *, zeros: bool) -> tuple[float, ...]:
    parts = [dice.random() ** 2 * (0.0 if zeros and dice.random() < 0.2 else 1.0) for _ in range(count)]
    parts[dice.randrange(count)] += 1.0
    return tuple(part / sum(parts) for part in parts)


def at_random(
    seed: int,
    *,
    faults: int = 6,
    tests: int = 5,
    pairs: int = 4,
    symptoms: int = 3,
    repairs: int | None = None,
    own: int = 3,
    outcomes: int = 3,
    zeros: bool = False,
) -> FaultModel:
    """A model of so many faults, tests and pairs; ``own`` rows a test, the others alike."""
    dice = random.Random(seed)  # noqa: S311
    names = [f"F{number}" for number in range(faults)]
    kits = [f"R{number}" for number in range(repairs or faults)]
    every = list(combinations(names, 2))
    chosen = every if pairs >= len(every) else dice.sample(every, pairs)
    everybody: tuple[Who, ...] = ("owner", "shift_lead", "technician")
    stages: tuple[Stage, ...] = ("ask", "look", "move", "measure")

    def one_test(number: int) -> Test:
        count = dice.randint(2, outcomes)
        return Test(
            id=f"T{number}",
            question=f"Question {number}?",
            how="",
            minutes=dice.choice((1, 2, 3, 5, 8, 10)),
            who=dice.choice(everybody),
            stage=dice.choice(stages),
            outcomes=tuple(Outcome(id=f"o{each}", words=f"answer {each}") for each in range(count)),
            otherwise=_row(dice, count, zeros=zeros),
            likelihood=tuple(
                (name, _row(dice, count, zeros=zeros)) for name in dice.sample(names, min(own, faults))
            ),
        )

    def one_symptom(number: int) -> Symptom:
        some = sorted({*dice.sample(names, max(1, faults // 2)), *names[number::symptoms]})
        weights = [dice.random() + 0.05 for _ in some]
        causes = tuple((name, weight / sum(weights)) for name, weight in zip(some, weights, strict=True))
        return Symptom(id=f"S{number}", words=f"symptom {number}", share=1 / symptoms, causes=causes)

    return FaultModel(
        faults=tuple(
            Fault(
                id=name,
                words=f"fault {name}",
                remedy=kits[number % len(kits)],
                moves=(Move(fact="rain", value="yes", factor=dice.choice((0.0, 0.5, 1.0, 2.0, 4.0))),),
            )
            for number, name in enumerate(names)
        ),
        symptoms=tuple(one_symptom(number) for number in range(symptoms)),
        tests=tuple(one_test(number) for number in range(tests)),
        repairs=tuple(
            Repair(
                id=kit,
                words=f"Repair {kit}.",
                minutes=dice.choice((5, 10, 20, 40, 60)),
                success=dice.choice((1.0, 0.95, 0.9, 0.8)),
                who="technician",
                parts=(f"part {kit}",),
            )
            for kit in kits
        ),
        pairs=tuple((one, other, 0.2 * dice.random() / len(chosen)) for one, other in chosen),
        facts=(("rain", ("yes", "no")),),
        checklist=(),
    )
