"""What templates need beside Django's own."""

from __future__ import annotations

from typing import Any

from django import template
from django.template.base import FilterExpression, NodeList, Parser, TextNode, Token, Variable
from django.template.defaulttags import URLNode
from django.templatetags.i18n import TranslateNode
from django.templatetags.static import StaticNode
from django.utils.translation import get_language

register = template.Library()


class OnceNode(template.Node):
    """Words and addresses that are the same for everybody: put together once a language, then kept."""

    def __init__(self, nodelist: NodeList) -> None:
        self.nodelist = nodelist
        self.kept: dict[str | None, str] = {}

    def render(self, context: Any) -> str:
        """What it says in the present language."""
        language = get_language()
        if language not in self.kept:
            self.kept[language] = self.nodelist.render(context)
        return self.kept[language]


@register.tag
def once(parser: Parser, token: Token) -> OnceNode:
    """``{% once %}…{% endonce %}`` around text, ``trans``, ``static`` and ``url`` without variables.

    Anything that could differ from request to request is refused when the template is compiled.
    """
    nodelist = parser.parse(("endonce",))
    parser.delete_first_token()
    for node in nodelist:
        if not _same_for_everybody(node):
            raise template.TemplateSyntaxError(f"“{node}” may differ from request to request; take it out of once")
    return OnceNode(nodelist)


def _same_for_everybody(node: Any) -> bool:
    if isinstance(node, TextNode):
        return True
    if isinstance(node, TranslateNode):
        return node.asvar is None and _literal(node.filter_expression)
    if isinstance(node, StaticNode):
        return node.varname is None and _literal(node.path)
    if isinstance(node, URLNode):
        return node.asvar is None and not node.args and not node.kwargs and _literal(node.view_name)
    return False


def _literal(expression: FilterExpression) -> bool:
    if expression.filters:
        return False
    found = expression.var
    return not isinstance(found, Variable) or found.lookups is None
