"""The trade's words for the kinds of things a survey names, marked for translation."""

from __future__ import annotations

from sillwright.base.words import N_

LEAF: dict[str, str] = {
    "sectional": N_("sectional leaf"),
    "rolling": N_("rolling curtain"),
    "grille": N_("rolling grille"),
    "rolling_fire": N_("rolling fire door curtain"),
    "high_speed": N_("high-speed fabric curtain"),
    "one_piece": N_("one-piece leaf"),
    "slide_gate": N_("slide gate leaf"),
    "swing_gate": N_("swing gate leaf"),
}
DEVICE: dict[str, str] = {
    "sensing_edge": N_("sensing edge"),
    "air_edge": N_("air edge"),
    "photo_eye": N_("photo-eye"),
    "light_curtain": N_("light curtain"),
    "presence": N_("presence sensor"),
    "motion": N_("motion sensor"),
    "loop": N_("loop detector"),
    "inherent": N_("force sensing in the operator"),
    "guard": N_("guard"),
}
OPERATOR: dict[str, str] = {
    "trolley": N_("trolley operator"),
    "jackshaft": N_("jackshaft operator"),
    "hoist": N_("hoist operator"),
    "chain": N_("chain-driven operator"),
    "rail": N_("rail operator"),
    "arm": N_("arm operator"),
    "ram": N_("ram operator"),
    "barrel": N_("operator in the barrel"),
}
STATE: dict[str, str] = {
    "dead": N_("dead"),
    "missing": N_("missing"),
    "torn_off": N_("torn off"),
    "defeated": N_("defeated"),
    "unknown": N_("state not known"),
}
BROKEN = ("dead", "missing", "torn_off", "defeated")
SIDE: dict[str, str] = {"left": N_("left"), "right": N_("right"), "both": N_("both")}
ORIGIN: dict[str, str] = {
    "measured": N_("measured"),
    "plate": N_("read from a plate"),
    "instructions": N_("read in the instructions"),
    "photo": N_("read from a photo"),
    "support": N_("told by support"),
    "told": N_("told"),
    "assumed": N_("assumed"),
    "typical": N_("typical value"),
    "derived": N_("derived"),
    "published": N_("published"),
    "two readings": N_("two readings, not settled"),
    "unrecorded": N_("origin not recorded"),
    "": N_("origin not recorded"),
}
ANSWER: dict[str, str] = {"yes": N_("yes"), "no": N_("no"), "unknown": N_("not known")}
VERDICT: dict[str, str] = {
    "holds": N_("met"),
    "fails": N_("not met"),
    "unknown": N_("not known"),
    "not applicable": N_("does not apply"),
}
LIMIT_VERDICT: dict[str, str] = {
    "within": N_("within"),
    "above": N_("above"),
    "not known": N_("not known"),
}
