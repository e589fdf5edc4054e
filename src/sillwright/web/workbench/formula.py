"""A formula as its description writes it (a small part of TeX) as MathML, which browsers draw themselves."""

from __future__ import annotations

import re
from collections.abc import Iterator
from xml.sax.saxutils import escape  # writes only, reads nothing

_TOKEN = re.compile(r"\\([A-Za-z]+)|([A-Za-z]|\d+(?:\.\d+)?|'+|[^\s\\])")
SIGNS = {"cdot": "⋅", "prod": "∏", "pi": "π", "sum": "∑", "times": "×"}
GAPS = {"qquad": "2em", "quad": "1em"}
NAMES = {"required", "factor"}


def mathml(tex: str) -> str:
    """The formula as MathML; what is not understood stands as it is.

    >>> mathml("s = v t_1")
    '<math><mi>s</mi><mo>=</mo><mi>v</mi><msub><mi>t</mi><mn>1</mn></msub></math>'
    """
    return f"<math>{_Reader(tex).row(None)}</math>"


class _Reader:
    """Reads tokens one after the other."""

    def __init__(self, tex: str) -> None:
        spelled = re.sub(r"(?<![\\\w])(" + "|".join(NAMES) + r")(?!\w)", r"\\mathrm{\1}", tex)
        self.tokens: Iterator[tuple[str, str]] = iter(_TOKEN.findall(spelled))
        self.next = next(self.tokens, None)

    def take(self) -> tuple[str, str] | None:
        token, self.next = self.next, next(self.tokens, None)
        return token

    def row(self, end: str | None) -> str:
        """Everything up to a sign."""
        parts = []
        while self.next is not None and self.next[1] != end:
            parts.append(self.scripted())
        self.take()
        return "".join(parts)

    def scripted(self) -> str:
        """One thing with what stands above or below it."""
        base, below, above = self.single(), "", ""
        while self.next is not None and self.next[1][:1] in {"_", "^", "'"}:
            sign = (self.take() or ("", ""))[1]
            if sign == "_":
                below = self.single()
            else:
                above = self.single() if sign == "^" else f"<mo>{'′' * len(sign)}</mo>"
        if below and above:
            return f"<msubsup>{base}{below}{above}</msubsup>"
        if below:
            return f"<msub>{base}{below}</msub>"
        return f"<msup>{base}{above}</msup>" if above else base

    def single(self) -> str:
        """One letter, number or sign, or what braces hold."""
        token = self.take()
        if token is None:
            return "<mrow></mrow>"
        command, sign = token
        if command:
            return self.command(command)
        if sign == "{":
            return self.group()
        if sign[0].isdigit():
            return f"<mn>{sign}</mn>"
        if sign.isalpha():
            return f"<mi>{sign}</mi>"
        still = ' stretchy="false"' if sign in "()" else ""
        return f"<mo{still}>{escape(sign.replace('-', '−'))}</mo>"

    def group(self) -> str:
        """What braces hold; letters alone are a name."""
        inner = self.row("}")
        letters = re.findall(r"<mi>(\w)</mi>", inner)
        if len(letters) > 1 and inner == "".join(f"<mi>{each}</mi>" for each in letters):
            return f"<mi>{''.join(letters)}</mi>"
        return f"<mrow>{inner}</mrow>"

    def command(self, name: str) -> str:
        """What a command draws."""
        if name == "frac":
            return f"<mfrac>{self.single()}{self.single()}</mfrac>"
        if name == "sqrt":
            return f"<msqrt>{self.single()}</msqrt>"
        if name == "overline":
            return f'<mover>{self.single()}<mo stretchy="true">¯</mo></mover>'
        if name == "mathrm":
            return self.single()
        if name in GAPS:
            return f'<mspace width="{GAPS[name]}"></mspace>'
        return f"<mo>{SIGNS.get(name, name)}</mo>"
