"""What templates need beside Django's own."""

from __future__ import annotations

from django import template

register = template.Library()
