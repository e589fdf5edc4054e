"""How much room words take: advance widths of the papers' letters, in thousandths of an em.

Kept here as numbers so that a drawing can be laid out without opening a font; a test holds them to the fonts.
"""

from __future__ import annotations

FIRST = 32
REGULAR = (
    260, 269, 408, 646, 572, 831, 732, 225, 300, 300, 551, 572, 268, 322, 268, 372, 572, 572, 572, 572, 572,
    572, 572, 572, 572, 572, 268, 268, 572, 572, 572, 434, 899, 639, 650, 632, 730, 556, 519, 728, 741, 339,
    273, 619, 524, 907, 760, 781, 605, 781, 622, 549, 556, 731, 600, 930, 586, 566, 572, 329, 372, 329, 572,
    444, 281, 561, 615, 480, 615, 564, 344, 615, 618, 258, 258, 534, 258, 935, 618, 605, 615, 615, 413, 479,
    361, 618, 508, 786, 529, 510, 470, 380, 551, 380, 572,
)  # fmt: skip
BOLD = (
    260, 282, 479, 646, 572, 902, 750, 266, 339, 339, 542, 572, 285, 320, 281, 415, 572, 572, 572, 572, 572,
    572, 572, 572, 572, 572, 281, 285, 572, 572, 572, 477, 898, 692, 665, 642, 732, 560, 549, 724, 765, 389,
    331, 664, 559, 943, 813, 791, 621, 791, 656, 551, 577, 756, 650, 967, 670, 626, 579, 331, 415, 331, 572,
    411, 365, 599, 632, 516, 632, 597, 387, 632, 650, 299, 298, 620, 298, 975, 650, 625, 632, 632, 447, 502,
    434, 650, 571, 856, 578, 571, 493, 394, 551, 394, 572,
)  # fmt: skip
OTHER = 1000
"""What any other sign is taken to need: enough for the widest common ones."""


def width_of(words: str, *, bold: bool = False) -> float:
    """The width of a line of words, in ems.

    >>> round(width_of("10 ft 6 in"), 3)
    4.077
    """
    table = BOLD if bold else REGULAR
    last = FIRST + len(table)
    words = words.replace("\u00a0", " ")
    return sum(table[ord(sign) - FIRST] if FIRST <= ord(sign) < last else OTHER for sign in words) / 1000


def wrapped(words: str, ems: float, *, most: int = 4, bold: bool = False) -> tuple[str, ...]:
    """Words broken into lines no wider than ``ems``, at most so many; what does not fit ends in an ellipsis.

    A no-break space keeps a number with its unit.

    >>> wrapped("sensing edge along the bottom edge", 8)
    ('sensing edge', 'along the', 'bottom edge')
    >>> wrapped("x" * 40, 4, most=1)
    ('xxxxx…',)
    """
    lines: list[str] = []
    rest = [word for word in words.split(" ") if word]
    while rest and len(lines) < most:
        line, rest = _line(rest, ems, bold)
        lines.append(line)
    if rest and lines:
        lines[-1] = cut(f"{lines[-1]} {' '.join(rest)}", ems, bold=bold)
    return tuple(lines)


def cut(words: str, ems: float, *, bold: bool = False) -> str:
    """Words cut to a width, with an ellipsis where something is left out."""
    if width_of(words, bold=bold) <= ems:
        return words
    kept = words
    while kept and width_of(kept, bold=bold) + 1.0 > ems:
        kept = kept[: min(len(kept) - 1, int(ems * 5))]
    return kept.rstrip() + "…"


def _line(words: list[str], ems: float, bold: bool) -> tuple[str, list[str]]:
    line = words[0]
    if width_of(line, bold=bold) > ems:
        kept = next(n for n in range(len(line), 0, -1) if n == 1 or width_of(line[:n], bold=bold) <= ems)
        return line[:kept], [line[kept:], *words[1:]]
    used = 1
    while used < len(words) and width_of(f"{line} {words[used]}", bold=bold) <= ems:
        line = f"{line} {words[used]}"
        used += 1
    return line, words[used:]
